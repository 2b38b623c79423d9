"""The last day on which meat of a body may be sold, where a shop keeps such a limit by species."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.records import Trade

BODY_DAYS_SETTING = "body_days"
"""The name under which a shop keeps its limits, for example ``beef=35,lamb=14``."""

_LONGEST = 999


def read_body_days(kept: str) -> dict[str, int]:
    """Days by species, as a shop keeps them.

    Raises:
        Refusal: Not pairs of a species and a whole number of days.
    """
    found: dict[str, int] = {}
    for pair in filter(None, (part.strip() for part in kept.split(","))):
        species, mark, days = (part.strip() for part in pair.partition("="))
        sound = mark and species and days.isascii() and days.isdigit()
        if not sound or not 0 < int(days) <= _LONGEST:
            raise Refusal(
                f"{pair!r} is not a limit in days; write for example beef=35,lamb=14 with 1 to "
                f"{_LONGEST} days each."
            )
        found[species.lower()] = int(days)
    return found


def body_limits(trade: Trade, days: Mapping[str, int]) -> dict[str, date]:
    """The last day of every body of a species that has a limit.

    It counts from the day of slaughter, or from the business day of receipt where nobody wrote
    that down. Common practice, no source: what limit is right is for the shop to know.
    """
    return {
        body.key: (body.killed_on or business_day(body.received_at, trade.shop))
        + timedelta(days=days[body.species.lower()])
        for body in trade.bodies
        if body.species.lower() in days
    }
