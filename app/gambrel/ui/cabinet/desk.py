"""What the Cabinet's presenters share: what was read, the cut in hand, and the last act."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import TypeVar

from PySide6.QtCore import QObject, Signal

from gambrel.domain.prices.cabinet import Basket, Cabinet, CabinetLine
from gambrel.domain.refusals import Refusal
from gambrel.services.price_acts import PriceAct, undo
from gambrel.ui.cabinet.view import CabinetView
from gambrel.ui.context import Context
from gambrel.ui.theme import Meaning

T = TypeVar("T")


class Desk(QObject):
    """Holds what was read, does acts on prices, and says what came of them.

    ``acted`` tells that prices were changed: what was typed is done with.
    """

    acted = Signal()

    def __init__(self, context: Context, view: CabinetView) -> None:
        super().__init__()
        self.context = context
        self.view = view
        self.found: Cabinet | None = None
        self.cut = ""
        self.beside = ""
        self.reading = 0
        self._last: PriceAct | None = None
        for panel in (view.price, view.solve):
            panel.undone.connect(self.undo)
        view.show_undo("")

    @property
    def cabinet(self) -> Cabinet:
        """The cabinet as it was read.

        Raises:
            LookupError: It has not been read yet; nothing can be tapped before.
        """
        if self.found is None:
            raise LookupError("the cabinet was not read yet")
        return self.found

    @property
    def line(self) -> CabinetLine | None:
        """The line of the cut in hand."""
        return self.found.line(self.cut) if self.found else None

    def bodies(self) -> tuple[list[Basket], int]:
        """The bodies that the cut in hand came off, and which of them it is looked at beside."""
        bodies = list(self.cabinet.holding(self.cut))
        keys = [body.key for body in bodies]
        return bodies, keys.index(self.beside) if self.beside in keys else 0

    def parse(self, text: str) -> int | None:
        """What a keypad typed, in minor units; None while it typed nothing."""
        text = text.rstrip(".")
        return self.context.formats.currency.parse(text) if text else None

    def act(self, act: Callable[[datetime], PriceAct], what: str) -> bool:
        """Do one act; what it changed can be taken back as one. False where it was refused."""
        try:
            self._last = act(self.context.clock())
        except Refusal as refusal:
            self.say(Meaning.STOP, str(refusal))
            return False
        self.view.banner.clear()
        self.view.show_undo(what)
        self.acted.emit()
        self.context.changes.tell("prices")
        return True

    def undo(self) -> None:
        """Take the last act back."""
        last = self._last
        if last is None:
            return
        if self.act(lambda now: undo(self.context.book, last, now), ""):
            self._last = None
            self.say(Meaning.FINE, self.tr("The earlier prices stand again, from now on."))

    def say(self, meaning: Meaning, sentence: str, action: str = "") -> None:
        """Say something above the lines."""
        self.view.banner.say(meaning, sentence, action=action)

    def later(self, work: Callable[[], T], done: Callable[[T], None]) -> None:
        """Do something off the window's thread; what was read meanwhile makes it too late."""
        reading = self.reading

        def show(value: T) -> None:
            if reading == self.reading:
                done(value)

        self.context.tasks.run_task(work, show, self.failed)

    def failed(self, error: Exception) -> None:
        """Say what went wrong; what is no refusal is a fault of ours."""
        if not isinstance(error, Refusal):
            raise error
        self.say(Meaning.STOP, str(error))
