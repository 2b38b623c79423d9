"""What hangs on the rail now, and which of it must be broken first."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import Decimal

from gambrel.domain.costing.takes import BodyFate, Flow, settle
from gambrel.domain.numbers.apportion import apportion
from gambrel.domain.numbers.mass import kg_text
from gambrel.domain.numbers.money import per_kilo
from gambrel.domain.numbers.scales import SCALE_G, agree
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.records import Body, Source, Stage, Trade, body_order

HANG_DAYS: Mapping[str, int] = {
    "beef": 21,
    "beef carton": 42,
    "veal": 10,
    "lamb": 7,
    "mutton": 10,
    "goat": 7,
    "pork": 6,
    "pork carton": 21,
    "lamb carton": 42,
}
"""Days from slaughter by which a body should be broken, by species or species and portion.

Common practice, no source; a carton is vacuum packed. A shop sets its own (`hang_days_setting`).
"""

SOON_DAYS = 2
"""So many days before its date a body is due soon (common practice, no source)."""

FAST_LOSS = Decimal("0.08")
"""A share that no hang takes between two weighings (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class HangingBody:
    """A body that hangs, or lies on the block. Weights are grams, money minor units.

    ``weight_g`` hangs at its last weighing; ``on_block_g`` is what an open stage took of it and
    has not weighed yet. ``hang_share`` is of the received weight. ``days_left`` counts to
    ``break_by``, negative when it has passed; both are None where no limit is known.
    """

    body: Body
    supplier: str
    weight_g: int
    on_block_g: int
    hang_loss_g: int
    hang_share: Decimal
    days: int
    left_cost: int
    break_by: date | None
    days_left: int | None
    weighed_at: datetime
    stage: Stage | None

    @property
    def cost_per_kilo(self) -> Decimal | None:
        """Minor units per kilogram so far; None where nothing hangs any more."""
        return per_kilo(self.left_cost, self.weight_g) if self.weight_g else None


def hanging(
    trade: Trade, now: datetime, limits: Mapping[str, int] = HANG_DAYS
) -> list[HangingBody]:
    """The bodies on the rail, and those on the block that are not finished.

    What lies on the block stands first, since it is out of the cold; then what must be broken
    first, by date; then the oldest.

    Args:
        trade: The whole book.
        now: An aware moment.
        limits: Days from slaughter, as in `HANG_DAYS`.
    """
    flow = settle(trade)
    rows = _Rows(trade, flow, now, limits)
    fates = (fate for key, fate in flow.bodies.items() if fate.left_g or key in rows.stages)
    return sorted((rows.row(fate) for fate in fates), key=_first_to_break)


class _Rows:
    """Makes the row of a body from what happened to it and to others."""

    def __init__(self, trade: Trade, flow: Flow, now: datetime, limits: Mapping[str, int]) -> None:
        self._shop = trade.shop
        self._today = business_day(now, trade.shop)
        self._limits = limits
        self._names = {supplier.key: supplier.name for supplier in trade.suppliers}
        ordered = sorted(trade.reweighs, key=lambda row: row.at)
        self._weighed = {reweigh.body: reweigh.at for reweigh in ordered}
        self._on_block, self.stages = _on_block(trade, flow)

    def row(self, fate: BodyFate) -> HangingBody:
        body = fate.body
        received = business_day(body.received_at, self._shop)
        by = break_by(body, received, self._limits)
        return HangingBody(
            body=body,
            supplier=self._names.get(body.supplier, body.supplier),
            weight_g=fate.left_g,
            on_block_g=self._on_block.get(body.key, 0),
            hang_loss_g=fate.hang_loss_g,
            hang_share=Decimal(fate.hang_loss_g) / body.received_g,
            days=(self._today - received).days,
            left_cost=fate.left_cost,
            break_by=by,
            days_left=None if by is None else (by - self._today).days,
            weighed_at=self._weighed.get(body.key, body.received_at),
            stage=self.stages.get(body.key),
        )


def _first_to_break(row: HangingBody) -> tuple[object, ...]:
    return row.stage is None, row.break_by or date.max, *body_order(row.body)


def _on_block(trade: Trade, flow: Flow) -> tuple[dict[str, int], dict[str, Stage]]:
    """What open stages took of each body and still have to weigh, and which stages these are."""
    open_stages = [stage for stage in trade.stages if stage.is_open]
    weighed: dict[str, int] = defaultdict(int)
    if open_stages:
        for piece in trade.standing:
            weighed[piece.stage] += piece.net_g
    grams: dict[str, int] = defaultdict(int)
    stages: dict[str, Stage] = {}
    for stage in open_stages:
        takes = flow.by_stage.get(stage.key, [])
        bodies = [take for take in takes if take.source is Source.BODY]
        if not bodies:
            continue
        rest = max(sum(take.grams for take in takes) - weighed[stage.key], 0)
        parts = apportion(rest, [take.grams for take in takes])
        for take, part in zip(takes, parts, strict=True):
            if take.source is Source.BODY:
                grams[take.key] += part
                stages[take.key] = stage
    return grams, stages


def break_by(body: Body, received: date, limits: Mapping[str, int]) -> date | None:
    """The day by which a body should be broken; None where no limit is known for it.

    Counted from the day of slaughter, or from the business day of arrival where that is unknown.
    """
    days = limits.get(f"{body.species} {body.portion}", limits.get(body.species))
    if days is None:
        return None
    return (body.killed_on or received) + timedelta(days=days)


def day_words(days: int) -> str:
    """How long a body has hung; that it should come only yet means that the clock is behind."""
    return f"day {days}" if days >= 0 else "came later than this clock shows"


def hang_days_setting(kind: str) -> str:
    """The name under which a shop keeps its own days for a key of `HANG_DAYS`."""
    return f"hang-days:{kind}"


def reweigh_doubt(row: HangingBody, grams: int) -> str:
    """What is odd about a new weight, as a sentence; nothing where it may well be true."""
    before = row.weight_g
    if grams > before and not agree(grams, before):
        return (
            f"{kg_text(grams - before)} kg more than last time, and meat does not gain on the rail."
            " Weigh again, or keep it."
        )
    if before - grams > max(int(before * FAST_LOSS), SCALE_G):
        share = Decimal(100 * (before - grams)) / before
        return (
            f"{kg_text(before - grams)} kg ({share:.0f} %) less than last time. "
            "Weigh again, or keep it."
        )
    return ""
