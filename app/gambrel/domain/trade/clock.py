"""Business days and trade weeks: pure arithmetic on moments that are given."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from gambrel.domain.trade.catalogue import Shop

_WEEK = re.compile(r"(\d{4})-W(\d{2})", re.ASCII)


def business_day(moment: datetime, shop: Shop) -> date:
    """The trade day of a moment: where the day starts at 04:00, 03:59 is still the day before."""
    local = moment.astimezone(ZoneInfo(shop.time_zone))
    return local.date() - timedelta(days=local.time() < shop.day_starts)


def day_begins(day: date, shop: Shop) -> datetime:
    """The first moment (UTC) of a business day."""
    return local_moment(day, shop.day_starts, shop)


def day_ends(day: date, shop: Shop) -> datetime:
    """The last moment (UTC, to the microsecond) of a business day."""
    return day_begins(day + timedelta(days=1), shop) - timedelta(microseconds=1)


def local_moment(day: date, at: time, shop: Shop) -> datetime:
    """A wall-clock time of the shop as a moment in UTC."""
    return datetime.combine(day, at, ZoneInfo(shop.time_zone)).astimezone(UTC)


@dataclass(frozen=True, slots=True, order=True)
class TradeWeek:
    """Seven business days, named as ISO 8601 names the week of its Monday (or its first day)."""

    first: date
    name: str

    @property
    def last(self) -> date:
        """The seventh day."""
        return self.first + timedelta(days=6)

    @property
    def days(self) -> tuple[date, ...]:
        """All seven days in order."""
        return tuple(self.first + timedelta(days=n) for n in range(7))

    def holds(self, day: date) -> bool:
        """Whether a business day is one of the seven."""
        return self.first <= day <= self.last


def trade_week(name: str, shop: Shop) -> TradeWeek:
    """The seven trade days called ``2026-W47``.

    They begin on the shop's first day of the week, on or before that ISO week's Monday.

    Raises:
        ValueError: Not the name of a week that exists.
    """
    match = _WEEK.fullmatch(name.strip())
    if match is None:
        raise ValueError(f"{name!r} is not a week; expected for example 2026-W47")
    try:
        monday = date.fromisocalendar(int(match[1]), int(match[2]), 1)
    except ValueError:
        raise ValueError(f"{name!r} does not exist; expected for example 2026-W47") from None
    back = (monday.weekday() - shop.week_starts) % 7
    return TradeWeek(monday - timedelta(days=back), name.strip())


def week_of(day: date, shop: Shop) -> TradeWeek:
    """The trade week that holds a business day."""
    first = day - timedelta(days=(day.weekday() - shop.week_starts) % 7)
    monday = first + timedelta(days=-first.weekday() % 7)
    year, week, _ = monday.isocalendar()
    return TradeWeek(first, f"{year}-W{week:02d}")


def week_before(week: TradeWeek, shop: Shop) -> TradeWeek:
    """The trade week before."""
    return week_of(week.first - timedelta(days=1), shop)
