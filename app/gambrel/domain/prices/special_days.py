"""A special by business days: which days it may have, and how they are told."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from gambrel.domain.prices.planning import Plan, plan_special
from gambrel.domain.prices.schedule import Dated, Schedule
from gambrel.domain.prices.specials import Special
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.catalogue import Shop
from gambrel.domain.trade.clock import business_day, day_begins
from gambrel.domain.trade.formats import near_day

LONGEST_DAYS = 92
"""A quarter of a year: longer is hardly meant (a bound of ours against a slip of the year)."""

_A_BREATH = timedelta(minutes=1)
"""A return that replaces another stands some microseconds after the day's first moment."""


def plan_special_days(
    schedule: Schedule, price: int, first: date, last: date, now: datetime, shop: Shop
) -> Plan:
    """A special over business days, both inclusive; it returns by itself when the last one ends.

    One that begins today begins now: what was sold this morning was sold at another price.

    Raises:
        Refusal: The days or the price cannot be, or something else is planned for them.
    """
    if (doubt := days_doubt(schedule, first, last, now, shop)) or (
        doubt := special_doubt(schedule, price, first, now, shop)
    ):
        raise Refusal(doubt)
    start = max(day_begins(first, shop), now)
    return plan_special(schedule, price, start, day_begins(last + timedelta(days=1), shop), now)


def days_doubt(schedule: Schedule, first: date, last: date, now: datetime, shop: Shop) -> str:
    """Why a special cannot have these days, as a sentence; empty where it can."""
    name, today = schedule.cut.name, business_day(now, shop)
    if last < first:
        return (
            f"The special would end before it starts. Choose {near_day(first)} or a later last day."
        )
    if first < today:
        return f"{near_day(first)} is over. A special can start today, {near_day(today)}, or later."
    if (last - first).days >= LONGEST_DAYS:
        return f"A special of more than {LONGEST_DAYS} days is a price. Set it as the regular one."
    begins, ends = day_begins(first, shop), day_begins(last + timedelta(days=1), shop)
    for other in schedule.specials():
        if other.since < ends - _A_BREATH and (
            other.until is None or other.until > max(begins, now) + _A_BREATH
        ):
            days = days_told(other, shop)
            return f"{name} is on special {days}. End that one first, or choose other days."
    for row in schedule.coming(now):
        if begins + _A_BREATH < row.since < ends - _A_BREATH:
            day = near_day(business_day(row.since, shop))
            return f"{name} gets another price on {day}. Choose days before it or from it on."
    return ""


def special_doubt(schedule: Schedule, price: int, first: date, now: datetime, shop: Shop) -> str:
    """Why a price cannot be that of a special, as a sentence; empty where it can."""
    regular = schedule.price_at(max(day_begins(first, shop), now) + _A_BREATH)
    if regular is None:
        return f"{schedule.cut.name} has no regular price to return to. Set its price first."
    if price == regular:
        return f"That is the regular price of {schedule.cut.name}. Type the price of the special."
    return ""


def last_day(special: Dated | Special, shop: Shop) -> date | None:
    """The last business day of a special; None where no end is set."""
    return None if special.until is None else business_day(special.until - _A_BREATH, shop)


def days_told(special: Dated, shop: Shop) -> str:
    """A special's days in words."""
    first, last = business_day(special.since, shop), last_day(special, shop)
    if last is None:
        return f"from {near_day(first)} on, with no end set"
    return (
        f"on {near_day(first)}" if first == last else f"from {near_day(first)} to {near_day(last)}"
    )
