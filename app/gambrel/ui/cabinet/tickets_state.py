"""What is said about tickets at the Cabinet. Pure: no Qt."""

from __future__ import annotations

from gambrel.domain.prices.cabinet import Cabinet
from gambrel.domain.trade.clock import business_day, week_of


def changed_this_week(cabinet: Cabinet) -> frozenset[str]:
    """Cuts whose price has changed since the trade week began: their tickets are old."""
    week = week_of(business_day(cabinet.at, cabinet.shop), cabinet.shop)
    return frozenset(
        line.cut.key
        for line in cabinet.lines
        for since, _price in line.history
        if since is not None and week.holds(business_day(since, cabinet.shop))
    )
