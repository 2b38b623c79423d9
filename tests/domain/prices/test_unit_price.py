"""Second prices on tickets, rounded by published rules; each source stands beside its figure."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.numbers.money import Currency
from gambrel.domain.prices.unit_price import Per, unit_price

NI = "NI SR 2004/368 article 13: below one pound nearest 0.1 p, 5 in the next place up; SEEN"
GB = "Price Marking Order 2004 article 14: from one pound on nearest 1 p; MEMORY"
CANADA = "Measurement Canada STP-20: nearest cent; SEEN"
POUND = "0.453 592 37 kg, the international pound of 1959; MEMORY"
KG = Fraction(45_359_237, 100_000_000)


@pytest.mark.parametrize(
    ("price", "per", "code", "country", "amount", "source"),
    [
        (456, Per.HUNDRED_GRAMS, "GBP", "GB", "45.6", NI),
        (220, Per.POUND, "GBP", "GB", "99.8", NI),  # 99.790 p
        (1000, Per.HUNDRED_GRAMS, "GBP", "GB", "100", GB),
        (1005, Per.HUNDRED_GRAMS, "GBP", "GB", "101", GB),  # 100.5 p
        (1004, Per.HUNDRED_GRAMS, "GBP", "GB", "100", GB),
        (3299, Per.HUNDRED_GRAMS, "CAD", "CA", "330", CANADA),  # 329.9 c
        (454, Per.HUNDRED_GRAMS, "CAD", "CA", "45", CANADA),
        (455, Per.HUNDRED_GRAMS, "CAD", "CA", "46", CANADA),  # 45.5 c
        (3299, Per.POUND, "CAD", "CA", "1496", POUND),  # 1496.401 c
        (100_000_000, Per.POUND, "USD", "US", "45359237", POUND),
        (980, Per.HUNDRED_GRAMS, "JPY", "GB", "98", "a yen has no tenth"),
        (0, Per.POUND, "AUD", "", "0", "nothing stays nothing"),
    ],
)
def test_a_published_rule(
    price: int, per: Per, code: str, country: str, amount: str, source: str
) -> None:
    digits = 0 if code == "JPY" else 2
    found = unit_price(price, per, Currency(code, digits), country)
    assert found.amount == Decimal(amount), source


@given(price=st.integers(0, 10**7), per=st.sampled_from(Per), country=st.sampled_from(["GB", "AU"]))
def test_no_second_price_is_more_than_half_a_step_off(price: int, per: Per, country: str) -> None:
    exact = Fraction(price) * (Fraction(1, 10) if per is Per.HUNDRED_GRAMS else KG)
    found = unit_price(price, per, Currency("GBP", 2), country).amount
    step = Fraction(1, 10) if country == "GB" and exact < 100 else Fraction(1)
    assert abs(Fraction(found) - exact) <= step / 2
    assert Fraction(found) % step == 0
