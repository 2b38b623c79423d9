"""What the Cabinet prints: hands cuts and pieces to the print desk, knows which tickets are old."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtWidgets import QStackedLayout, QWidget

from gambrel.domain.prices.prints import Job
from gambrel.domain.prices.reprint import Reprint
from gambrel.domain.trade.catalogue import Shop
from gambrel.domain.trade.clock import business_day
from gambrel.ui.cabinet.printing_state import piece_rows, reprint_sentence, reprint_words
from gambrel.ui.cabinet.tickets_panel import LABELS, TicketsPanel
from gambrel.ui.context import Context

if TYPE_CHECKING:
    from gambrel.domain.prices.label_source import Packed
    from gambrel.ui.printing.desk import PrintDesk


LOOK_AGAIN_MS = 5 * 60_000
"""How often the tickets are looked at while nobody does anything."""


@dataclass(frozen=True)
class _Read:
    """What the panel shows, as it was read."""

    shop: Shop
    reprints: list[Reprint]
    waiting: list[Job]
    ready: list[Packed] | None


class CabinetPrinting(QObject):
    """Fills the tickets panel and opens the desk in the place's own layers."""

    failed = Signal(object)

    def __init__(
        self, context: Context, panel: TicketsPanel, layers: QStackedLayout, home: QWidget
    ) -> None:
        super().__init__()
        self._context = context
        self._panel = panel
        self._layers = layers
        self._home = home
        self._desk: PrintDesk | None = None
        self._reading = 0
        self.reprints: frozenset[str] = frozenset()
        """Cuts whose ticket in the cabinet no longer says what is asked."""
        panel.show_reprints("", "")
        self._again = QTimer(self)
        self._again.setInterval(LOOK_AGAIN_MS)
        self._again.timeout.connect(self._look_again)
        self._again.start()
        panel.turned.connect(lambda _number: self.refresh())
        panel.labels_wished.connect(self.print_labels)
        panel.split.weight_wished.connect(self._take_weight)
        # A method, not a lambda: Qt forgets it with the place, and the scale outlives the place.
        context.scale.reading.connect(self._show_scale)
        self._show_scale()
        panel.waiting_wished.connect(lambda: self._open().show_waiting())
        panel.log_wished.connect(lambda: self._open().show_log())

    @property
    def desk(self) -> PrintDesk:
        """The desk, made when it is first wanted."""
        if self._desk is None:
            from gambrel.ui.printing.desk import PrintDesk

            self._desk = PrintDesk(self._context)
            self._desk.left.connect(lambda: self._layers.setCurrentWidget(self._home))
            self._layers.addWidget(self._desk)
        return self._desk

    @property
    def is_open(self) -> bool:
        """Whether the desk is what the place shows."""
        return self._desk is not None and self._layers.currentWidget() is self._desk

    def _open(self) -> PrintDesk:
        desk = self.desk
        self._layers.setCurrentWidget(desk)
        return desk

    def _look_again(self) -> None:
        """A special begins and ends by itself: its ticket is old without anybody's act."""
        if self._panel.isVisible():
            self.refresh()

    def refresh(self) -> None:
        """Read again which tickets are old and what waits; the pieces while they are chosen."""
        if self.is_open:
            self.desk.refresh()
        self._reading += 1
        number, now, book = self._reading, self._context.clock(), self._context.book
        with_pieces = self._panel.showing == LABELS

        def read() -> _Read | None:
            from gambrel.services.labels import pieces_ready
            from gambrel.services.printing.queue import reprints, waiting_jobs

            with book.reading() as work:
                shop = work.shop()
            if shop is None:
                return None
            ready = pieces_ready(book, now) if with_pieces else None
            return _Read(shop, reprints(book, now), waiting_jobs(book), ready)

        def done(found: _Read | None) -> None:
            if found is not None and number == self._reading:
                self._show(found)

        self._context.tasks.run_task(read, done, self.failed.emit)

    def _show(self, found: _Read) -> None:
        from gambrel.ui.printing.state import waiting_words

        formats, panel = self._context.formats, self._panel
        self.reprints = frozenset(each.cut.key for each in found.reprints)
        sentence = reprint_sentence(found.reprints, formats)
        panel.show_reprints(reprint_words(found.reprints), sentence)
        panel.show_waiting(waiting_words(len(found.waiting)))
        if found.ready is not None:
            today = business_day(self._context.clock(), found.shop)
            panel.pieces.show_rows(piece_rows(found.ready, formats, found.shop, today))

    def _show_scale(self, _live: object = None) -> None:
        self._panel.split.show_scale(ready=self._context.scale.live.weighable)

    def _take_weight(self) -> None:
        """Put on a tray what the scale shows at this moment."""
        live = self._context.scale.live
        if live.weighable and live.grams is not None:
            self._panel.split.add(live.grams)
            self._context.scale.used()

    def print_tickets(self, cuts: Sequence[str]) -> None:
        """Show the tickets of these cuts, in this order."""
        from gambrel.services.printing.documents import Tickets

        self._open().show_source(Tickets(tuple(cuts)))

    def print_labels(self, pieces: Sequence[tuple[str, tuple[int, ...]]]) -> None:
        """Show the labels of these pieces, or of the trays into which they were split."""
        from gambrel.services.labels import Wish
        from gambrel.services.printing.documents import Labels

        wishes = tuple(Wish(piece, trays) for piece, trays in pieces)
        self._open().show_source(Labels(wishes))
