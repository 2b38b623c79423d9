from datetime import UTC, date, datetime, time
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.numbers.money import Currency
from gambrel.domain.trade.catalogue import Shop
from gambrel.domain.trade.clock import trade_week
from gambrel.domain.trade.formats import Formats, whole

DOLLARS = Formats(Currency("AUD", 2), "$")
YEN = Formats(Currency("JPY", 0), "¥")
DINAR = Formats(Currency("KWD", 3), "KWD")
SHOP = Shop(
    "Apron Street",
    Currency("AUD", 2),
    "Australia/Melbourne",
    time(4),
    0,
    3750,
    Decimal(0),
    False,
    Decimal(38),
)


@pytest.mark.parametrize(
    ("formats", "minor", "expected"),
    [
        (DOLLARS, 123450, "$1,234.50"),
        (DOLLARS, 5, "$0.05"),
        (DOLLARS, 0, "$0.00"),
        (DOLLARS, -123450, "−$1,234.50"),
        (DOLLARS, None, "—"),
        (YEN, 1234567, "¥1,234,567"),
        (YEN, -1, "−¥1"),
        (DINAR, 1234567, "KWD\u00a01,234.567"),
    ],
)
def test_money_is_grouped_signed_and_never_invented(
    formats: Formats, minor: int | None, expected: str
) -> None:
    assert formats.money(minor) == expected


def test_a_change_shows_its_sign_and_no_change_shows_none() -> None:
    assert DOLLARS.money(250, signed=True) == "+$2.50"
    assert DOLLARS.money(0, signed=True) == "$0.00"
    assert DOLLARS.kg(-1240, 2, signed=True) == "−1.24"
    assert DOLLARS.grams(490, signed=True) == "+490\u00a0g"
    assert DOLLARS.percent(Decimal("0.012"), signed=True) == "+1.2\u202f%"


@pytest.mark.parametrize(
    ("rate", "expected"),
    [
        (Decimal("1443.5"), "$14.44"),
        (Decimal("1443.499"), "$14.43"),
        (Decimal("-0.4"), "$0.00"),
        (Decimal("-0.5"), "−$0.01"),
        (1444, "$14.44"),
        (None, "—"),
    ],
)
def test_a_rate_is_rounded_half_up_to_a_minor_unit(
    rate: Decimal | int | None, expected: str
) -> None:
    assert DOLLARS.per_kilo(rate) == expected


@pytest.mark.parametrize(
    ("grams", "decimals", "expected"),
    [
        (4386, 3, "4.386"),
        (4386, 2, "4.39"),
        (4386, 1, "4.4"),
        (1234567, 1, "1,234.6"),
        (-4, 2, "0.00"),
        (-490, 3, "−0.490"),
        (82400, 0, "82"),
    ],
)
def test_kilograms(grams: int, decimals: int, expected: str) -> None:
    assert DOLLARS.kg(grams, decimals) == expected


@pytest.mark.parametrize(
    ("share", "decimals", "expected"),
    [
        (Decimal("0.465"), 1, "46.5\u202f%"),
        (Decimal("0.46450"), 1, "46.5\u202f%"),
        (Decimal("0.46449"), 1, "46.4\u202f%"),
        (Decimal("-0.0001"), 1, "0.0\u202f%"),
        (Decimal("-0.031"), 1, "−3.1\u202f%"),
        (Decimal("12.5"), 0, "1,250\u202f%"),
        (Decimal(1) / 3, 2, "33.33\u202f%"),
        (None, 1, "—"),
    ],
)
def test_per_cent(share: Decimal | None, decimals: int, expected: str) -> None:
    assert DOLLARS.percent(share, decimals) == expected


def test_days_weeks_and_the_shops_clock() -> None:
    assert DOLLARS.day(date(2026, 11, 20)) == "Fri 20 Nov 2026"
    assert DOLLARS.week(trade_week("2026-W47", SHOP)) == "16 Nov – 22 Nov 2026"
    assert DOLLARS.time(datetime(2026, 11, 19, 23, 42, tzinfo=UTC), SHOP) == "10:42"


@given(minor=st.integers(-(10**13), 10**13))
def test_money_reads_back_to_the_minor_unit(minor: int) -> None:
    plain = DOLLARS.money(minor).replace("−", "-").replace("$", "").replace(",", "")
    assert DOLLARS.currency.parse(plain) == minor


@given(number=st.decimals(-(10**9), 10**9, places=4))
def test_whole_is_never_more_than_half_away(number: Decimal) -> None:
    assert abs(whole(number) - number) <= Decimal("0.5")
    assert whole(-number) == -whole(number)


@pytest.mark.parametrize(
    ("minutes", "expected"),
    [
        (Decimal(25), "25\u00a0min"),
        (Decimal("0.4"), "0\u00a0min"),
        (60, "1\u00a0h\u00a000"),
        (Decimal("173.5"), "2\u00a0h\u00a054"),
    ],
)
def test_minutes_of_work(minutes: Decimal | int, expected: str) -> None:
    assert DOLLARS.minutes(minutes) == expected
