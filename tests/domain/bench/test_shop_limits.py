"""The limits that a shop sets: their bounds hold at the edges, and nothing odd gets through."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.bench.shop_limits import (
    BLEND_STEP,
    HANG,
    SHOP_LIMITS,
    TRIM_AGE,
    WARMEST,
    ShopLimit,
)
from gambrel.domain.refusals import Refusal

LIMITS = st.sampled_from(SHOP_LIMITS)


def test_each_has_a_name_of_its_own_and_a_usual_value_within_its_bounds() -> None:
    assert len({each.setting for each in SHOP_LIMITS}) == len(SHOP_LIMITS)
    for each in SHOP_LIMITS:
        assert each.parse(str(each.usual)) == each.usual
        assert each.used.endswith(".")
        assert each.why.endswith(".")


@pytest.mark.parametrize("limit", SHOP_LIMITS, ids=lambda each: each.setting)
def test_both_bounds_may_be_typed_and_what_lies_outside_may_not(limit: ShopLimit) -> None:
    for edge in (limit.least, limit.most):
        assert limit.parse(str(edge)) == edge
    for outside in (limit.least - 1, limit.most + 1):
        with pytest.raises(Refusal, match=str(limit.most)):
            limit.parse(str(outside))


@pytest.mark.parametrize(
    "text",
    ["", " ", ".", ".5", "5.", "-1", "+3", "1e1", "NaN", "Infinity", "٣", "²", "1,5", "0x3", "7 "],
)
def test_what_is_no_plain_number_is_refused_and_counts_as_not_set(text: str) -> None:
    with pytest.raises(Refusal, match="0 to 15 °C"):
        WARMEST.parse(text)
    assert WARMEST.read(text) == 7
    assert WARMEST.own(text) is None


def test_decimals_are_those_of_the_limit() -> None:
    assert WARMEST.parse("4.5") == Decimal("4.5")
    with pytest.raises(Refusal, match="1 decimal"):
        WARMEST.parse("4.55")
    for limit in (TRIM_AGE, BLEND_STEP, HANG["beef"]):
        with pytest.raises(Refusal, match="no decimals"):
            limit.parse("5.5")


@given(LIMITS, st.integers(-5, 2000), st.integers(0, 99))
def test_what_may_be_set_is_read_back_and_nothing_else_is(
    limit: ShopLimit, whole: int, part: int
) -> None:
    text = f"{whole}.{part}" if limit.decimals and part < 10 else str(whole)
    number = Decimal(text)
    allowed = limit.least <= number <= limit.most
    assert (limit.own(text) == number) is allowed
    assert limit.read(text) == (number if allowed else limit.usual)


@given(LIMITS, st.text(max_size=12))
def test_whatever_a_book_holds_a_limit_stays_within_its_bounds(limit: ShopLimit, kept: str) -> None:
    assert limit.least <= limit.read(kept) <= limit.most
