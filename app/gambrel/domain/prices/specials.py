"""Dated specials: a price that comes with the word ``special`` and goes with another row.

A special is two rows of a cut's prices: one whose reason is ``SPECIAL``, and later one whose reason
is ``AFTER_SPECIAL``, written at the same time with the price that returns. Any later row ends a
special, so that a price which somebody sets in between is never undone by surprise.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from gambrel.domain.prices.origin_lines import EUROPEAN_UNION
from gambrel.domain.trade.catalogue import Cut
from gambrel.domain.trade.records import PriceChange

SPECIAL = "special"
AFTER_SPECIAL = "after special"

PRIOR_DAYS = 30
"""How far back a prior price looks (Directive 98/6/EC, article 6a, paragraph 2: the lowest price
of a period not shorter than 30 days before the reduction; from memory)."""


@dataclass(frozen=True, slots=True)
class Special:
    """A special that runs: prices are minor units per kilo.

    ``was`` is what was asked just before, None where the cut had no price; ``lowest`` the least
    that was asked in the thirty days before, which some laws want as the prior price (information,
    not advice). ``until`` is the first moment at which it no longer holds, None if no end is set.
    """

    price: int
    was: int | None
    lowest: int | None
    since: datetime
    until: datetime | None

    @property
    def is_lower(self) -> bool:
        """Whether it is a reduction, so that a "was" says the truth."""
        return self.was is not None and self.price < self.was


def prior_price(special: Special, country: str) -> int | None:
    """The price that a ticket may call "was", or None where there is none to speak of.

    In the European Union it is the lowest of thirty days (Directive 98/6/EC, article 6a; from
    memory), elsewhere the one just before. Information, not advice.
    """
    prior = special.lowest if country.upper() in EUROPEAN_UNION else special.was
    return prior if prior is not None and prior > special.price else None


def special_at(cut: Cut, changes: Iterable[PriceChange], at: datetime) -> Special | None:
    """The special of a cut at a moment, or None where its price is an ordinary one.

    Args:
        cut: Its own price holds from the beginning.
        changes: Prices of this cut, and of others, in any order.
        at: An aware moment.
    """
    return _running(cut, _in_order(row for row in changes if row.cut == cut.key), at)


def specials_at(
    cuts: Iterable[Cut], changes: Iterable[PriceChange], at: datetime
) -> Mapping[str, Special]:
    """Every special that runs at a moment, by cut: ``special_at`` for a whole catalogue."""
    rows: dict[str, list[PriceChange]] = defaultdict(list)
    for row in changes:
        rows[row.cut].append(row)
    found = {cut.key: _running(cut, _in_order(rows[cut.key]), at) for cut in cuts}
    return {key: special for key, special in found.items() if special is not None}


def _in_order(rows: Iterable[PriceChange]) -> list[PriceChange]:
    return sorted(rows, key=lambda row: row.since)


def _running(cut: Cut, rows: list[PriceChange], at: datetime) -> Special | None:
    begun = [row for row in rows if row.since <= at]
    if not begun or begun[-1].reason != SPECIAL:
        return None
    first = len(begun) - 1
    while first and begun[first - 1].reason == SPECIAL:
        first -= 1
    # A special that follows on another is one reduction: what it was counts from before the first.
    before, since = begun[:first], begun[first].since
    was = before[-1].price if before else cut.price
    ahead = rows[len(begun) :]
    return Special(
        price=begun[-1].price,
        was=was,
        lowest=_lowest(cut, before, since),
        since=since,
        until=ahead[0].since if ahead else None,
    )


def _lowest(cut: Cut, before: list[PriceChange], since: datetime) -> int | None:
    """The least price in force at any time in the thirty days before a moment."""
    begins = since - timedelta(days=PRIOR_DAYS)
    asked: list[int | None] = [cut.price]
    for row in before:
        asked = [row.price] if row.since <= begins else [*asked, row.price]
    return min((price for price in asked if price is not None), default=None)
