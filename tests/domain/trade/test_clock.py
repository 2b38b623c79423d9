from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.trade.catalogue import Shop
from gambrel.domain.trade.clock import (
    business_day,
    day_begins,
    day_ends,
    trade_week,
    week_before,
    week_of,
)
from tests.trades import a_shop

NEW_YEAR = datetime(2020, 1, 1, tzinfo=UTC)
moments = st.integers(0, 15 * 365 * 24 * 60).map(lambda n: NEW_YEAR + timedelta(minutes=n))
shops = st.builds(
    a_shop,
    time_zone=st.sampled_from(["Australia/Melbourne", "Europe/Berlin", "America/New_York", "UTC"]),
    week_starts=st.integers(0, 6),
)


@given(moments, shops)
def test_every_moment_lies_in_its_own_day(moment: datetime, shop: Shop) -> None:
    day = business_day(moment, shop)
    assert day_begins(day, shop) <= moment <= day_ends(day, shop)


@given(moments, shops)
def test_every_day_lies_in_its_own_week_and_the_name_finds_it(moment: datetime, shop: Shop) -> None:
    day = business_day(moment, shop)
    week = week_of(day, shop)
    assert week.holds(day)
    assert trade_week(week.name, shop) == week
    assert week_before(week, shop).first == week.first - timedelta(days=7)


def test_before_the_cut_off_it_is_still_yesterday() -> None:
    shop = a_shop()
    assert business_day(datetime(2026, 11, 19, 16, 59, tzinfo=UTC), shop) == date(2026, 11, 19)
    assert business_day(datetime(2026, 11, 19, 17, 0, tzinfo=UTC), shop) == date(2026, 11, 20)


def test_an_iso_week_is_named_as_iso_8601_names_it() -> None:
    # ISO 8601: 2026 has 53 weeks; 2027-01-03 is a Sunday of 2026-W53.
    shop = a_shop()
    assert week_of(date(2027, 1, 3), shop).name == "2026-W53"
    assert trade_week("2026-W47", shop).first == date(2026, 11, 16)


@pytest.mark.parametrize("name", ["2026-W54", "2026-47", "W47", "", "2026-W00"])
def test_a_week_that_does_not_exist_is_refused(name: str) -> None:
    with pytest.raises(ValueError, match=r"expected for example 2026-W47"):
        trade_week(name, a_shop())
