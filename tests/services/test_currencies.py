from __future__ import annotations

import pytest
from babel.numbers import get_currency_precision

from gambrel.services.currencies import _in_use, find_currency

COINS_OUT_OF_USE = set("AFN ALL IQD IRR KPW LAK LBP MGA MMK RSD SOS SYP YER".split())  # noqa: SIM905
"""Where CLDR gives no decimals because there are no such coins; ISO 4217 still has them."""


@pytest.mark.parametrize(("code", "digits"), [("AUD", 2), ("EUR", 2), ("JPY", 0), ("KWD", 3)])
def test_a_currency_has_its_decimals(code: str, digits: int) -> None:
    assert find_currency(code).digits == digits


@pytest.mark.parametrize("code", ["aud", "AUS", "XXX", "XAU", "DEM", ""])
def test_what_is_no_money_today_is_refused(code: str) -> None:
    with pytest.raises(ValueError, match="ISO 4217"):
        find_currency(code)


def test_decimals_are_those_of_cldr_but_where_coins_went_out_of_use() -> None:
    differing = {c for c in _in_use() if find_currency(c).digits != get_currency_precision(c)}
    assert differing == COINS_OUT_OF_USE
