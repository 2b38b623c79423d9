"""The roll-up over all stages: value runs back, money runs forward.

The rules are those of "Cost" in DEVELOPERS.md. Worth is kept as exact fractions, money as whole
minor units; both passes touch every piece once, so the time grows with the number of pieces.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, datetime
from fractions import Fraction
from typing import NamedTuple

from gambrel.domain.apportion import apportion
from gambrel.domain.catalogue import Cut, CutKind
from gambrel.domain.clock import day_ends
from gambrel.domain.costing import BodyCost, Costing, Note, PieceCost, StageCost, Totals
from gambrel.domain.mass import GRAMS_PER_KILO, kg_text
from gambrel.domain.methods import Method, Output, share_joint_cost
from gambrel.domain.money import extend, round_half_up
from gambrel.domain.pricebook import PriceBook
from gambrel.domain.records import Piece, Source, Stage, Trade, body_order, stage_order
from gambrel.domain.refusals import Refusal, RowsRefused
from gambrel.domain.takes import BodyFate, Flow, settle
from gambrel.domain.tax import tax_scale

_GRID = 1 << 192
_LONGEST_DENOMINATOR = 1 << 256

Worth = int | Fraction


class _Valued(NamedTuple):
    """A piece on its way through both passes; ``claim`` as in ``Output``, scaled worth."""

    piece: Piece
    cut: Cut
    consumed_g: int
    price: int | None
    claim: Worth
    worth: Worth
    credit_worth: int


@dataclass(slots=True)
class _Roll:
    """What both passes share; filled by the first, read by the second."""

    trade: Trade
    method: Method
    price_at: Callable[[str, datetime], int | None]
    flow: Flow
    cuts: dict[str, Cut]
    by_stage: dict[str, list[Piece]]
    order: list[Stage]
    consumed_worth: dict[str, Worth] = field(default_factory=lambda: defaultdict(int))
    valued: dict[str, list[_Valued]] = field(default_factory=dict)
    piece_take_costs: dict[tuple[str, str], int] = field(default_factory=dict)
    notes: list[Note] = field(default_factory=list)
    unpriced: dict[str, str] = field(default_factory=dict)

    def note(self, code: str, about: str, sentence: str) -> None:
        self.notes.append(Note(code, about, sentence))


def roll_up(trade: Trade, method: Method = Method.NRV, at: date | None = None) -> Costing:
    """Cost every piece, stage and body of a trade.

    Args:
        trade: A book, or a part of it that is closed under its inputs.
        method: How joint cost is shared.
        at: Value every piece at the prices of this business day's end; without it, each at the
            price in force when it was weighed.
    Returns:
        A costing whose ``totals.difference`` is zero.
    Raises:
        RowsRefused: Inputs that cannot be, named one by one.
        Refusal: A price is missing (named by its cut), or the stages go round in a circle.
    """
    roll = _begin(trade, method, at)
    for stage in reversed(roll.order):
        _value(roll, stage)
    if roll.unpriced:
        names = ", ".join(sorted(roll.unpriced.values()))
        raise Refusal(
            f"no price for {names}; give each a price in cuts.csv or the cabinet, "
            "or share the cost by weight"
        )
    stages, pieces = [], []
    for stage in roll.order:
        cost, parts = _cost(roll, stage)
        stages.append(cost)
        pieces.extend(parts)
    return _finish(roll, at, stages, pieces)


def _begin(trade: Trade, method: Method, at: date | None) -> _Roll:
    flow = settle(trade)
    if flow.problems:
        raise RowsRefused([f"{p.table} {' '.join(p.row)}: {p.message}" for p in flow.problems])
    by_stage: dict[str, list[Piece]] = defaultdict(list)
    for piece in trade.standing:
        by_stage[piece.stage].append(piece)
    book = PriceBook(trade.cuts, trade.prices)
    price_at: Callable[[str, datetime], int | None] = book.at
    if at is not None:
        moment = day_ends(at, trade.shop)
        price_at = lambda cut, _weighed: book.at(cut, moment)  # noqa: E731 - one line, one use
    cuts = {cut.key: cut for cut in trade.cuts}
    order = stages_in_order(trade, flow)
    return _Roll(trade, method, price_at, flow, cuts, by_stage, order)


def stages_in_order(trade: Trade, flow: Flow) -> list[Stage]:
    """Stages so that each comes after those whose pieces it took; earlier starts first.

    Raises:
        Refusal: Some stages take each other's pieces in a circle; they are named.
    """
    made_by = {piece.key: piece.stage for piece in trade.pieces}
    waits: dict[str, set[str]] = {stage.key: set() for stage in trade.stages}
    feeds: dict[str, list[str]] = defaultdict(list)
    for take in (take for takes in flow.by_piece.values() for take in takes):
        maker = made_by[take.key]
        if maker not in waits[take.stage]:
            waits[take.stage].add(maker)
            feeds[maker].append(take.stage)
    stages = {stage.key: stage for stage in trade.stages}
    ready = [stage for stage in sorted(trade.stages, key=stage_order) if not waits[stage.key]]
    for stage in ready:  # grows as it is walked
        for fed in feeds[stage.key]:
            waits[fed].discard(stage.key)
            if not waits[fed]:
                ready.append(stages[fed])
    if len(ready) < len(stages):
        circle = sorted(key for key, left in waits.items() if left)
        raise Refusal(
            f"stages {', '.join(circle)} take each other's pieces in a circle; "
            "correct the inputs of one of them"
        )
    return ready


def _value(roll: _Roll, stage: Stage) -> None:
    """Backwards: what the stage made is worth this; hand it to the pieces that it took."""
    scale = tax_scale(roll.trade.shop)
    rows = [
        _value_piece(roll, piece, scale.over, scale.under) for piece in roll.by_stage[stage.key]
    ]
    roll.valued[stage.key] = rows
    takes = [take for take in roll.flow.by_stage[stage.key] if take.source is Source.PIECE]
    if not takes or not roll.method.needs_prices:
        return
    spent = work_cost(stage, roll.trade.shop.work_per_hour)
    spent += sum(row.cost for row in roll.flow.ingredients[stage.key])
    made = Fraction(sum(row.credit_worth for row in rows))
    for row in rows:
        made += row.worth
    value = made - spent * GRAMS_PER_KILO * scale.under
    if value < 0:
        sentence = f"what {stage.key} made is worth less than its work and ingredients cost"
        roll.note("worth-floored", stage.key, f"{sentence}; its pieces count as worth nothing")
        value = Fraction(0)
    whole = sum(take.grams for take in takes)
    for take in takes:
        roll.consumed_worth[take.key] += _settled(value * take.grams / whole)


def _settled(worth: Fraction) -> Fraction:
    """An exact worth, unless a very long chain has made its denominator monstrous.

    Past 256 bits it goes to a grid of 2^-192, so that time stays proportional to pieces.
    """
    if worth.denominator < _LONGEST_DENOMINATOR:
        return worth
    return Fraction(round_half_up(worth.numerator * _GRID, worth.denominator), _GRID)


def _value_piece(roll: _Roll, piece: Piece, over: int, under: int) -> _Valued:
    cut = roll.cuts[piece.cut]
    takes = roll.flow.by_piece.get(piece.key)
    consumed = sum(take.grams for take in takes) if takes else 0
    rest = piece.gross_g - piece.tare_g - consumed
    price = roll.price_at(cut.key, piece.weighed_at)
    later = roll.consumed_worth.get(piece.key, 0) if takes else 0
    if roll.method is Method.WEIGHT:
        grams = consumed + (rest if cut.kind.bears_cost else 0)
        return _Valued(piece, cut, consumed, price, grams, 0, 0)
    if not cut.kind.bears_cost:
        credit = rest * cut.credit * under if cut.kind is CutKind.BYPRODUCT else 0
        return _Valued(piece, cut, consumed, price, later, later, credit)
    if price is None and rest:
        roll.unpriced[cut.key] = cut.name
    sales = rest * (price or 0) * over
    if roll.method is Method.SALES_VALUE:
        return _Valued(piece, cut, consumed, price, sales + later, sales + later, 0)
    net = sales - rest * cut.finish * under
    if net < 0:
        sentence = f"{cut.name} costs more to finish than it sells for; it is worth nothing here"
        roll.note("nrv-floored", piece.key, sentence)
        net = 0
    claim = sales if roll.method is Method.CONSTANT_MARGIN else net
    return _Valued(piece, cut, consumed, price, claim + later, net + later, 0)


def work_cost(stage: Stage, work_per_hour: int) -> int:
    """Minutes at the shop's hourly rate, half up to a minor unit."""
    over, under = (stage.minutes * work_per_hour).as_integer_ratio()
    return round_half_up(over, 60 * under)


