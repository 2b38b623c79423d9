"""What is chosen at the desk: a paper among those of the source, and how it is printed here."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from gambrel.domain.prices.printer_setting import PrinterAtHand
from gambrel.domain.refusals import Refusal
from gambrel.services.printing.documents import Choice, PaperOffer, Source, codes_of
from gambrel.services.printing.settings import (
    keep_usual_code,
    keep_usual_paper,
    paper_setting,
    usual_code,
    usual_paper,
)
from gambrel.ui.context import Context
from gambrel.ui.printing.state import Wish

if TYPE_CHECKING:
    from gambrel.devices.printer import Printers


class Chooser(QObject):
    """Keeps the `Wish`; ``remake`` tells that the pages change, ``changed`` that they do not."""

    remake = Signal()
    changed = Signal()
    failed = Signal(object)

    def __init__(self, context: Context, printers: Callable[[], Printers]) -> None:
        super().__init__()
        self._context = context
        self._printers = printers
        self._what = ""
        self.wish = Wish()
        self.offers: tuple[PaperOffer, ...] = ()
        self.known: tuple[PrinterAtHand, ...] = ()
        self.codes: list[tuple[str, str]] = []

    @property
    def paper(self) -> str:
        """The name of the paper that is chosen."""
        return self.offers[self.wish.paper].name if self.offers else ""

    def choice(self) -> Choice:
        """How the pages are laid out."""
        wish = self.wish
        return Choice(self.paper, wish.start, wish.dpi, wish.setting.shift, wish.code)

    def begin(self, source: Source, paper: str = "", copies: int = 1) -> None:
        """Choose for another source, on the paper that such things were last printed on here."""
        self.offers = tuple(source.papers())
        self._what = type(source).__name__.casefold()
        names = [offer.name for offer in self.offers]
        wanted = paper or usual_paper(self._context.book, self._context.station, self._what)
        self.codes = codes_of(source)
        code = usual_code(self._context.book, self._context.station) if self.codes else ""
        self.wish = replace(self.wish, copies=copies, code=code)
        self.choose_paper(names.index(wanted) if wanted in names else 0)
        self._look_for_printers()

    def remember(self) -> None:
        """Keep paper and code as the usual ones; a book for reading only keeps nothing."""
        book, station = self._context.book, self._context.station
        with suppress(Refusal):
            keep_usual_paper(book, station, self._what, self.paper)
            if self.codes:
                keep_usual_code(book, station, self.wish.code)

    def choose_paper(self, index: int) -> None:
        """Take a paper, with what the station keeps about it."""
        self.wish = replace(self.wish, paper=index, start=1)
        try:
            kept = paper_setting(self._context.book, self._context.station, self.paper)
        except Refusal as refusal:
            self.failed.emit(refusal)
        else:
            self.wish = replace(
                self.wish, printer=kept.printer, dpi=kept.dpi, right=kept.right, down=kept.down
            )
        self._usual_printer()
        self.remake.emit()

    def choose_printer(self, index: int) -> None:
        """Take one of the printers that are known."""
        if index < len(self.known):
            self.wish = replace(self.wish, printer=self.known[index].name)
        self.changed.emit()

    def choose_copies(self, copies: int) -> None:
        """Take a number of copies."""
        self.wish = replace(self.wish, copies=copies)
        self.changed.emit()

    def choose_start(self, start: int) -> None:
        """Begin at another place of the first sheet."""
        self.wish = replace(self.wish, start=start)
        self.remake.emit()

    def choose_code(self, index: int) -> None:
        """Let the code of labels carry something else."""
        self.wish = replace(self.wish, code=self.codes[index][0])
        self.remake.emit()

    def move(self, right: int, down: int) -> None:
        """Shift the pages, in tenths of a millimetre."""
        self.wish = replace(self.wish, right=right, down=down)
        self.remake.emit()

    def choose_dots(self, dpi: int) -> None:
        """Draw for a printer of other dots."""
        self.wish = replace(self.wish, dpi=dpi)
        self.remake.emit()

    def _usual_printer(self) -> None:
        """Where none was kept for a paper, the system's own first choice."""
        if not self.wish.printer and self.known:
            self.wish = replace(self.wish, printer=self.known[0].name)

    def _look_for_printers(self) -> None:
        def look() -> tuple[PrinterAtHand, ...]:
            return self._printers().at_hand()

        self._context.tasks.run_task(look, self._know, self.failed.emit)

    def _know(self, found: tuple[PrinterAtHand, ...]) -> None:
        self.known = found
        self._usual_printer()
        self.changed.emit()
