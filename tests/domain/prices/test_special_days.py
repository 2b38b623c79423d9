"""Specials by business days: the cut-off hour, the change of the clocks, and what is refused."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.prices.planning import plan_price
from gambrel.domain.prices.schedule import Schedule, schedule_of
from gambrel.domain.prices.special_days import days_told, last_day, plan_special_days
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.catalogue import Cut, CutKind
from gambrel.domain.trade.clock import business_day, day_begins
from gambrel.domain.trade.records import PriceChange
from tests.trades import a_shop

MELBOURNE = ZoneInfo("Australia/Melbourne")
SHOP = replace(a_shop(), time_zone="Australia/Melbourne", day_starts=time(4))
RUMP = Cut("rump", "Rump", "beef", CutKind.TRAY, 2699)
PLAIN = schedule_of(RUMP, [])
WEDNESDAY = datetime(2026, 11, 25, 2, tzinfo=UTC)
FRIDAY, SUNDAY = date(2026, 11, 27), date(2026, 11, 29)


def special(schedule: Schedule, price: int = 2199, first: date = FRIDAY, last: date = SUNDAY,
            now: datetime = WEDNESDAY) -> Schedule:  # fmt: skip
    return plan_special_days(schedule, price, first, last, now, SHOP).after


def local(day: date, hour: int, minute: int = 0) -> datetime:
    return datetime(day.year, day.month, day.day, hour, minute, tzinfo=MELBOURNE).astimezone(UTC)


def test_from_friday_to_sunday_goes_by_the_shop_s_cut_off_hour() -> None:
    found = special(PLAIN)
    monday = SUNDAY + timedelta(days=1)
    # Before four in the morning it is still the day before.
    assert found.price_at(local(FRIDAY, 3, 59)) == 2699
    assert found.price_at(local(FRIDAY, 4)) == 2199
    assert found.price_at(local(monday, 3, 59)) == 2199
    assert found.price_at(local(monday, 4)) == 2699
    dated = found.special(WEDNESDAY)
    assert dated is not None
    assert last_day(dated, SHOP) == SUNDAY
    assert days_told(dated, SHOP) == "from Fri 27 Nov to Sun 29 Nov"


@pytest.mark.parametrize(
    ("first", "hours"),
    [
        (date(2026, 10, 2), 71),  # clocks go forward on Sunday 4 October 2026 in Victoria
        (date(2027, 4, 2), 73),  # and back on Sunday 4 April 2027
        (date(2026, 11, 27), 72),
    ],
)
def test_a_week_end_is_an_hour_shorter_or_longer_when_the_clocks_change(
    first: date, hours: int
) -> None:
    """Daylight saving dates of Victoria: the tz database, by zoneinfo."""
    last = first + timedelta(days=2)
    found = special(PLAIN, first=first, last=last, now=local(first - timedelta(days=3), 12))
    [dated] = found.specials()
    assert dated.until is not None
    assert dated.until - dated.since == timedelta(hours=hours)
    assert found.price_at(local(last + timedelta(days=1), 3, 59)) == 2199
    assert found.price_at(local(last + timedelta(days=1), 4)) == 2699


@given(st.integers(0, 500), st.integers(0, 20), st.integers(-60, 400))
def test_a_special_holds_on_its_business_days_and_no_other(
    ahead: int, length: int, look: int
) -> None:
    now = datetime(2026, 9, 20, tzinfo=UTC)
    first = business_day(now, SHOP) + timedelta(days=1 + ahead)
    last = first + timedelta(days=length)
    found = special(PLAIN, first=first, last=last, now=now)
    moment = day_begins(first, SHOP) + timedelta(hours=look)
    inside = first <= business_day(moment, SHOP) <= last
    assert found.price_at(moment) == (2199 if inside else 2699)


def test_one_that_begins_today_begins_now() -> None:
    today = business_day(WEDNESDAY, SHOP)
    found = special(PLAIN, first=today, last=today)
    assert found.price_at(WEDNESDAY - timedelta(seconds=1)) == 2699, "this morning is past"
    assert found.price_at(WEDNESDAY) == 2199


def test_it_returns_to_the_regular_price_that_is_to_come() -> None:
    coming = PriceChange("rump", 2899, local(date(2026, 11, 26), 4), "")
    found = special(schedule_of(RUMP, [coming]))
    assert found.price_at(local(date(2026, 11, 30), 4)) == 2899


@pytest.mark.parametrize(
    ("first", "last", "price", "said"),
    [
        (SUNDAY, FRIDAY, 2199, "end before it starts. Choose Sun 29 Nov"),
        (date(2026, 11, 24), FRIDAY, 2199, "Tue 24 Nov is over. A special can start today, Wed 25"),
        (FRIDAY, date(2027, 11, 29), 2199, "more than 92 days"),
        (FRIDAY, SUNDAY, 2699, "That is the regular price"),
    ],
)
def test_days_and_prices_that_cannot_be(first: date, last: date, price: int, said: str) -> None:
    with pytest.raises(Refusal, match=said):
        special(PLAIN, price, first, last)


@pytest.mark.parametrize(("first", "last"), [(25, 27), (28, 28), (29, 30), (26, 30)])
def test_specials_do_not_overlap(first: int, last: int) -> None:
    one = special(PLAIN)
    with pytest.raises(Refusal, match=r"on special from Fri 27 Nov to Sun 29 Nov\. End that one"):
        special(one, 1999, date(2026, 11, first), date(2026, 11, last))


def test_specials_may_follow_one_another_day_by_day() -> None:
    one = special(PLAIN)
    after = special(one, 1999, date(2026, 11, 30), date(2026, 11, 30))
    before = special(after, 2099, date(2026, 11, 26), date(2026, 11, 26))
    days = [date(2026, 11, 25), date(2026, 11, 26), FRIDAY, SUNDAY, date(2026, 11, 30)]
    assert [before.price_at(local(day, 12)) for day in days] == [2699, 2099, 2199, 2199, 1999]
    assert before.price_at(local(date(2026, 12, 1), 12)) == 2699
    told = [last_day(dated, SHOP) for dated in before.specials()]
    assert told == [date(2026, 11, 26), SUNDAY, date(2026, 11, 30)]


def test_a_price_that_is_to_come_within_the_days_stands_in_the_way() -> None:
    coming = PriceChange("rump", 2899, local(date(2026, 11, 28), 4), "")
    with pytest.raises(Refusal, match="another price on Sat 28 Nov"):
        special(schedule_of(RUMP, [coming]))


def test_a_return_that_was_replaced_is_still_told_by_its_day() -> None:
    changed = plan_price(special(PLAIN), 2899, local(SUNDAY, 12)).after
    dated = changed.special(local(SUNDAY, 13))
    assert dated is not None
    assert last_day(dated, SHOP) == SUNDAY
    with pytest.raises(Refusal, match="to Sun 29 Nov"):
        special(changed, 1999, SUNDAY, SUNDAY, local(SUNDAY, 13))
    monday = date(2026, 11, 30)
    later = special(changed, 1999, monday, monday, local(SUNDAY, 13))
    assert later.price_at(local(monday, 12)) == 1999
