"""Specials: what runs, what it was, and that it goes by itself."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.prices.specials import AFTER_SPECIAL, SPECIAL, special_at, specials_at
from gambrel.domain.trade.pricebook import PriceBook
from gambrel.domain.trade.records import PriceChange
from tests.trades import CUTS

RUMP = CUTS[0]
FRIDAY = datetime(2026, 11, 20, tzinfo=UTC)
DAY = timedelta(days=1)
WEEKEND = (
    PriceChange("rump", 2299, FRIDAY, SPECIAL),
    PriceChange("rump", 2699, FRIDAY + 3 * DAY, AFTER_SPECIAL),
)


def test_a_special_runs_from_friday_to_sunday_and_goes_by_itself() -> None:
    assert special_at(RUMP, WEEKEND, FRIDAY - timedelta(microseconds=1)) is None
    for at in (FRIDAY, FRIDAY + 3 * DAY - timedelta(microseconds=1)):
        found = special_at(RUMP, reversed(WEEKEND), at)
        assert found is not None
        assert (found.price, found.was, found.lowest) == (2299, 2699, 2699)
        assert (found.since, found.until) == (FRIDAY, FRIDAY + 3 * DAY)
        assert found.is_lower
    assert special_at(RUMP, WEEKEND, FRIDAY + 3 * DAY) is None


def test_only_the_closed_word_makes_a_special() -> None:
    plain = [replace(row, reason="special from Friday") for row in WEEKEND]
    assert special_at(RUMP, plain, FRIDAY) is None


def test_a_price_set_in_between_ends_it() -> None:
    ended = PriceChange("rump", 2499, FRIDAY + DAY, "sold too well")
    assert special_at(RUMP, (*WEEKEND, ended), FRIDAY + DAY) is None
    found = special_at(RUMP, (*WEEKEND, ended), FRIDAY)
    assert found is not None
    assert found.until == FRIDAY + DAY


def test_a_special_upon_a_special_is_one_reduction() -> None:
    deeper = PriceChange("rump", 1999, FRIDAY + DAY, SPECIAL)
    found = special_at(RUMP, (*WEEKEND, deeper), FRIDAY + DAY)
    assert found is not None
    assert (found.price, found.was, found.since) == (1999, 2699, FRIDAY)


def test_what_was_never_cheaper_is_no_reduction_and_no_price_is_no_was() -> None:
    dearer = special_at(RUMP, [PriceChange("rump", 2999, FRIDAY, SPECIAL)], FRIDAY)
    assert dearer is not None
    assert not dearer.is_lower
    assert dearer.until is None
    new = special_at(replace(RUMP, price=None), WEEKEND, FRIDAY)
    assert new is not None
    assert (new.was, new.lowest, new.is_lower) == (None, None, False)


@pytest.mark.parametrize(("days", "lowest"), [(31, 2599), (30, 2599), (29, 2399), (1, 2399)])
def test_the_prior_price_is_the_lowest_of_thirty_days(days: int, lowest: int) -> None:
    """Directive 98/6/EC, article 6a (from memory): a price that ended before does not count."""
    rows = (
        PriceChange("rump", 2399, FRIDAY - 60 * DAY),
        PriceChange("rump", 2599, FRIDAY - days * DAY),
        *WEEKEND,
    )
    found = special_at(RUMP, rows, FRIDAY)
    assert found is not None
    assert (found.was, found.lowest) == (2599, lowest)


moments = st.integers(0, 80).map(lambda hours: FRIDAY + timedelta(hours=hours))
rows = st.lists(
    st.builds(
        PriceChange,
        st.sampled_from(["rump", "shin"]),
        st.integers(1, 5000),
        moments,
        st.sampled_from([SPECIAL, AFTER_SPECIAL, "", "dearer"]),
    ),
    max_size=12,
    unique_by=lambda row: (row.cut, row.since),
)


@given(changes=rows, at=moments)
def test_a_special_is_what_the_price_book_says(changes: list[PriceChange], at: datetime) -> None:
    found = specials_at(CUTS, changes, at)
    book = PriceBook(CUTS, changes)
    for cut in CUTS:
        special = special_at(cut, changes, at)
        assert found.get(cut.key) == special
        if special is None:
            continue
        assert special.price == book.at(cut.key, at)
        before = book.at(cut.key, special.since - timedelta(microseconds=1))
        assert special.was == before
        if special.lowest is not None:
            assert before is not None
            assert special.lowest <= before
        assert special.until is None or special.since <= at < special.until
