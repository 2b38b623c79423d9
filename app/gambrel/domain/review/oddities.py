"""What is odd in a trade and yet can have happened: told as notes, never refused.

Two figures contradict each other here, and only a person knows which of them is wrong.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import datetime, timedelta
from decimal import Decimal
from typing import NamedTuple
from zoneinfo import ZoneInfo

from gambrel.domain.numbers.scales import agree
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.formats import Formats
from gambrel.domain.trade.records import Body, Piece, Reweigh, Stage, Trade, body_order
from gambrel.domain.trade.rows import RowKey, row_key

DOCKET_OFF = Decimal("0.05")
"""A docket that differs by more than this share is rather a slip of the pen than a short weight
(common practice, no source)."""

CLOCKS = timedelta(minutes=15)
"""So far the clocks of two stations may be apart (common practice, no source)."""

_MANY_ALIKE = "carton"
"""A portion of which many come on one docket at one printed weight."""


class Oddity(NamedTuple):
    """A row that contradicts another, and a sentence without its full stop."""

    table: str
    row: RowKey
    sentence: str


def oddities(trade: Trade, formats: Formats) -> list[Oddity]:
    """Everything in a trade that is possible and contradicts itself, by table.

    Args:
        trade: A whole book; what a row names need not be there.
        formats: How the shop writes weights and times.
    """
    teller = _Teller(trade, formats)
    return [
        *teller.dockets(),
        *teller.received_twice(),
        *teller.gains(),
        *teller.after_the_end(),
    ]


class _Teller:
    """Looks for each kind of contradiction in one trade."""

    def __init__(self, trade: Trade, formats: Formats) -> None:
        self._trade = trade
        self._formats = formats
        self._bodies = sorted(trade.bodies, key=body_order)
        self._suppliers = {supplier.key: supplier.name for supplier in trade.suppliers}
        self._cuts = {cut.key: cut.name for cut in trade.cuts}

    def dockets(self) -> Iterator[Oddity]:
        """Bodies whose docket and scale are so far apart that one of them must be wrong."""
        for body in self._bodies:
            docket, received = body.docket_g, body.received_g
            if not docket or abs(docket - received) <= DOCKET_OFF * docket:
                continue
            off = self._formats.percent(Decimal(abs(docket - received)) / docket)
            yield self._about_body(
                body,
                f"weighed {self._kg(received)} and its docket says {self._kg(docket)}, {off} off; "
                "one of the two may be wrong",
            )

    def received_twice(self) -> Iterator[Oddity]:
        """Bodies that came on the same docket as another one with its weight, or on another day."""
        groups: dict[tuple[str, str, str, str], list[Body]] = defaultdict(list)
        for body in self._bodies:
            if body.supplier_ref and body.portion != _MANY_ALIKE:
                key = (body.supplier, body.supplier_ref, body.species, body.portion)
                first = next((b for b in groups[key] if self._twice(b, body)), None)
                groups[key].append(body)
                if first is not None:
                    yield self._about_body(
                        body,
                        f"came on docket {body.supplier_ref}, as {first.key} did "
                        f"{self._when(first.received_at)}; it may be one {body.portion} received "
                        "twice",
                    )

    def _twice(self, first: Body, second: Body) -> bool:
        shop = self._trade.shop
        if business_day(first.received_at, shop) != business_day(second.received_at, shop):
            return True
        same_docket = first.docket_g is not None and first.docket_g == second.docket_g
        return same_docket or first.received_g == second.received_g

    def gains(self) -> Iterator[Oddity]:
        """Reweighs that are heavier than the weighing before."""
        before = {body.key: (body.received_g, body.received_at) for body in self._bodies}
        for reweigh in sorted(self._trade.reweighs, key=lambda row: row.at):
            last = before.get(reweigh.body)
            before[reweigh.body] = (reweigh.grams, reweigh.at)
            if last is not None and reweigh.grams > last[0] and not agree(reweigh.grams, last[0]):
                yield self._gain(reweigh, *last)

    def _gain(self, reweigh: Reweigh, grams: int, at: datetime) -> Oddity:
        sentence = (
            f"{reweigh.body} weighed {self._kg(reweigh.grams)} {self._when(reweigh.at)} and "
            f"{self._kg(grams)} {self._when(at)}; meat does not gain on the rail, so one of the "
            "two may be wrong"
        )
        return Oddity("reweighs", row_key(reweigh), sentence)

    def after_the_end(self) -> Iterator[Oddity]:
        """Stages of which pieces were weighed after they had ended; one sentence each."""
        late: dict[str, list[Piece]] = defaultdict(list)
        ended = {s.key: s.finished_at for s in self._trade.stages if s.finished_at is not None}
        for piece in self._trade.standing:
            end = ended.get(piece.stage)
            if end is not None and piece.weighed_at > end + CLOCKS:
                late[piece.stage].append(piece)
        for stage in self._trade.stages:
            if stage.finished_at is not None and stage.key in late:
                yield self._late(stage, stage.finished_at, late[stage.key])

    def _late(self, stage: Stage, ended: datetime, pieces: list[Piece]) -> Oddity:
        first = pieces[0]
        name = f"{first.key} ({self._cuts.get(first.cut, first.cut)})"
        others = f" and {len(pieces) - 1} more" if len(pieces) > 1 else ""
        verb = "were" if others else "was"
        sentence = (
            f"{stage.key} ended {self._when(ended)}, and {name}{others} {verb} weighed after it, "
            f"the first {self._when(first.weighed_at)}; one of the times may be wrong"
        )
        return Oddity("pieces", row_key(first), sentence)

    def _about_body(self, body: Body, what: str) -> Oddity:
        supplier = self._suppliers.get(body.supplier, body.supplier)
        name = f"{body.key} ({supplier})" if supplier else body.key
        return Oddity("bodies", row_key(body), f"{name} {what}")

    def _kg(self, grams: int) -> str:
        return f"{self._formats.kg(grams)} kg"

    def _when(self, moment: datetime) -> str:
        """The wall clock, with its own calendar day: after midnight it is already the next one."""
        shop = self._trade.shop
        day = self._formats.day(moment.astimezone(ZoneInfo(shop.time_zone)).date())
        return f"on {day} at {self._formats.time(moment, shop)}"
