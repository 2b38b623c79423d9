import subprocess
import sys
from dataclasses import replace
from datetime import time
from decimal import Decimal

import pytest
from babel.numbers import get_currency_symbol

from gambrel.domain.numbers.money import Currency
from gambrel.domain.trade.catalogue import Shop
from gambrel.services.words import _AT_HOME, formats_for

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

HOMES = {
    "AUD": "en_AU",
    "CAD": "en_CA",
    "EUR": "en_IE",
    "GBP": "en_GB",
    "JPY": "en",
    "NZD": "en_NZ",
    "SGD": "en_SG",
    "USD": "en_US",
}


def test_the_short_table_says_what_babel_says_at_home() -> None:
    """A second source: the Unicode locale data that babel carries."""
    assert {code: get_currency_symbol(code, locale=home) for code, home in HOMES.items()} == (
        _AT_HOME
    )


@pytest.mark.parametrize(
    ("code", "digits", "written"),
    [
        ("AUD", 2, "$12.34"),
        ("INR", 2, "₹12.34"),
        ("CHF", 2, "CHF\u00a012.34"),
        ("KRW", 0, "₩1,234"),
    ],
)
def test_every_currency_has_a_sign_or_its_code(code: str, digits: int, written: str) -> None:
    shop = replace(SHOP, currency=Currency(code, digits))
    assert formats_for(shop).money(1234) == written


def test_a_common_currency_needs_no_babel() -> None:
    program = (
        "import sys, datetime, decimal as d\n"
        "from gambrel.domain.trade.catalogue import Shop\n"
        "from gambrel.domain.numbers.money import Currency\n"
        "from gambrel.services.words import formats_for\n"
        "shop = Shop('S', Currency('GBP', 2), 'Europe/London', datetime.time(4), 0, 0,"
        " d.Decimal(0), False, d.Decimal(0))\n"
        "print(formats_for(shop).symbol, 'babel' in sys.modules)\n"
    )
    done = subprocess.run(
        [sys.executable, "-X", "utf8", "-c", program], capture_output=True, text=True, check=True
    )
    assert done.stdout.split() == ["£", "False"]
