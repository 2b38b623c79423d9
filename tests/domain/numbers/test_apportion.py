from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.numbers.apportion import UnsplittableError, apportion, whole_weights

weights = st.lists(st.integers(0, 10**12), min_size=1, max_size=30).filter(any)
totals = st.integers(-(10**13), 10**13)


@given(totals, weights)
def test_nothing_appears_or_vanishes(total: int, shares: list[int]) -> None:
    assert sum(apportion(total, shares)) == total


@given(totals, weights)
def test_every_part_is_fair_to_one_unit(total: int, shares: list[int]) -> None:
    whole = sum(shares)
    for part, share in zip(apportion(total, shares), shares, strict=True):
        assert abs(part * whole - total * share) < whole


@given(totals, weights, st.integers(2, 1000))
def test_only_the_proportion_counts(total: int, shares: list[int], factor: int) -> None:
    assert apportion(total, shares) == apportion(total, [share * factor for share in shares])


@given(totals, weights)
def test_nothing_is_given_for_no_claim(total: int, shares: list[int]) -> None:
    parts = apportion(total, shares)
    assert all(part == 0 for part, share in zip(parts, shares, strict=True) if share == 0)


def test_equal_remainders_go_to_the_earlier_part() -> None:
    assert apportion(100, [1, 1, 1]) == [34, 33, 33]
    assert apportion(-100, [1, 1, 1]) == [-34, -33, -33]


def test_the_largest_remainder_goes_first() -> None:
    assert apportion(10, [6, 5, 3]) == [4, 4, 2]


@pytest.mark.parametrize("shares", [[], [0, 0], [3, -1]])
def test_what_cannot_be_shared_is_refused(shares: list[int]) -> None:
    with pytest.raises(UnsplittableError):
        apportion(100, shares)


@given(st.lists(st.fractions(0, 1000), min_size=1, max_size=8).filter(any))
def test_fractions_keep_their_proportion_as_whole_numbers(parts: list[Fraction]) -> None:
    whole = whole_weights(parts)
    total = sum(parts)
    for number, part in zip(whole, parts, strict=True):
        assert Fraction(number, sum(whole)) == part / total
