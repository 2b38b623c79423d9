"""One body's part of a trade and of its costing.

The body, every stage that took of it directly or through pieces, and the pieces of those stages.
What such a stage took from outside comes in at its cost, so that the money still balances.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from gambrel.domain.costing.connected import connected_part
from gambrel.domain.costing.costing import BodyCost, Costing, PieceCost, StageCost, Totals
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.near import did_you_mean
from gambrel.domain.trade.records import Source, Trade


def part_of_body(trade: Trade, body: str) -> Trade:
    """The part of a trade that bears on one body's cost, so that the rest cannot stand in its way.

    Raises:
        Refusal: There is no such body.
    """
    keys = [each.key for each in trade.bodies]
    if body not in keys:
        guess = did_you_mean(body, keys)
        raise Refusal(
            f"There is no body {body!r} in this book{guess or '; cost without one names them'}"
        )
    for row in trade.inputs:
        if row.source is Source.BODY and row.key == body:
            return connected_part(trade, row.stage)
    return replace(
        trade,
        bodies=tuple(each for each in trade.bodies if each.key == body),
        reweighs=tuple(row for row in trade.reweighs if row.body == body),
        stages=(), inputs=(), pieces=(), voids=(), writeoffs=(),
    )  # fmt: skip


def scope_to_body(costing: Costing, body: str) -> Costing:
    """A costing cut down to one body.

    ``bodies`` holds that body alone; ``totals.bought`` is its cost and the cost of whatever else
    the stages took from outside, and ``totals.difference`` is still zero.

    Args:
        costing: Of a trade that holds the body and all that is connected with it.
        body: The body's key.
    """
    stages = _stages_of(costing, body)
    names = {stage.stage.key for stage in stages}
    pieces = [cost for cost in costing.pieces if cost.piece.stage in names]
    [whole] = [cost for cost in costing.bodies if cost.body.key == body]
    about = names | {body} | {cost.piece.key for cost in pieces}
    return replace(
        costing,
        bodies=(whole,),
        stages=tuple(stages),
        pieces=tuple(pieces),
        totals=_totals(whole, stages, pieces),
        notes=tuple(note for note in costing.notes if note.about in about),
    )


def _stages_of(costing: Costing, body: str) -> list[StageCost]:
    """Stages that took of the body or of its pieces; the costing's order has makers first."""
    made_by = {cost.piece.key: cost.piece.stage for cost in costing.pieces}
    reached: set[str] = set()
    found = []
    for stage in costing.stages:
        if any(
            take.key == body if take.source is Source.BODY else made_by[take.key] in reached
            for take in stage.takes
        ):
            reached.add(stage.stage.key)
            found.append(stage)
    return found


def _totals(body: BodyCost, stages: Iterable[StageCost], pieces: Iterable[PieceCost]) -> Totals:
    own = {cost.piece.key for cost in pieces}
    bought = body.body.bought
    for stage in stages:
        for take, cost in zip(stage.takes, stage.take_costs, strict=True):
            inside = take.key == body.body.key if take.source is Source.BODY else take.key in own
            bought += 0 if inside else cost
    return Totals(
        bought=bought,
        work=sum(stage.work for stage in stages),
        ingredients=sum(stage.ingredient_cost for stage in stages),
        credit=sum(stage.credit for stage in stages),
        finish=sum(cost.finish for cost in pieces),
        end_cost=sum(cost.rest_cost for cost in pieces),
        on_rail=body.left_cost,
        stranded=sum(stage.stranded for stage in stages),
    )