def _cost(roll: _Roll, stage: Stage) -> tuple[StageCost, list[PieceCost]]:
    """Forwards: share the stage's money, and split each piece's cost by who took it."""
    rows = roll.valued[stage.key]
    takes = roll.flow.by_stage[stage.key]
    take_costs = [
        take.cost if take.source is Source.BODY else roll.piece_take_costs[take.key, stage.key]
        for take in takes
    ]
    added = roll.flow.ingredients[stage.key]
    ingredients = sum(row.cost for row in added)
    work = work_cost(stage, roll.trade.shop.work_per_hour)
    rests = [row.piece.net_g - row.consumed_g for row in rows]
    credits = [
        extend(row.cut.credit, rest) if row.cut.kind is CutKind.BYPRODUCT else 0
        for row, rest in zip(rows, rests, strict=True)
    ]
    finishes = [
        extend(row.cut.finish, rest) if row.cut.kind.bears_cost else 0
        for row, rest in zip(rows, rests, strict=True)
    ]
    joint = sum(take_costs) + ingredients + work - sum(credits)
    outputs = [
        Output(row.consumed_g + (rest if row.cut.kind.bears_cost else 0), row.claim, finish)
        for row, rest, finish in zip(rows, rests, finishes, strict=True)
    ]
    shares = share_joint_cost(joint, outputs, roll.method)
    _note_stage(roll, stage, shares.fell_back, shares.stranded)
    pieces = [
        PieceCost(
            row.piece, row.cut.kind, row.consumed_g, share, _pass_on(roll, row, share),
            finish, credit, row.price,
        )
        for row, share, finish, credit in zip(rows, shares.parts, finishes, credits, strict=True)
    ]  # fmt: skip
    cost = StageCost(
        stage=stage,
        takes=tuple(takes),
        take_costs=tuple(take_costs),
        ingredient_g=sum(row.grams or 0 for row in added),
        ingredient_cost=ingredients,
        work=work,
        credit=sum(credits),
        joint=joint,
        stranded=shares.stranded,
        output_g=sum(row.piece.net_g for row in rows),
        saleable_g=sum(row.piece.net_g for row in rows if row.cut.kind.bears_cost),
    )
    _note_balance(roll, cost)
    return cost, pieces


