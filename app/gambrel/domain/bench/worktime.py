"""The work clock: it runs while pieces are weighed and stands still while nobody cuts. Pure."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import ROUND_HALF_UP, Decimal
from itertools import pairwise

PAUSE_AFTER = timedelta(minutes=10)
"""How long the clock goes on after a weighing when no other follows, unless the shop says
otherwise (common practice, no source)."""

_SECOND = timedelta(seconds=1)


@dataclass(frozen=True, slots=True)
class WorkClock:
    """The time worked so far, and whether the clock stands still."""

    worked: timedelta
    paused: bool

    @property
    def minutes(self) -> Decimal:
        """Whole minutes, a half up."""
        seconds = Decimal(self.worked // _SECOND)
        return (seconds / 60).quantize(Decimal(1), rounding=ROUND_HALF_UP)


def work_clock(moments: Iterable[datetime], now: datetime, pause_after: timedelta) -> WorkClock:
    """The clock of a stage.

    Args:
        moments: When the stage started and when each of its pieces was weighed, in any order.
        now: Until when to count; earlier than a moment, it counts as that moment.
        pause_after: Of every gap at most this much is work.
    """
    ticks = sorted(moments)
    if not ticks:
        return WorkClock(timedelta(0), paused=True)
    end = max(now, ticks[-1])
    return WorkClock(worked_time([*ticks, end], pause_after), paused=end - ticks[-1] >= pause_after)


def worked_time(moments: Iterable[datetime], pause_after: timedelta) -> timedelta:
    """The time from the first moment to the last, of every gap at most ``pause_after``."""
    gaps = (later - earlier for earlier, later in pairwise(sorted(moments)))
    return sum((min(gap, pause_after) for gap in gaps), timedelta(0))
