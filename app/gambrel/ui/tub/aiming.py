"""What people do at the panel of the lean target: ask for a mix, and take it."""

from __future__ import annotations

from dataclasses import replace

from gambrel.domain.bench.lean import Prefer, refuse_if_out_of_reach
from gambrel.domain.bench.trim import FreeClass
from gambrel.domain.numbers.mass import kg_text
from gambrel.domain.refusals import Refusal
from gambrel.services.tub import LeanPlan, Stock, lean_stock, plan_lean
from gambrel.ui.context import Context
from gambrel.ui.tub.blend_view import TARGET
from gambrel.ui.tub.choosing import Choosing
from gambrel.ui.tub.target_panel import KEEP
from gambrel.ui.tub.target_state import (
    KILOS,
    LEAST,
    MOST,
    Aim,
    describe_target,
    narrowed,
    target_of,
)
from gambrel.ui.tub.view import BLEND


class Aiming(Choosing):
    """Finds how much of each trim gives the lean that is wanted."""

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self._aim = Aim()
        self._plan: LeanPlan | None = None
        self._wrong = ""
        self._planning = 0
        panel = self.view.target
        panel.closed.connect(lambda: self._open_panel(BLEND))
        panel.field_entered.connect(self._enter_field)
        panel.typed.connect(self._type_aim)
        panel.trim_tapped.connect(self._tap_trim)
        panel.option_chosen.connect(self._choose_option)
        panel.acted.connect(self._act_on_target)

    def _open_panel(self, key: str) -> None:
        if key == TARGET:
            self._aim = self._first_aim()
            self._plan, self._wrong = None, ""
        super()._open_panel(key)

    def _first_aim(self) -> Aim:
        """Begin with what is in the blend and what its recipe wants, else with the last target."""
        draft, pieces = self._draft, self.shelf.pieces
        grams = draft.grams_of(pieces)
        typed = dict(self._aim.typed)
        if grams:
            typed[KILOS] = kg_text(sum(grams.values()))
        if draft.lean_least is not None:
            typed[LEAST] = f"{draft.lean_least.normalize():f}"
        if draft.lean_most is not None:
            typed[MOST] = f"{draft.lean_most.normalize():f}"
        cuts = frozenset(grams) or self._likely()
        return replace(self._aim, typed=tuple(typed.items()), cuts=cuts, field=KILOS)

    def _likely(self) -> frozenset[str]:
        """All trim of the species of which most stands free, as far as its lean is known."""
        rows = [row for row in self.shelf.stock.trim if row.usable_g and row.lean_percent]
        weights: dict[str, int] = {}
        for row in rows:
            weights[row.cut.species] = weights.get(row.cut.species, 0) + row.usable_g
        species = max(weights, key=lambda each: weights[each], default="")
        return frozenset(row.cut.key for row in rows if row.cut.species == species)

    def _show_panel(self) -> None:
        super()._show_panel()
        if self._panel == TARGET:
            text = describe_target(
                self._aim, self._trim(), self._plan, self._wrong, self._context.formats
            )
            self.view.target.show_target(text)

    def _trim(self) -> tuple[FreeClass, ...]:
        """Trim within its dates, what may go in first."""
        rows = [row for row in self.shelf.stock.trim if row.usable_g]
        return tuple(sorted(rows, key=lambda row: row.cut.key not in self._aim.cuts))

    def _new_aim(self, aim: Aim) -> None:
        """Another question: the answer before holds no longer."""
        if aim != self._aim:
            self._aim, self._plan, self._wrong = aim, None, ""
            self._planning += 1
            self._show()

    def _enter_field(self, field: str) -> None:
        if field != self._aim.field:
            self._aim = replace(self._aim, field=field)
            self._show()

    def _type_aim(self, text: str) -> None:
        if text != self._aim.text(self._aim.field):
            self._new_aim(self._aim.typing(text))

    def _tap_trim(self, cut: str) -> None:
        self._new_aim(replace(self._aim, cuts=self._aim.cuts ^ {cut}))

    def _choose_option(self, option: str) -> None:
        if option == KEEP:
            self._new_aim(replace(self._aim, keep=not self._aim.keep))
        else:
            self._new_aim(replace(self._aim, prefer=Prefer(option)))

    def _act_on_target(self) -> None:
        if self._plan is None:
            self._find()
        else:
            self._take_plan(self._plan)

    def _find(self) -> None:
        """Ask for the mix off the window's thread: the solver takes its time to load."""
        self._planning += 1
        asked, aim, stock = self._planning, self._aim, self.shelf.stock
        taken = self._draft.grams_of(self.shelf.pieces) if aim.keep else {}

        def found(plan: LeanPlan) -> None:
            if asked == self._planning:
                self._plan, self._wrong = plan, ""
                self._show()

        def failed(error: Exception) -> None:
            if not isinstance(error, Refusal):
                raise error
            if asked == self._planning:
                self._plan, self._wrong = None, str(error)
                self._show()

        self._context.tasks.run_task(lambda: plan_for(stock, aim, taken), found, failed)

    def _take_plan(self, plan: LeanPlan) -> None:
        own = {portion.piece for portion in plan.portions}
        pieces = self.shelf.pieces
        cuts = {pieces[key].cut.key for key in own}
        kept = tuple(
            portion
            for portion in self._draft.takes
            if portion.piece in pieces and pieces[portion.piece].cut.key not in self._aim.cuts
        )
        grams: dict[str, int] = {}
        for portion in plan.portions:
            cut = pieces[portion.piece].cut.key
            grams[cut] = grams.get(cut, 0) + portion.grams
        wished = tuple(wish for wish in self._draft.wished if wish[0] not in self._aim.cuts | cuts)
        target = target_of(self._aim, len(plan.mix.sources), self.shelf.stock.limits.step_g)
        draft = replace(
            self._draft,
            takes=(*kept, *plan.portions),
            wished=(*wished, *grams.items()),
            lean_least=target.lean_least,
            lean_most=target.lean_most,
        )
        self._change(draft)
        self._open_panel(BLEND)


def plan_for(stock: Stock, aim: Aim, taken: dict[str, int]) -> LeanPlan:
    """The mix that is asked for.

    Raises:
        Refusal: No trim is chosen, or the target is out of reach.
    """
    if not aim.cuts:
        raise Refusal("No trim is chosen. Tap those that may go in.")
    sources = narrowed(lean_stock(stock, aim.cuts), taken)
    target = target_of(aim, len(sources), stock.limits.step_g)
    # The square alone would say it in fat, and without the limits that hold.
    refuse_if_out_of_reach([row.source for row in sources], target)
    return plan_lean(sources, target)
