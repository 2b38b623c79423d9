"""A whole set of prices: proposed within the shop's bounds, taken whole or line by line."""

from __future__ import annotations

from decimal import Decimal

from PySide6.QtCore import QObject

from gambrel.domain.prices.endings import Endings
from gambrel.domain.prices.limits import SolveRules
from gambrel.domain.prices.proposal import PriceProposal
from gambrel.domain.prices.purchase import Purchase
from gambrel.domain.prices.whole_set import propose_for
from gambrel.domain.refusals import Refusal
from gambrel.services.cabinet import take
from gambrel.services.solve_rules import keep_rules, purchase_for, solve_rules
from gambrel.ui.cabinet.desk import Desk
from gambrel.ui.cabinet.solve_state import (
    endings_of,
    kind_of,
    limit_state,
    limit_texts,
    purchase_words,
    solve_state,
    typed_limit,
)
from gambrel.ui.cabinet.view import LIMITS, SOLVE
from gambrel.ui.theme import Meaning


class WholeSet(QObject):
    """Shows the solve panel and the panel of one cut's bounds, and does their acts."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk, self._context = desk, desk.context
        self._solve, self._limits = desk.view.solve, desk.view.limits
        self._offered = endings_of(self._context.formats.currency)
        self._rules: SolveRules | None = None
        self._basket: str | None = None
        self._left: frozenset[str] = frozenset()
        self._bounded = ""
        self._proposal: PriceProposal | None = None
        self._asked = 0
        solve, limits = self._solve, self._limits
        solve.body.chosen.connect(self._choose)
        solve.kind_wished.connect(self._turn)
        solve.target.chosen.connect(lambda _index: self.solve())
        solve.endings.chosen.connect(self._choose_endings)
        solve.ticked.connect(self._tick)
        solve.opened.connect(self._open)
        solve.wished.connect(self._take)
        limits.changed.connect(self._show_limits)
        limits.wished.connect(self._keep)
        limits.left.connect(lambda: desk.view.show_panel(SOLVE))
        desk.acted.connect(self._done)

    @property
    def rules(self) -> SolveRules:
        """How prices are written and what bounds them, as the shop keeps it."""
        if self._rules is None:
            self._rules = SolveRules(self._offered[0][1])
            try:
                self._rules = solve_rules(self._context.book) or self._rules
            except Refusal as refusal:
                self._desk.say(Meaning.WATCH, str(refusal))
        return self._rules

    def begin(self) -> None:
        """Start from the shop's aim, on the body that was broken last."""
        found = self._desk.cabinet
        self._solve.set_percent(int(found.shop.target_margin_percent))
        self._basket = found.baskets[0].key

    def forget_rules(self) -> None:
        """Read the rules again when they are next wanted: another station may have changed them."""
        self._rules = None

    def solve(self) -> None:
        """Propose prices for what is chosen; nothing is changed."""
        if self._desk.found is None or self._desk.view.stack.currentIndex() != SOLVE:
            return
        self._show_baskets()
        found = self._desk.cabinet
        self._proposal = None
        basket, target = found.basket(self._basket or ""), Decimal(self._solve.percent) / 100
        try:
            self._proposal = propose_for(found, basket, target, self.rules)
        except Refusal as refusal:
            self._solve.show_refusal(str(refusal))
            return
        self._show()
        if self._proposal.shortfall > 0:
            self._ask_purchase(basket.key, self._proposal.affordable_cost)

    def _show(self, purchase: str = "") -> None:
        if self._proposal is not None:
            found, formats = self._desk.cabinet, self._context.formats
            state = solve_state(found, self._proposal, self.rules, self._left, formats)
            self._solve.show_state(state)
            if purchase:
                self._solve.doubt.say(Meaning.WATCH, f"{state.doubt} {purchase}")

    def _ask_purchase(self, basket: str, affordable: int) -> None:
        """Work out for what price a purchase would do; the panel says it when it is known."""
        self._asked += 1
        asked, found, book = self._asked, self._desk.cabinet, self._context.book

        def done(purchase: Purchase | None) -> None:
            if asked == self._asked and self._proposal is not None:
                self._show(purchase_words(purchase, self._context.formats))

        self._desk.later(
            lambda: purchase_for(book, basket, affordable, found.at, found.method), done
        )

    def _show_baskets(self) -> None:
        found = self._desk.cabinet
        baskets = {basket.key: basket for basket in found.baskets}
        if self._basket not in baskets:
            self._basket = found.week.key
        kind = kind_of(self._basket)
        kinds = {kind_of(key) for key in baskets}
        for key, button in self._solve.kinds.items():
            button.setChecked(key == kind)
            button.setEnabled(key in kinds)
        among = [basket for basket in baskets.values() if kind_of(basket.key) == kind]
        titles = [basket.title for basket in among]
        self._solve.body.show_options(titles, among.index(baskets[self._basket]))
        names = [name for name, _endings in self._offered]
        own = [endings for _name, endings in self._offered]
        if self.rules.endings not in own:
            self._offered = (*self._offered, (self.tr("As kept"), self.rules.endings))
            own.append(self.rules.endings)
            names.append(self.tr("As kept"))
        self._solve.endings.show_options(names, own.index(self.rules.endings))

    def _choose(self, index: int) -> None:
        found = self._desk.cabinet
        kind = kind_of(self._basket or "")
        self._basket = [b.key for b in found.baskets if kind_of(b.key) == kind][index]
        self._left = frozenset()
        self.solve()

    def _turn(self, kind: str) -> None:
        self._basket = next(b.key for b in self._desk.cabinet.baskets if kind_of(b.key) == kind)
        self._left = frozenset()
        self.solve()

    def _choose_endings(self, index: int) -> None:
        endings: Endings = self._offered[index][1]
        self._keep_rules(SolveRules(endings, self.rules.limits))
        self.solve()

    def _tick(self, cut: str) -> None:
        self._left ^= {cut}
        self._show()

    def _take(self) -> None:
        proposal = self._proposal
        if proposal is None:
            return
        changed = [line.cut for line in proposal.lines if line.price != line.today]
        wanted = [cut for cut in changed if cut not in self._left]
        one = len(wanted) == 1
        what = self.tr("1 price") if one else self.tr("{0} prices").format(len(wanted))
        self._desk.act(lambda now: take(self._context.book, proposal, now, wanted), what)

    def _done(self) -> None:
        self._left = frozenset()

    # One cut's bounds

    def _open(self, cut: str) -> None:
        self._bounded = cut
        limit = self.rules.limit(cut)
        texts = limit_texts(limit, self._context.formats.currency)
        self._limits.start(texts, held=limit.held)
        self._desk.view.show_panel(LIMITS)
        self._show_limits()

    def _show_limits(self) -> None:
        kept, formats = self.rules.limit(self._bounded), self._context.formats
        held, texts = self._limits.hold.isChecked(), self._limits.texts
        cabinet = self._desk.cabinet
        state = limit_state(cabinet, self._bounded, texts, kept, formats, held=held)
        self._limits.show_state(state)

    def _keep(self) -> None:
        held, texts = self._limits.hold.isChecked(), self._limits.texts
        limit = typed_limit(texts, self._context.formats.currency, held=held)
        if self._keep_rules(self.rules.with_limit(self._bounded, limit)):
            self._desk.view.show_panel(SOLVE)

    def _keep_rules(self, rules: SolveRules) -> bool:
        try:
            keep_rules(self._context.book, rules)
        except Refusal as refusal:
            self._desk.say(Meaning.STOP, str(refusal))
            return False
        self._rules = rules
        return True
