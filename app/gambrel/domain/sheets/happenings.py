"""What else happened in a period: bodies that came in, weighings taken back, pieces thrown away."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from gambrel.domain.costing.ledger import Ledger, Period
from gambrel.domain.numbers.money import round_half_up
from gambrel.domain.trade.records import Body, body_order


@dataclass(frozen=True, slots=True)
class Arrival:
    """A body that was received, with its supplier's name."""

    body: Body
    supplier: str

    @property
    def short_g(self) -> int | None:
        """Grams that the docket promised and the scale did not find; None without a docket."""
        return None if self.body.docket_g is None else self.body.docket_g - self.body.received_g


@dataclass(frozen=True, slots=True)
class TakenBack:
    """A void: what was weighed, by whom it was taken back, and why."""

    piece: str
    cut: str
    net_g: int
    at: datetime
    person: str
    reason: str


@dataclass(frozen=True, slots=True)
class ThrownAway:
    """A write-off, with its part of the piece's cost in minor units."""

    piece: str
    cut: str
    grams: int
    cost: int
    at: datetime
    reason: str


def arrivals(ledger: Ledger, period: Period) -> list[Arrival]:
    """Bodies received in a period, in order."""
    received = (body for body in ledger.trade.bodies if period.holds(body.received_at))
    return [
        Arrival(body, ledger.supplier(body.supplier)) for body in sorted(received, key=body_order)
    ]


def taken_back(ledger: Ledger, period: Period) -> list[TakenBack]:
    """Voids of a period, in order."""
    voids = sorted(
        (void for void in ledger.trade.voids if period.holds(void.at)),
        key=lambda void: (void.at, void.piece),
    )
    wanted = {void.piece for void in voids}
    pieces = {piece.key: piece for piece in ledger.trade.pieces if piece.key in wanted}
    return [
        TakenBack(
            piece=void.piece,
            cut=ledger.cut_name(pieces[void.piece]),
            net_g=pieces[void.piece].net_g,
            at=void.at,
            person=void.person,
            reason=void.reason,
        )
        for void in voids
    ]


def thrown_away(ledger: Ledger, period: Period) -> list[ThrownAway]:
    """Write-offs of a period, in order. Each costs its part of what the piece cost."""
    rows = []
    for writeoff in sorted(ledger.trade.writeoffs, key=lambda row: (row.at, row.piece)):
        if not period.holds(writeoff.at):
            continue
        cost = ledger.pieces[writeoff.piece]
        share = round_half_up(cost.rest_cost * writeoff.grams, cost.rest_g) if cost.rest_g else 0
        name = ledger.cut_name(cost.piece)
        rows.append(
            ThrownAway(writeoff.piece, name, writeoff.grams, share, writeoff.at, writeoff.reason)
        )
    return rows
