"""The roll-up over all stages: value runs back, money runs forward.

The rules are those of "Cost" in DEVELOPERS.md. Worth is kept as exact fractions, money as whole
minor units; both passes touch every piece once, so the time grows with the number of pieces.
"""

from __future__ import annotations

from collections import defaultdict
from datetime import date

from gambrel.domain.costing.backward import value_stage
from gambrel.domain.costing.costing import BodyCost, Costing, PieceCost, StageCost, Totals
from gambrel.domain.costing.forward import cost_stage
from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.order import stages_in_order
from gambrel.domain.costing.rates import Rates
from gambrel.domain.costing.roll import Roll
from gambrel.domain.costing.takes import BodyFate, settle
from gambrel.domain.numbers.apportion import apportion
from gambrel.domain.numbers.mass import kg_text
from gambrel.domain.refusals import Refusal, RowsRefused
from gambrel.domain.resting import collector_resting
from gambrel.domain.trade.records import Piece, Source, Trade, body_order


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
    with collector_resting():
        return _both_passes(trade, method, at)


def _both_passes(trade: Trade, method: Method, at: date | None) -> Costing:
    roll = _begin(trade, method, at)
    for stage in reversed(roll.order):
        value_stage(roll, stage)
    stages, pieces = [], []
    for stage in roll.order:
        cost, parts = cost_stage(roll, stage)
        stages.append(cost)
        pieces.extend(parts)
    if roll.unpriced:
        names = ", ".join(sorted(roll.unpriced.values()))
        raise Refusal(
            f"no price for {names}; give each a price in cuts.csv or the cabinet, "
            "or share the cost by weight"
        )
    return _finish(roll, at, stages, pieces)


def _begin(trade: Trade, method: Method, at: date | None) -> Roll:
    flow = settle(trade)
    if flow.problems:
        raise RowsRefused([f"{p.table} {' '.join(p.row)}: {p.message}" for p in flow.problems])
    by_stage: dict[str, list[Piece]] = defaultdict(list)
    for piece in trade.standing:
        by_stage[piece.stage].append(piece)
    cuts = {cut.key: cut for cut in trade.cuts}
    order = stages_in_order(trade, flow)
    return Roll(trade, method, flow, cuts, Rates(trade, method, at), by_stage, order)


def _finish(
    roll: Roll, at: date | None, stages: list[StageCost], pieces: list[PieceCost]
) -> Costing:
    bodies = _body_costs(roll, stages)
    for body in bodies:
        if body.hang_loss_g < 0:
            gain = kg_text(-body.hang_loss_g)
            sentence = f"{body.body.key} weighs {gain} kg more than when it came; weigh it again"
            roll.note("regain", body.body.key, sentence)
    finish = sum(piece.finish for piece in pieces)
    totals = Totals(
        bought=sum(body.body.bought for body in bodies),
        work=sum(stage.work for stage in stages),
        ingredients=sum(stage.ingredient_cost for stage in stages),
        credit=sum(stage.credit for stage in stages),
        finish=finish,
        end_cost=finish + sum(piece.rest_share for piece in pieces),
        on_rail=sum(body.left_cost for body in bodies),
        stranded=sum(stage.stranded for stage in stages),
    )
    return Costing(
        roll.trade.shop, roll.method, at, roll.cuts, bodies, tuple(stages), tuple(pieces), totals,
        roll.notes_in_order(),
    )  # fmt: skip


def _body_costs(roll: Roll, stages: list[StageCost]) -> tuple[BodyCost, ...]:
    """What came off each body: a stage's figures go to its bodies by the grams it took of them."""
    sums: dict[str, list[int]] = defaultdict(lambda: [0, 0, 0, 0])
    for stage in stages:
        bodies = [(n, take) for n, take in enumerate(stage.takes) if take.source is Source.BODY]
        if not bodies:
            continue
        weights = [take.grams for take in stage.takes]
        if stage.ingredient_g:
            weights.append(stage.ingredient_g)
        columns = (
            weights,
            apportion(stage.output_g, weights),
            apportion(stage.saleable_g, weights),
            apportion(stage.unexplained_g, weights),
        )
        for index, take in bodies:
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
