"""The shop's own way of writing money, found once and passed to screens and papers."""

from __future__ import annotations

from gambrel.domain.trade.catalogue import Shop
from gambrel.domain.trade.formats import Formats

_AT_HOME = {
    "AUD": "$",
    "CAD": "$",
    "EUR": "\N{EURO SIGN}",
    "GBP": "\N{POUND SIGN}",
    "JPY": "\N{YEN SIGN}",
    "NZD": "$",
    "SGD": "$",
    "USD": "$",
}
"""Signs as they are written where the money is at home; the rest is asked of babel."""


def formats_for(shop: Shop) -> Formats:
    """How this shop writes its numbers.

    Babel is loaded only for a currency that is not in the short table, so that the window opens
    without it. A currency that has no sign of its own is written by its code.
    """
    code = shop.currency.code
    return Formats(shop.currency, _AT_HOME.get(code) or _asked_of_babel(code))


def _asked_of_babel(code: str) -> str:
    from babel.numbers import get_currency_symbol

    return str(get_currency_symbol(code, locale="en"))
