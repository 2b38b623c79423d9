"""Published rules for rounding a price, against the one place where a rate meets a weight.

A price per kilo is set by the shop in whole pence. The rules for a price that is computed from it
(per 100 g, per pound) are in tests/domain/prices/test_unit_price.py.
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.numbers.money import Currency, extend
from gambrel.domain.trade.formats import Formats

CANADA = "Measurement Canada STP-20: a computed price is rounded to the nearest cent; SEEN"
UK = "Price Marking Order 2004, article 14: above one pound to the nearest 1 p; MEMORY"
HALF = "common practice, no source: a half goes up, as in the rule for tenths of a penny"


@pytest.mark.parametrize(
    ("price", "grams", "expected", "source"),
    [
        (1099, 455, 500, CANADA),  # 5.000 45
        (1299, 333, 433, CANADA),  # 4.325 67
        (2699, 137, 370, CANADA),  # 3.697 63
        (1000, 1, 1, CANADA),
        (999, 500, 500, HALF),  # 4.995
        (1, 500, 1, HALF),  # 0.5 of a cent
        (1, 499, 0, CANADA),
    ],
)
def test_a_computed_price_is_the_nearest_cent(
    price: int, grams: int, expected: int, source: str
) -> None:
    assert extend(price, grams) == expected, source


@given(price=st.integers(0, 10**6), grams=st.integers(0, 10**6))
def test_no_computed_price_is_more_than_half_a_cent_off(price: int, grams: int) -> None:
    exact = Fraction(price * grams, 1000)
    found = extend(price, grams)
    assert abs(found - exact) <= Fraction(1, 2)
    # A second source for the half: the decimal module of Python.
    by_decimal = (Decimal(price * grams) / 1000).quantize(Decimal(1), ROUND_HALF_UP)
    assert found == int(by_decimal)


@pytest.mark.parametrize(
    ("pence", "written"),
    [("149.5", "£1.50"), ("149.49", "£1.49"), ("1443.5", "£14.44"), ("100", "£1.00")],
)
def test_a_unit_price_above_a_pound_is_the_nearest_penny(pence: str, written: str) -> None:
    assert Formats(Currency("GBP", 2), "£").per_kilo(Decimal(pence)) == written, UK
