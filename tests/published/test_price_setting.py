"""Published margin and mark-up figures.

They come from ordinary web pages and are arithmetic checks, no more. Left out: the two break-even
examples (Penn State ACCTG 211, OpenStax); the program has no break-even.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.numbers.margins import (
    margin,
    margin_from_mark_up,
    mark_up,
    mark_up_from_margin,
    price_for_margin,
)
from tests.published.figures import prints_as

ALCULATOR = "alculator.io, SEEN"
APPLE = "discussions.apple.com 250542444, SEEN"


def test_the_same_price_two_ways() -> None:
    earned, on_cost = margin(Decimal(100), Decimal(75)), mark_up(Decimal(100), Decimal(75))
    assert earned is not None
    assert on_cost is not None
    assert prints_as(100 * earned, "25"), APPLE
    assert prints_as(100 * on_cost, "33.3"), APPLE
    assert mark_up(Decimal(60), Decimal(40)) == Decimal("0.5"), ALCULATOR


@pytest.mark.parametrize(
    ("on_cost", "earned"),
    [
        ("10", "9.09"),
        ("20", "16.67"),
        ("25", "20.00"),
        ("30", "23.08"),
        ("33.33", "25.00"),
        ("40", "28.57"),
        ("50", "33.33"),
        ("75", "42.86"),
        ("100", "50.00"),
    ],
)
def test_mark_up_to_margin(on_cost: str, earned: str) -> None:
    found = margin_from_mark_up(Decimal(on_cost) / 100)
    assert prints_as(100 * found, earned), ALCULATOR
    assert prints_as(100 * mark_up_from_margin(found), on_cost), ALCULATOR


@pytest.mark.parametrize(
    ("cost", "on_cost", "exact", "printed", "source"),
    [
        ("29.99", "0.25", "37.4875", "37.49", "power.one calculator notes, SEEN"),
        ("4.00", "0.25", "5", "5.00", "aaamath.com, SEEN"),
    ],
)
def test_price_from_a_mark_up(
    cost: str, on_cost: str, exact: str, printed: str, source: str
) -> None:
    price = price_for_margin(Decimal(cost), margin_from_mark_up(Decimal(on_cost)))
    assert price == Decimal(exact), source
    assert prints_as(price, printed), source
    assert mark_up(price, Decimal(cost)) == Decimal(on_cost)


def test_price_from_a_margin() -> None:
    """SEEN inputs, COMPUTED output: 70 at 40 % is 70 / 0.60 = 116.67."""
    assert prints_as(price_for_margin(Decimal(70), Decimal("0.40")), "116.67")


money = st.decimals(Decimal("0.01"), Decimal(9999), places=2)


@given(money, money)
def test_rates_on_cost_and_on_price(cost: Decimal, price: Decimal) -> None:
    """SEEN: Centennial College library guide: M / C and M / S, with M = S - C. In fractions."""
    earned, on_cost = margin(price, cost), mark_up(price, cost)
    assert earned is not None
    assert on_cost is not None
    gross = Fraction(price) - Fraction(cost)
    assert abs(Fraction(earned) - gross / Fraction(price)) < Fraction(1, 10**20)
    assert abs(Fraction(on_cost) - gross / Fraction(cost)) < Fraction(1, 10**20)
