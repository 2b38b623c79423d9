"""Review of what a shop sells and how it cuts: cuts and cutting lists."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from decimal import Decimal

from gambrel.domain.review.findings import CUT, Findings
from gambrel.domain.trade.catalogue import Cut, ListLine
from gambrel.domain.trade.records import PriceChange

LONGEST_LIFE = 36_500
"""Days: a hundred years, so that every use-by is a date (common practice, no source)."""

ROUNDING_ROOM = Decimal("0.5")
"""Norms are rounded line by line, so a whole list may pass 100 per cent by this much."""


def review_cuts(cuts: Sequence[Cut], found: Findings) -> None:
    """Prices and finishing are never negative, and a number (PLU) names one cut only."""
    by_plu: dict[str, str] = {}
    for cut in cuts:
        found.need_amount("cuts", cut, "price_per_kg", cut.price)
        found.need_amount("cuts", cut, "finish_per_kg", cut.finish)
        if cut.shelf_life_days is not None and not 0 <= cut.shelf_life_days <= LONGEST_LIFE:
            message = f"{cut.shelf_life_days} is no shelf life, expected 0 to {LONGEST_LIFE} days"
            found.refuse("cuts", cut, "shelf_life_days", message)
        plu = cut.plu.lstrip("0") or cut.plu
        if plu and by_plu.setdefault(plu, cut.key) != cut.key:
            message = f"{cut.plu!r} is also the number of {by_plu[plu]!r}, expected one of its own"
            found.refuse("cuts", cut, "plu", message)


def review_prices(prices: Sequence[PriceChange], found: Findings) -> None:
    """A price names a cut and is never negative."""
    for price in prices:
        found.need("prices", price, "cut", CUT, price.cut)
        found.need_amount("prices", price, "price_per_kg", price.price)


def review_lists(lines: Sequence[ListLine], found: Findings) -> None:
    """Every line names a cut; each list has every place and every cut once."""
    lists: dict[tuple[str, str, str], list[ListLine]] = defaultdict(list)
    for line in lines:
        found.need("cutting_lists", line, "cut", CUT, line.cut)
        if line.norm_percent is not None and not 0 <= line.norm_percent <= 100:
            message = f"{line.norm_percent} is not a yield, expected 0 to 100 per cent"
            found.refuse("cutting_lists", line, "norm_percent", message)
        if line.position < 1:
            message = f"{line.position} is not a place in a list, expected 1 or more"
            found.refuse("cutting_lists", line, "position", message)
        lists[line.list, line.species, line.portion].append(line)
    for each in lists.values():
        _review_places(each, found)
        _review_norms(each, found)


def _review_places(lines: Sequence[ListLine], found: Findings) -> None:
    placed: dict[int, str] = {}
    for line in lines:
        other = placed.setdefault(line.position, line.cut)
        if other != line.cut:
            message = (
                f"{line.position} is already the place of {other!r} in {line.list!r}, "
                "expected a place of its own"
            )
            found.refuse("cutting_lists", line, "position", message)


def _review_norms(lines: Sequence[ListLine], found: Findings) -> None:
    last = lines[-1]
    whole = sum((line.norm_percent or Decimal(0) for line in lines), Decimal(0))
    if whole > 100 + ROUNDING_ROOM:
        message = f"with it the norms of {last.list!r} add up to {whole}, expected at most 100"
        found.refuse("cutting_lists", last, "norm_percent", message)
