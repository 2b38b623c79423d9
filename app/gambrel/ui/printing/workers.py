"""The slow work of the desk, off the window's thread: making pages, printing, saving."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from os import urandom
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal

from gambrel.devices.pages import Pages
from gambrel.domain.prices.prints import Job
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.keys import RANDOM_BYTES
from gambrel.services.bench.act import Act
from gambrel.services.bench.keeping import kept
from gambrel.services.printing.documents import Choice, Document, MakingStopped, Source
from gambrel.services.printing.queue import To, replace_job
from gambrel.services.printing.sending import print_document, save_document
from gambrel.services.printing.settings import keep_paper_setting
from gambrel.ui.context import Context
from gambrel.ui.printing.state import Wish
from gambrel.ui.worker import Worker

if TYPE_CHECKING:
    from gambrel.devices.printer import Printers


@dataclass(frozen=True)
class Made:
    """A document with its pages open."""

    document: Document
    pages: Pages


@dataclass(frozen=True)
class Changed:
    """The document that was shown is not what the book says now."""


class Maker(Worker):
    """Makes a document anew for every choice; an older one that is still being made is stopped."""

    made = Signal(object)
    refused = Signal(str)
    stopped = Signal()

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self._number = 0

    def make(self, source: Source, choice: Choice) -> None:
        """Begin; `made` or `refused` tells the end."""
        self.let_go()
        number = self._number
        stopper = self._begin()
        book, now = self._context.book, self._context.clock()

        def work() -> Made:
            document = source.make(book, choice, now, stopper)
            return Made(document, Pages(document.pdf))

        def done(made: Made) -> None:
            if number == self._number:
                self._end()
                self.made.emit(made)
            else:
                made.pages.close()

        def failed(error: Exception) -> None:
            if number != self._number:
                return
            self._end()
            if isinstance(error, MakingStopped):
                self.stopped.emit()
            elif isinstance(error, Refusal):
                self.refused.emit(str(error))
            else:
                self.refused.emit(self.tr("The pages could not be made ({0}).").format(error))
                raise error

        self._context.tasks.run_task(work, done, failed)

    def let_go(self) -> None:
        """Stop what is being made, and tell nothing of it any more."""
        self.stop()
        self._end()
        self._number += 1


@dataclass(frozen=True)
class Order:
    """All that printing needs to know: what was shown, how it was chosen, whom it replaces."""

    source: Source
    choice: Choice
    document: Document
    wish: Wish
    replaces: str = ""


class Sender(Worker):
    """Prints what was shown, or saves it; one at a time."""

    ended = Signal(object)
    """A `Job`, or `Changed`."""
    failed = Signal(object)

    def __init__(self, context: Context, printers: Callable[[], Printers]) -> None:
        super().__init__(context)
        self._printers = printers

    def act(self) -> Act:
        """Who acts here and now; the name is that of the person at this station's block."""
        context = self._context
        person = kept(context.book, context.station).person
        return Act(person, context.station, context.clock(), urandom(RANDOM_BYTES))

    def send(self, order: Order) -> None:
        """Print; `ended` or `failed` tells the end."""
        stopper = self._begin()
        book, clock = self._context.book, self._context.clock
        wish = order.wish

        def work() -> Job | Changed:
            if self._is_old(order):
                return Changed()
            to = To(wish.printer, wish.copies, wish.dpi)
            act = self.act()
            job = print_document(book, order.document, to, act, self._printers(), stopper, clock)
            if job.is_out:
                self._remember(order)
            return job

        self._context.tasks.run_task(work, self._done, self._broken)

    def save(self, order: Order, path: Path) -> None:
        """Save; `ended` or `failed` tells the end."""
        book = self._context.book

        def work() -> Job | Changed:
            if self._is_old(order):
                return Changed()
            job = save_document(book, order.document, path, self.act())
            if order.replaces:
                replace_job(book, order.replaces, self._context.clock())
            return job

        self._context.tasks.run_task(work, self.ended.emit, self.failed.emit)

    def _done(self, job: Job | Changed) -> None:
        self._end()
        self.ended.emit(job)

    def _broken(self, error: Exception) -> None:
        self._end()
        self.failed.emit(error)

    def _is_old(self, order: Order) -> bool:
        """Whether the book has changed since the pages were shown: nothing is printed wrong."""
        now = self._context.clock()
        fresh = order.source.make(self._context.book, order.choice, now, lambda *_: True)
        return fresh.pdf != order.document.pdf

    def _remember(self, order: Order) -> None:
        book, station = self._context.book, self._context.station
        with suppress(Refusal):  # a book for reading only keeps nothing
            keep_paper_setting(book, station, order.choice.paper, order.wish.setting)
        if order.replaces:
            replace_job(book, order.replaces, self._context.clock())
