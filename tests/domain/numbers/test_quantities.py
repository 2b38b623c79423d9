from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.numbers.mass import HEAVIEST_G, kg_text, parse_kg
from gambrel.domain.numbers.money import Currency, extend, per_kilo, round_half_up

AUD, JPY, KWD = Currency("AUD", 2), Currency("JPY", 0), Currency("KWD", 3)


@given(st.integers(0, HEAVIEST_G))
def test_a_weight_survives_being_written(grams: int) -> None:
    assert parse_kg(kg_text(grams)) == grams


@pytest.mark.parametrize(
    ("text", "grams"), [("4.386", 4386), ("82", 82_000), (" 0.05 ", 50), ("0", 0)]
)
def test_kilograms_are_read_to_the_gram(text: str, grams: int) -> None:
    assert parse_kg(text) == grams


@pytest.mark.parametrize(
    "text",
    ["", "nan", "inf", "-1", "1e3", "4,386", "1.2345", "10000.001", "4 .1", "٤", "0x10", "+1", "."],
)
def test_what_is_no_weight_is_refused_with_a_sentence(text: str) -> None:
    with pytest.raises(ValueError, match="expected"):
        parse_kg(text)


@given(st.integers(-(10**9), 10**9), st.integers(0, 2))
def test_fewer_decimals_round_half_up(grams: int, decimals: int) -> None:
    step = Decimal(1).scaleb(-decimals)
    wanted = (Decimal(grams) / 1000).quantize(step, ROUND_HALF_UP)
    assert Decimal(kg_text(grams, decimals)) == wanted
    assert not kg_text(grams, decimals).startswith("-0.") or wanted != 0


@given(st.sampled_from([AUD, JPY, KWD]), st.integers(-(10**12), 10**12))
def test_an_amount_survives_being_written(currency: Currency, minor: int) -> None:
    assert currency.parse(currency.text(minor)) == minor


@pytest.mark.parametrize(
    "text", ["", "NaN", "Infinity", "1e3", "12.345", "1,000", "AUD 5", "9" * 16]
)
def test_what_is_no_amount_is_refused_with_a_sentence(text: str) -> None:
    with pytest.raises(ValueError, match=r"expected AUD such as 12\.50"):
        AUD.parse(text)


def test_decimals_follow_the_currency() -> None:
    assert (AUD.text(-5), JPY.text(1200), KWD.text(1)) == ("-0.05", "1200", "0.001")
    assert (AUD.parse("812.4"), JPY.parse("1200"), KWD.parse("0.001")) == (81240, 1200, 1)


@given(st.integers(-(10**6), 10**6), st.integers(0, HEAVIEST_G))
def test_a_rate_meets_a_weight_half_up(rate: int, grams: int) -> None:
    exact = Decimal(rate) * grams / 1000
    assert extend(rate, grams) == exact.quantize(Decimal(1), ROUND_HALF_UP)


@given(st.integers(-(10**12), 10**12), st.integers(1, 10**9))
def test_halves_go_away_from_zero(numerator: int, denominator: int) -> None:
    rounded = round_half_up(numerator, denominator)
    assert abs(numerator - rounded * denominator) * 2 <= denominator
    assert round_half_up(-numerator, denominator) == -rounded


def test_a_cost_per_kilo_of_nothing_does_not_exist() -> None:
    assert per_kilo(6333, 4386).quantize(Decimal("0.01")) == Decimal("1443.91")
    with pytest.raises(ZeroDivisionError):
        per_kilo(100, 0)