def _pass_on(roll: _Roll, row: _Valued, share: int) -> int:
    """Split a piece's share by grams among those who took of it; return what the rest keeps."""
    if not row.consumed_g:
        return share
    takes = roll.flow.by_piece[row.piece.key]
    rest = row.piece.net_g - row.consumed_g if row.cut.kind.bears_cost else 0
    parts = apportion(share, [take.grams for take in takes] + [rest])
    for take, part in zip(takes, parts, strict=False):
        roll.piece_take_costs[take.key, take.stage] = part
    return parts[-1]


def _note_stage(roll: _Roll, stage: Stage, fell_back: bool, stranded: int) -> None:
    if fell_back:
        sentence = f"nothing that {stage.key} made has a worth; its cost was shared by weight"
        roll.note("weight-fallback", stage.key, sentence)
    if stage.is_open:
        sentence = f"{stage.key} is still open: its cost per kilo falls as the rest is weighed"
        roll.note("open", stage.key, sentence)
    if stranded:
        amount = roll.trade.shop.currency.text(stranded)
        sentence = f"{stage.key} has nothing saleable to bear {amount}; it is shown as stranded"
        roll.note("stranded", stage.key, sentence)


def _note_balance(roll: _Roll, cost: StageCost) -> None:
    if cost.output_g > cost.input_g:
        over = kg_text(cost.output_g - cost.input_g)
        sentence = f"the pieces of {cost.stage.key} weigh {over} kg more than what went in"
        roll.note("overweight", cost.stage.key, f"{sentence}; look for a piece weighed twice")


def _finish(
    roll: _Roll, at: date | None, stages: list[StageCost], pieces: list[PieceCost]
) -> Costing:
    bodies = _body_costs(roll, stages)
    for body in bodies:
        if body.hang_loss_g < 0:
            gain = kg_text(-body.hang_loss_g)
            sentence = f"{body.body.key} weighs {gain} kg more than when it came; weigh it again"
            roll.note("regain", body.body.key, sentence)
    totals = Totals(
        bought=sum(body.body.bought for body in bodies),
        work=sum(stage.work for stage in stages),
        ingredients=sum(stage.ingredient_cost for stage in stages),
        credit=sum(stage.credit for stage in stages),
        finish=sum(piece.finish for piece in pieces),
        end_cost=sum(piece.rest_cost for piece in pieces),
        on_rail=sum(body.left_cost for body in bodies),
        stranded=sum(stage.stranded for stage in stages),
    )
    return Costing(
        roll.trade.shop, roll.method, at, roll.cuts, bodies, tuple(stages), tuple(pieces), totals,
        tuple(roll.notes),
    )  # fmt: skip


def _body_costs(roll: _Roll, stages: list[StageCost]) -> tuple[BodyCost, ...]:
    """What came off each body: a stage's figures go to its bodies by the grams it took of them."""
    sums: dict[str, list[int]] = defaultdict(lambda: [0, 0, 0, 0])
    for stage in stages:
        grams = [take.grams for take in stage.takes]
        if not any(take.source is Source.BODY for take in stage.takes):
            continue
        weights = [*grams, stage.ingredient_g]
        columns = (
            grams,
            apportion(stage.output_g, weights),
            apportion(stage.saleable_g, weights),
            apportion(stage.unexplained_g, weights),
        )
        for index, take in enumerate(stage.takes):
            if take.source is Source.BODY:
                for column, values in enumerate(columns):
                    sums[take.key][column] += values[index]
    return tuple(
        _body_cost(fate, sums[key])
        for key, fate in sorted(roll.flow.bodies.items(), key=lambda item: body_order(item[1].body))
    )


def _body_cost(fate: BodyFate, sums: list[int]) -> BodyCost:
    input_g, output_g, saleable_g, unexplained_g = sums
    return BodyCost(
        body=fate.body,
        input_g=input_g,
        output_g=output_g,
        saleable_g=saleable_g,
        unexplained_g=unexplained_g,
        hang_loss_g=fate.hang_loss_g,
        left_g=fate.left_g,
        left_cost=fate.left_cost,
    )
