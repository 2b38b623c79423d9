"""What waits and what went out, read from the book for the desk."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from PySide6.QtCore import QObject, Signal

from gambrel.domain.prices.prints import Job, LogLine
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import PrintStep
from gambrel.domain.trade.catalogue import Cut, Shop
from gambrel.services.books import Book
from gambrel.services.printing.queue import print_days, print_log, waiting_jobs
from gambrel.services.printing.sending import settle
from gambrel.ui.context import Context
from gambrel.ui.printing.state import (
    LOG_LINES,
    day_options,
    job_rows,
    log_rows,
    waiting_words,
)
from gambrel.ui.printing.view import DeskView


@dataclass(frozen=True)
class Read:
    """The log as it was read."""

    shop: Shop
    days: list[date]
    lines: list[LogLine]
    names: dict[str, str]


class Ledger(QObject):
    """Shows the jobs that wait and the log; ``again`` tells a `Job` that shall be printed."""

    again = Signal(object)
    failed = Signal(object)

    def __init__(self, context: Context, view: DeskView) -> None:
        super().__init__()
        self._context = context
        self._view = view
        self._jobs: list[Job] = []
        self._days: list[date] = []
        self._reading = 0
        self.sending: datetime | None = None
        view.waiting.again.connect(self._print_again)
        view.waiting.confirmed.connect(lambda key: self._settle(key, PrintStep.PRINTED))
        view.waiting.let_go.connect(lambda key: self._settle(key, PrintStep.CANCELLED))
        view.log.asked.connect(self.show_log)

    def show_waiting(self) -> None:
        """Read again what waits."""
        book = self._context.book

        def read() -> tuple[Shop | None, list[Job]]:
            with book.reading() as work:
                shop = work.shop()
            return shop, waiting_jobs(book)

        self._context.tasks.run_task(read, self._know_waiting, self.failed.emit)

    def _know_waiting(self, found: tuple[Shop | None, list[Job]]) -> None:
        shop, self._jobs = found
        if shop is None:
            return
        context = self._context
        rows = job_rows(self._jobs, context.formats, shop, context.station, self.sending)
        self._view.waiting.show_rows(rows)
        self._view.show_waiting(waiting_words(sum(row.may_act for row in rows)))

    def _print_again(self, key: str) -> None:
        job = next((each for each in self._jobs if each.job.key == key), None)
        if job is not None:
            self.again.emit(job)

    def _settle(self, key: str, step: PrintStep) -> None:
        context = self._context
        try:
            settle(context.book, key, step, context.clock(), context.station)
        except Refusal as refusal:
            self.failed.emit(refusal)
        context.changes.tell("prints")
        self.show_waiting()

    def show_log(self) -> None:
        """Read the log again, for the day and the search that are chosen."""
        self._reading += 1
        number, book = self._reading, self._context.book
        index, words = self._view.log.day.index, self._view.log.search.text().strip()
        known = self._days

        def read() -> Read:
            return _read_log(book, known, index, words)

        def done(found: Read) -> None:
            if number == self._reading:
                self._know_log(found, index)

        self._context.tasks.run_task(read, done, self.failed.emit)

    def _know_log(self, found: Read, index: int) -> None:
        chosen = index if found.days == self._days else 0
        self._days = found.days
        formats, log = self._context.formats, self._view.log
        if not found.days:
            log.show_nothing()
            return
        log.show_days(day_options(found.days, formats), chosen)
        rows = log_rows(found.lines, found.names, formats, found.shop)
        log.show_rows(rows, self._said(found))

    def _said(self, found: Read) -> str:
        if not found.lines:
            return self.tr("Nothing was printed or saved that fits.")
        if len(found.lines) > LOG_LINES:
            return self.tr("The newest {0} lines; choose a day or search to see others.").format(
                LOG_LINES
            )
        return ""


def _read_log(book: Book, known: list[date], index: int, words: str) -> Read:
    """The log of the day that was chosen among the days that were offered, or of all days."""
    days = print_days(book)
    with book.reading() as work:
        shop, cuts = work.shop(), work.cuts()
    if shop is None:
        raise Refusal("This book has no shop in it yet. Load one with “gambrel load”.")
    names = {cut.key: cut.name for cut in cuts}
    index = index if known == days else 0
    day = days[index] if index < len(days) else None
    wanted = _matching(cuts, words)
    if words and not wanted:
        return Read(shop, days, [], names)
    return Read(shop, days, print_log(book, day, wanted, most=LOG_LINES + 1), names)


def _matching(cuts: list[Cut], words: str) -> list[str]:
    """The cuts in whose name or key the words stand."""
    if not words:
        return []
    sought = words.casefold()
    return [c.key for c in cuts if sought in c.name.casefold() or sought in c.key.casefold()]
