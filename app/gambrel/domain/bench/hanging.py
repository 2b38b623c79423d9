"""What hangs on the rail at a moment of the past or present."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from gambrel.domain.costing.takes import settle
from gambrel.domain.trade.records import Body, Source, Trade, body_order


@dataclass(frozen=True, slots=True)
class Hanging:
    """A body, or what is left of it, with its weight and the money in it (minor units)."""

    body: Body
    left_g: int
    left_cost: int


def hanging_at(trade: Trade, moment: datetime) -> list[Hanging]:
    """The bodies that hung just before a moment, oldest first.

    A body weighs what it weighed last; what the air has taken since then nobody knows yet.
    """
    bodies = tuple(body for body in trade.bodies if body.received_at < moment)
    known = {body.key for body in bodies}
    stages = tuple(stage for stage in trade.stages if stage.started_at < moment)
    begun = {stage.key for stage in stages}
    past = Trade(
        trade.shop,
        bodies=bodies,
        reweighs=tuple(row for row in trade.reweighs if row.at < moment and row.body in known),
        stages=stages,
        inputs=tuple(
            row for row in trade.inputs if row.source is Source.BODY and row.stage in begun
        ),
    )
    fates = settle(past).bodies
    left = [Hanging(body, fates[body.key].left_g, fates[body.key].left_cost) for body in bodies]
    return sorted((row for row in left if row.left_g), key=lambda row: body_order(row.body))
