"""Opening a figure of the week down to what is behind it; the rows' sum is the figure."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from gambrel.domain.costing.ledger import Ledger
from gambrel.domain.refusals import Refusal
from gambrel.domain.sheets.behind import Behind, BehindRow, Descent, Wish, WishKind, in_order
from gambrel.domain.sheets.cost_weeks import portion_of
from gambrel.domain.sheets.cut_rows import before_tax
from gambrel.domain.sheets.money_flow import Item, ItemKind, Level, MoneyFlow, Spot, SpotKind
from gambrel.domain.sheets.sections import Section
from gambrel.domain.sheets.week_sheet import WeekSheet
from gambrel.domain.trade.records import Source, StageKind
from gambrel.domain.trade.tax import tax_scale
from gambrel.domain.trade.titles import portion_title

LOSS_APART = (
    "Loss and what is still on the block are told by themselves in this picture, "
    "so a piece costs a little less here than on its sheet."
)
NAMED = 3
"""So many spots that stand together are named in the title of what is behind them."""

_MANY = {SpotKind.BODY: "portions", SpotKind.CUT: "cuts", SpotKind.BLEND: "blends"}
_STAGES = {
    StageKind.BREAK: "Break",
    StageKind.TRIMOUT: "Trim-out",
    StageKind.BLEND: "Blend",
}


class Opening:
    """Opens figures of one week's sheet. Rows are gathered when they are asked for."""

    def __init__(self, ledger: Ledger, sheet: WeekSheet) -> None:
        self._ledger, self._sheet = ledger, sheet
        self._period = ledger.week(sheet.week)
        self._descent = Descent(ledger)
        self._ways: dict[WishKind, Callable[[Wish], Behind]] = {
            WishKind.BOUGHT: self._bought,
            WishKind.TAKEN: self._taken,
            WishKind.SALEABLE: self._saleable,
            WishKind.MARGIN: self._margin,
            WishKind.LOSS: self._loss,
            WishKind.CUT: self._cut,
            WishKind.PORTION: self._portion,
            WishKind.STAGE: self._stage,
            WishKind.BODY: self._body,
            WishKind.SPOTS: self._spots,
        }

    def open(self, wish: Wish) -> Behind:
        """What is behind a figure.

        Raises:
            Refusal: The book does not hold it any more.
        """
        try:
            return self._ways[wish.kind](wish)
        except KeyError as error:
            raise Refusal(f"{wish.key} is not in this week any more. Go back.") from error

    # The five figures

    def _bought(self, _wish: Wish) -> Behind:
        rows = (
            self._descent.body_row(row.body.key, row.body.received_g, row.body.bought)
            for row in self._sheet.arrivals
        )
        return Behind("Bought", in_order(rows))

    def _taken(self, _wish: Wish) -> Behind:
        rows = (
            self._descent.body_row(row.key, row.grams, row.cost)
            for section in self._sheet.breaks
            if section.started
            for row in section.inputs
            if row.source is Source.BODY
        )
        return Behind("Taken to the block", in_order(rows))

    def _saleable(self, _wish: Wish) -> Behind:
        return Behind("Came off saleable", in_order(self._saleable_of(self._sheet.breaks)))

    def _saleable_of(self, found: tuple[Section, ...]) -> Iterator[BehindRow]:
        for section in found:
            for part in self._ledger.by_stage.get(section.stage.key, ()):
                if self._period.holds(part.piece.weighed_at) and part.kind.bears_cost:
                    yield self._descent.piece_row(part)

    def _margin(self, _wish: Wish) -> Behind:
        scale = tax_scale(self._sheet.shop)
        rows = []
        for section in (*self._sheet.breaks, *self._sheet.other):
            priced = {row.cut.key for row in section.rows if row.sales is not None}
            for part in self._ledger.by_stage.get(section.stage.key, ()):
                here = self._period.holds(part.piece.weighed_at)
                if here and part.rest_g and part.piece.cut in priced:
                    brings = before_tax(part, scale) - part.rest_cost
                    rows.append(self._descent.piece_row(part, part.rest_g, brings))
        note = "What each piece for sale should bring before tax, less what it cost."
        return Behind("Expected margin", in_order(rows), "Margin", note)

    def _loss(self, _wish: Wish) -> Behind:
        rows = (
            self._descent.stage_row(
                section.stage.key,
                _work(section.stage.kind, section.stage.list),
                section.balance.unexplained_g,
                section.balance.unexplained,
            )
            for section in (*self._sheet.breaks, *self._sheet.other)
            if section.balance.unexplained_g
        )
        return Behind("Unexplained loss", in_order(rows), "Worth")

    # Rows and dots

    def _cut(self, wish: Wish) -> Behind:
        rows = (
            self._descent.piece_row(part)
            for part in self._ledger.costing.pieces
            if part.piece.cut == wish.key and self._period.holds(part.piece.weighed_at)
        )
        return Behind(self._ledger.costing.cuts_by_key[wish.key].name, in_order(rows))

    def _portion(self, wish: Wish) -> Behind:
        found = tuple(
            section
            for section in self._sheet.breaks
            if not section.balance.open and portion_of(section) == wish.key
        )
        species, _, portion = wish.key.partition(" ")
        note = "Tray and trim of the bodies that were finished."
        title = f"{portion_title(species, portion)}, saleable"
        return Behind(title, in_order(self._saleable_of(found)), note=note)

    def _stage(self, wish: Wish) -> Behind:
        """All that a stage made, on whatever day, and what it lost."""
        cost = self._descent.stage(wish.key)
        parts = self._ledger.by_stage.get(wish.key, ())
        rows = [self._descent.piece_row(part)._replace(leads=None) for part in parts]
        for what, grams in (
            ("Unexplained loss", cost.unexplained_g),
            ("Still on the block", cost.on_block_g),
        ):
            if grams:
                row = self._descent.stage_row(wish.key, what, grams, None)
                rows.append(row._replace(leads=None))
        work = _work(cost.stage.kind, cost.stage.list)
        bodies = " + ".join(self._descent.of_stage(wish.key)[:3])
        note = "The pieces bear what was lost: it has a weight here and no cost of its own."
        return Behind(f"{work}, {bodies}" if bodies else work, in_order(rows), note=note)

    def _body(self, wish: Wish) -> Behind:
        """The stages that worked on a body, from its break on."""
        body = self._ledger.bodies[wish.key].body
        rows = [
            self._descent.stage_row(
                cost.stage.key,
                _work(cost.stage.kind, cost.stage.list),
                cost.input_g,
                cost.input_cost + cost.work,
            )
            for cost in self._ledger.costing.stages
            if wish.key in self._descent.of_stage(cost.stage.key)
        ]
        rows.sort(key=lambda row: (row.at is None, row.at))
        note = "Its stages in their order: what each took, and what that and its work cost."
        if not rows:
            note = "No stage has taken of it yet: it hangs on the rail."
        title = f"{wish.key}, {portion_title(body.species, body.portion)}"
        return Behind(title, tuple(rows), note=note, adds_up=False)

    # The money flow

    def _spots(self, wish: Wish) -> Behind:
        flow, level = self._sheet.flow, Level(wish.key)
        spots = [read_spot(text) for text in wish.more]
        rows = [
            self._item_row(item, flow.name(spot))
            for spot in spots
            for item in flow.behind(level, spot)
        ]
        money = "Money" if level is not Level.END else "Cost"
        note = LOSS_APART if any(row.kind is ItemKind.PIECE for row in rows) else ""
        return Behind(_spots_title(flow, spots), in_order(rows), money, note)

    def _item_row(self, item: Item, what: str) -> BehindRow:
        if item.kind is ItemKind.BODY:
            return self._descent.body_row(item.key, item.grams, item.money)
        if item.kind is ItemKind.STAGE:
            return self._descent.stage_row(item.key, what, item.grams, item.money)
        return self._descent.piece_row(self._ledger.pieces[item.key], item.grams, item.money)


def _spots_title(flow: MoneyFlow, spots: list[Spot]) -> str:
    """The names of a few spots, or how many of what they are."""
    names = list(dict.fromkeys(flow.name(spot) for spot in spots))
    if len(names) <= NAMED:
        return ", ".join(names)
    return f"{len(names)} {_MANY.get(spots[0].kind, 'costs')}"


def spot_text(spot: Spot) -> str:
    """A spot as a wish names it."""
    return f"{spot.kind.value}:{spot.key}"


def read_spot(text: str) -> Spot:
    """The spot that a wish names."""
    kind, _, key = text.partition(":")
    return Spot(SpotKind(kind), key)


def _work(kind: StageKind, name: str) -> str:
    return f"{_STAGES[kind]}, {name}" if name else _STAGES[kind]
