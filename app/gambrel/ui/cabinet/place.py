"""The Cabinet as a place: connects what is wished to the services, and shows what came of it."""

from __future__ import annotations

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QStackedLayout

from gambrel.domain.costing.methods import Method
from gambrel.domain.prices.cabinet import Cabinet
from gambrel.domain.prices.order import moved
from gambrel.domain.refusals import Refusal
from gambrel.services.cabinet import cabinet, costs_by_method, keep_order
from gambrel.ui.cabinet.desk import Desk
from gambrel.ui.cabinet.one_price import OnePrice
from gambrel.ui.cabinet.printing import CabinetPrinting
from gambrel.ui.cabinet.state import Costs, RowState, chips_of, footer_of, rows_of
from gambrel.ui.cabinet.tickets_state import changed_this_week
from gambrel.ui.cabinet.view import LIMITS, PRICE, SOLVE, SPECIAL, TICKETS, CabinetView
from gambrel.ui.cabinet.whole_set import WholeSet
from gambrel.ui.context import Context
from gambrel.ui.place import Place
from gambrel.ui.theme import Meaning
from gambrel.ui.widgets.empty import EmptyState

AGAIN_MS = 30_000
"""How often it is looked whether a price has come into force by itself."""


class CabinetPlace(Place):
    """Prices of the whole cabinet: seen, set, solved, taken back, and put on tickets."""

    title = "Cabinet"

    def __init__(self, context: Context) -> None:
        super().__init__()
        self._context = context
        self._method = Method.NRV
        self._costs: Costs | None = None
        self._order: list[str] = []
        self._ticked: frozenset[str] = frozenset()
        self.view = CabinetView(context.theme, context.formats.currency)
        self.empty = EmptyState(
            context.theme,
            "tag",
            self.tr("There is nothing to sell yet."),
            self.tr("Go to the rail"),
            self.tr("Receive a body and break it, or give a cut a price: it then stands here."),
        )
        self._layers = QStackedLayout(self)
        self._layers.addWidget(self.view)
        self._layers.addWidget(self.empty)
        self.desk = Desk(context, self.view)
        self.one = OnePrice(self.desk)
        self.whole = WholeSet(self.desk)
        self.printing = CabinetPrinting(context, self.view.tickets, self._layers, self.view)
        for part in (self.desk, self.one, self.whole, self.printing):
            part.setParent(self)  # what a part set going ends with the place
        self._again = QTimer(self)
        self._again.setInterval(AGAIN_MS)
        self._again.timeout.connect(self.look_again)
        self._again.start()
        self._connect()

    def _connect(self) -> None:
        view = self.view
        view.filter_changed.connect(self._show_lines)
        view.method_wished.connect(self._other_method)
        view.four_wished.connect(self._turn_four)
        view.panel_changed.connect(self._turned)
        view.table.chosen.connect(self._choose)
        view.table.ticked.connect(self._tick)
        view.table.moved.connect(self._move)
        view.table.arranged.connect(self._keep_order)
        view.tickets.tick_wished.connect(self._tick_many)
        view.tickets.wished.connect(self._print_tickets)
        self.printing.failed.connect(self.desk.failed)
        self.empty.acted.connect(lambda: self.go.emit("rail", ""))
        self.setFocusProxy(view.table)

    # Reading

    def refresh(self) -> None:
        """Cost the book again, off the window's thread."""
        self.printing.refresh()
        self.whole.forget_rules()
        self.desk.reading += 1
        book, now, method = self._context.book, self._context.clock(), self._method
        self.desk.later(lambda: cabinet(book, now, method), self._show)

    def look_again(self) -> None:
        """Read again once a price has come into force by itself: a special begins or ends."""
        found, now = self.desk.found, self._context.clock()
        if found is not None and self.isVisible() and found.is_overtaken(now):
            self.refresh()

    def _show(self, found: Cabinet) -> None:
        first = self.desk.found is None or not self.desk.found.lines
        self.desk.found = found
        if not self.printing.is_open:
            self._layers.setCurrentWidget(self.view if found.lines else self.empty)
        if not found.lines:
            return
        self._order = [line.cut.key for line in found.lines]
        if found.line(self.desk.cut) is None:
            self.desk.cut = self._order[0]
        if first:
            self.whole.begin()
        self.view.show_chips(chips_of(found))
        self.view.footer.setText(footer_of(found))
        other = self.tr("By value") if found.method is Method.WEIGHT else self.tr("By weight")
        self.view.method_button.say(other)
        self._show_lines()
        self._show_panel()
        if self.view.four_button.isChecked():
            self._read_four()

    def _show_panel(self) -> None:
        """Show again what the panel at hand shows; the price always, its keypad stays ready."""
        self.one.show()
        self._show_ticks()
        if self.view.stack.currentIndex() == SPECIAL:
            self.one.show_special()
        elif self.view.stack.currentIndex() == SOLVE:
            self.whole.solve()

    def _rows(self) -> tuple[RowState, ...]:
        wanted, search = self.view.wanted, self.view.search.text()
        costs = self._costs if self.view.four_button.isChecked() else None
        rows = rows_of(self.desk.cabinet, self._context.formats, wanted, search, costs)
        places = {key: place for place, key in enumerate(self._order)}
        return tuple(sorted(rows, key=lambda row: places[row.key]))

    def _show_lines(self) -> None:
        if self.desk.found is not None:
            self.view.table.show_rows(self._rows(), self.desk.cut)

    def _other_method(self) -> None:
        self._method = Method.WEIGHT if self._method is Method.NRV else Method.NRV
        self.refresh()

    def _turn_four(self) -> None:
        if self.view.four_button.isChecked():
            self._read_four()
        else:
            self._show_lines()

    def _read_four(self) -> None:
        """Cost the book by every method, off the window's thread."""
        book, now = self._context.book, self.desk.cabinet.at

        def done(costs: Costs) -> None:
            self._costs = costs
            self._show_lines()

        self.desk.later(lambda: costs_by_method(book, now), done)

    # Which cut, which panel

    def _choose(self, cut: str) -> None:
        if cut != self.desk.cut:
            self.desk.cut = cut
            self.view.price.keypad.clear()
            self.view.special.keypad.clear()
            self.view.banner.clear()
        if self.view.stack.currentIndex() in (SPECIAL, LIMITS):
            self.view.show_panel(PRICE)
        self.one.show()

    def open_item(self, key: str) -> None:
        """Show one cut."""
        self._choose(key)
        self._show_lines()
        self.view.table.scrollTo(self.view.table.currentIndex())

    def _turned(self, panel: int) -> None:
        self._show_ticks()
        if panel == SOLVE:
            self.whole.solve()
        elif panel == TICKETS:
            self.printing.refresh()

    # The order of the trays

    def _move(self, cut: str, place: int) -> None:
        shown = [row.key for row in self.view.table.lines.rows]
        self._order = moved(self._order, shown, cut, place)
        self.desk.cut = cut
        self._show_lines()
        self.one.show()

    def _keep_order(self) -> None:
        try:
            keep_order(self._context.book, self._order)
        except Refusal as refusal:
            self.desk.say(Meaning.STOP, str(refusal))
            return
        self._context.changes.tell("order")

    # Tickets

    def _tick(self, cut: str) -> None:
        if self.view.stack.currentIndex() == TICKETS and not self.view.table.arranging:
            self._ticked ^= {cut}
            self._show_ticks()

    def _tick_many(self, which: str) -> None:
        sets = {
            "reprint": self.printing.reprints,
            "shown": frozenset(row.key for row in self._rows()),
            "changed": changed_this_week(self.desk.cabinet),
        }
        self._ticked = sets.get(which, frozenset())
        self._show_ticks()

    def _show_ticks(self) -> None:
        choosing = self.view.stack.currentIndex() == TICKETS
        self.view.table.lines.show_ticks(self._ticked if choosing else None)
        self.view.tickets.show_count(len(self._ticked))

    def _print_tickets(self) -> None:
        self.printing.print_tickets([cut for cut in self._order if cut in self._ticked])
