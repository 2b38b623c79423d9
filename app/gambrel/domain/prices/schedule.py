"""A cut's prices in time: what was asked, what is in force, and what is to come."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from gambrel.domain.prices.specials import SPECIAL
from gambrel.domain.trade.around import PriceWithdrawn
from gambrel.domain.trade.catalogue import Cut
from gambrel.domain.trade.records import PriceChange

MOMENT = timedelta(microseconds=1)


@dataclass(frozen=True, slots=True)
class Dated:
    """A special: its price per kilo (minor units), from when until when, and what comes after.

    ``until`` is the first moment at which it no longer holds; None, with ``returns``, where no end
    is set.
    """

    price: int
    since: datetime
    until: datetime | None
    returns: int | None


@dataclass(frozen=True, slots=True)
class Schedule:
    """Every price of one cut, by the moment from which it holds.

    ``rows`` stand, in order; ``taken`` are all moments that a new row may not have, those of
    withdrawn rows too.
    """

    cut: Cut
    rows: tuple[PriceChange, ...]
    taken: frozenset[datetime]

    def row_at(self, moment: datetime) -> PriceChange | None:
        """The row that decides the price at a moment; None while the cut's own price does."""
        index = bisect_right(self.rows, moment, key=lambda row: row.since)
        return self.rows[index - 1] if index else None

    def price_at(self, moment: datetime) -> int | None:
        """The price in force at a moment, minor units per kilogram."""
        row = self.row_at(moment)
        return self.cut.price if row is None else row.price

    def coming(self, now: datetime) -> tuple[PriceChange, ...]:
        """The rows that have not come into force."""
        return tuple(row for row in self.rows if row.since > now)

    def specials(self) -> list[Dated]:
        """Every special that there was, is or will be, in order."""
        found = []
        for number, row in enumerate(self.rows):
            if row.reason == SPECIAL:
                end = self.rows[number + 1] if number + 1 < len(self.rows) else None
                until, returns = (end.since, end.price) if end else (None, None)
                found.append(Dated(row.price, row.since, until, returns))
        return found

    def special(self, now: datetime) -> Dated | None:
        """The special that runs, or else the next one to come."""
        return next((s for s in self.specials() if s.until is None or s.until > now), None)

    def runs(self, now: datetime) -> bool:
        """Whether the price in force is a special."""
        row = self.row_at(now)
        return row is not None and row.reason == SPECIAL

    def free_from(self, moment: datetime) -> datetime:
        """The first moment from this one on at which a row may be written."""
        while moment in self.taken:
            moment += MOMENT
        return moment

    def free_before(self, moment: datetime) -> datetime:
        """The last moment before this one at which a row may be written."""
        moment -= MOMENT
        while moment in self.taken:
            moment -= MOMENT
        return moment


def schedule_of(
    cut: Cut, changes: Iterable[PriceChange], withdrawn: Iterable[PriceWithdrawn] = ()
) -> Schedule:
    """A cut's schedule out of the rows that stand, of any cuts, and those that were withdrawn."""
    rows = sorted((r for r in changes if r.cut == cut.key), key=lambda row: row.since)
    gone = [row.since for row in withdrawn if row.cut == cut.key]
    return Schedule(cut, tuple(rows), frozenset([*(row.since for row in rows), *gone]))
