"""The Cabinet as a place: connects what is wished to the services, and shows what came of it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from decimal import Decimal
from pathlib import Path

from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFileDialog, QStackedLayout, QWidget

from gambrel.domain.costing.methods import Method
from gambrel.domain.prices.cabinet import Basket, Cabinet, CabinetLine
from gambrel.domain.prices.effects import price_doubt
from gambrel.domain.prices.limits import Limit, SolveRules
from gambrel.domain.prices.proposal import PriceProposal
from gambrel.domain.prices.whole_set import propose_for
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.clock import business_day
from gambrel.services.cabinet import cabinet, set_price, take
from gambrel.services.price_acts import PriceAct, undo
from gambrel.ui.cabinet.state import (
    RowState,
    bodies_with,
    changed_this_week,
    chips_of,
    endings_of,
    footer_of,
    price_state,
    rows_of,
    solve_state,
    tickets_said,
)
from gambrel.ui.cabinet.view import SOLVE, TICKETS, CabinetView
from gambrel.ui.context import Context
from gambrel.ui.place import Place
from gambrel.ui.theme import Meaning
from gambrel.ui.widgets.empty import EmptyState


class CabinetPlace(Place):
    """Prices of the whole cabinet: seen, set, solved, taken back, and put on tickets."""

    title = "Cabinet"

    def __init__(self, context: Context) -> None:
        super().__init__()
        self._context = context
        self._cabinet: Cabinet | None = None
        self._method = Method.NRV
        self._cut = ""
        self._basket = ""
        self._beside = ""
        self._held: frozenset[str] = frozenset()
        self._ticked: frozenset[str] = frozenset()
        self._papers: tuple[str, ...] = ()
        self._proposal: PriceProposal | None = None
        self._last: PriceAct | None = None
        self._reading = 0
        self.ask_path: Callable[[str], str] = self._dialog
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
        self._connect()

    def _connect(self) -> None:
        view = self.view
        view.filter_changed.connect(self._show_lines)
        view.method_wished.connect(self._other_method)
        view.panel_changed.connect(self._turned)
        view.table.chosen.connect(self._choose)
        view.table.ticked.connect(self._tick)
        view.table.typed.connect(self._key)
        view.banner.acted.connect(lambda: self._set(sure=True))
        view.price.typed_changed.connect(lambda _text: self._show_price())
        view.price.wished.connect(lambda: self._set(sure=False))
        view.price.body.chosen.connect(self._choose_beside)
        view.solve.body.chosen.connect(self._choose_basket)
        view.solve.choice_changed.connect(self._solve)
        view.solve.held.connect(self._hold)
        view.solve.wished.connect(self._take)
        view.tickets.tick_wished.connect(self._tick_many)
        view.tickets.wished.connect(self._save_tickets)
        for panel in (view.price, view.solve):
            panel.undone.connect(self._undo)
        view.show_undo("")
        view.solve.endings.show_options(
            [name for name, _ in endings_of(self._context.formats.currency)], 0
        )
        self.empty.acted.connect(lambda: self.go.emit("rail", ""))
        self.setFocusProxy(view.table)

    # Reading

    def refresh(self) -> None:
        """Cost the book again, off the window's thread."""
        self._reading += 1
        number, now, method = self._reading, self._context.clock(), self._method

        def done(found: Cabinet) -> None:
            if number == self._reading:  # an older look comes too late
                self._show(found)

        self._context.tasks.run_task(
            lambda: cabinet(self._context.book, now, method), done, self._failed
        )

    def _failed(self, error: Exception) -> None:
        if not isinstance(error, Refusal):
            raise error
        self.view.banner.say(Meaning.STOP, str(error))

    def _show(self, found: Cabinet) -> None:
        first = self._cabinet is None or not self._cabinet.lines
        self._cabinet = found
        self._layers.setCurrentWidget(self.view if found.lines else self.empty)
        if not found.lines:
            return
        if found.line(self._cut) is None:
            self._cut = found.lines[0].cut.key
        if first:
            self.view.solve.set_percent(int(found.shop.target_margin_percent))
            self._basket = found.bodies[0].key if found.bodies else ""
        self.view.show_chips(chips_of(found))
        self.view.footer.setText(footer_of(found))
        other = self.tr("By value") if found.method is Method.WEIGHT else self.tr("By weight")
        self.view.method_button.say(other)
        self._show_baskets()
        self._show_lines()
        self._show_price()
        self._show_ticks()
        if self.view.stack.currentIndex() == SOLVE:
            self._solve()

    def _rows(self) -> tuple[RowState, ...]:
        assert self._cabinet is not None
        wanted, search = self.view.wanted, self.view.search.text()
        return rows_of(self._cabinet, self._context.formats, wanted, search)

    def _show_lines(self) -> None:
        if self._cabinet is not None:
            self.view.table.show_rows(self._rows(), self._cut)

    def _baskets(self) -> list[Basket]:
        assert self._cabinet is not None
        return [*self._cabinet.bodies, self._cabinet.week]

    def _show_baskets(self) -> None:
        titles = [basket.title for basket in self._baskets()]
        keys = [basket.key for basket in self._baskets()]
        index = keys.index(self._basket) if self._basket in keys else len(keys) - 1
        self.view.solve.body.show_options(titles, index)

    def _other_method(self) -> None:
        self._method = Method.WEIGHT if self._method is Method.NRV else Method.NRV
        self.refresh()

    # One price

    def _line(self) -> CabinetLine | None:
        return self._cabinet.line(self._cut) if self._cabinet else None

    def _choose(self, cut: str) -> None:
        if cut != self._cut:
            self._cut = cut
            self.view.price.keypad.clear()
            self.view.banner.clear()
        self._show_price()

    def open_item(self, key: str) -> None:
        """Show one cut."""
        self._choose(key)
        self._show_lines()
        self.view.table.scrollTo(self.view.table.currentIndex())

    def _typed(self) -> int | None:
        text = self.view.price.keypad.text.rstrip(".")
        return self._context.formats.currency.parse(text) if text else None

    def _show_price(self) -> None:
        line = self._line()
        if self._cabinet is None or line is None:
            return
        bodies = bodies_with(self._cabinet, self._cut)
        keys = [body.key for body in bodies]
        index = keys.index(self._beside) if self._beside in keys else 0
        panel = self.view.price
        panel.body.show_options([body.title for body in bodies], index)
        panel.body.setVisible(len(bodies) > 1)
        body = bodies[index] if bodies else None
        formats = self._context.formats
        panel.show_state(price_state(self._cabinet, line, self._typed(), body, formats))

    def _choose_beside(self, index: int) -> None:
        assert self._cabinet is not None
        self._beside = bodies_with(self._cabinet, self._cut)[index].key
        self._show_price()

    def _key(self, event: QKeyEvent) -> None:
        """A key of a real keyboard, typed while the table has the focus."""
        if event.text() == "\r":
            self._set(sure=False)
        elif event.text() == "\x1b":
            self.view.price.keypad.clear()
        else:
            self.view.price.keypad.handle_key(event)

    def _set(self, *, sure: bool) -> None:
        line, price = self._line(), self._typed()
        if line is None or price is None or price == line.price:
            return
        doubt = "" if sure else price_doubt(line, price, self._context.formats)
        if doubt:
            self.view.banner.say(Meaning.WATCH, doubt, action=self.tr("Set it anyway"))
            return
        cut, what = self._cut, line.cut.name
        self._act(lambda now: set_price(self._context.book, cut, price, now), what)

    def _act(self, act: Callable[[datetime], PriceAct], what: str) -> None:
        """Do one act; what it changed can be taken back as one."""
        try:
            self._last = act(self._context.clock())
        except Refusal as refusal:
            self.view.banner.say(Meaning.STOP, str(refusal))
            return
        self.view.banner.clear()
        self.view.price.keypad.clear()
        self.view.show_undo(what)
        self._context.changes.tell("prices")

    def _undo(self) -> None:
        last = self._last
        if last is not None:
            self._act(lambda now: undo(self._context.book, last, now), "")
            if not self.view.banner.sentence:
                self._last = None
                said = self.tr("The earlier prices stand again, from now on.")
                self.view.banner.say(Meaning.FINE, said)

    # A whole body

    def _choose_basket(self, index: int) -> None:
        self._basket = self._baskets()[index].key
        self._held = frozenset()
        self._show_baskets()
        self._solve()

    def _turned(self, panel: int) -> None:
        self._show_ticks()
        if panel == SOLVE:
            self._solve()
        elif panel == TICKETS and not self._papers:
            self._show_papers()

    def _hold(self, cut: str) -> None:
        self._held ^= {cut}
        self._solve()

    def _solve(self) -> None:
        """Propose prices for what is chosen; nothing is changed."""
        found = self._cabinet
        if found is None or self.view.stack.currentIndex() != SOLVE:
            return
        solve, formats = self.view.solve, self._context.formats
        endings = endings_of(formats.currency)[solve.endings.index][1]
        rules = SolveRules(endings, {cut: Limit(held=True) for cut in self._held})
        target = Decimal(solve.percent) / 100
        self._proposal = None
        try:
            proposal = propose_for(found, found.basket(self._basket), target, rules)
        except Refusal as refusal:
            solve.show_refusal(str(refusal))
            return
        self._proposal = proposal
        solve.show_state(solve_state(found, proposal, self._held, formats))

    def _take(self) -> None:
        proposal = self._proposal
        if proposal is not None:
            changed = sum(line.price != line.today for line in proposal.lines)
            what = self.tr("{0} prices").format(changed)
            self._act(lambda now: take(self._context.book, proposal, now), what)

    # Tickets

    def _show_papers(self) -> None:
        from gambrel.services.tickets import paper_named, paper_names

        self._papers = paper_names()
        self.view.tickets.show_papers([paper_named(name).about for name in self._papers])

    def _tick(self, cut: str) -> None:
        if self.view.stack.currentIndex() == TICKETS:
            self._ticked ^= {cut}
            self._show_ticks()

    def _tick_many(self, which: str) -> None:
        assert self._cabinet is not None
        sets = {
            "shown": frozenset(row.key for row in self._rows()),
            "changed": changed_this_week(self._cabinet),
        }
        self._ticked = sets.get(which, frozenset())
        self._show_ticks()

    def _show_ticks(self) -> None:
        choosing = self.view.stack.currentIndex() == TICKETS
        self.view.table.lines.show_ticks(self._ticked if choosing else None)
        self.view.tickets.show_count(len(self._ticked))

    def _save_tickets(self) -> None:
        assert self._cabinet is not None
        day = business_day(self._context.clock(), self._cabinet.shop)
        path = self.ask_path(f"tickets-{day}.pdf")
        if path:
            self._write_tickets(Path(path))

    def _write_tickets(self, path: Path) -> None:
        from gambrel.services.papers import save_whole
        from gambrel.services.tickets import print_tickets

        assert self._cabinet is not None
        cuts = [line.cut.key for line in self._cabinet.lines if line.cut.key in self._ticked]
        paper, now = self._papers[self.view.tickets.paper.index], self._context.clock()
        book = self._context.book

        def work() -> tuple[str, ...]:
            printed = print_tickets(book, cuts, paper, now)
            save_whole(path, printed.pdf)
            return printed.cut_short

        def done(cut_short: tuple[str, ...]) -> None:
            said, meaning = tickets_said(len(cuts), path.name, cut_short)
            self.view.banner.say(Meaning(meaning), said)

        self._context.tasks.run_task(work, done, self._failed)

    def _dialog(self, name: str) -> str:
        parent: QWidget = self
        title = self.tr("Save tickets")
        return QFileDialog.getSaveFileName(parent, title, name, self.tr("PDF files (*.pdf)"))[0]
