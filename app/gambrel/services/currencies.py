"""Which currencies there are, and how many decimals their amounts have."""

from __future__ import annotations

from functools import cache

from gambrel.domain.numbers.money import Currency
from gambrel.domain.trade.near import did_you_mean

_WITHOUT_DECIMALS = "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF"
_WITH_THREE = "BHD IQD JOD KWD LYD OMR TND"
_OTHERS = 2


def find_currency(code: str) -> Currency:
    """The currency of an ISO 4217 code, if it is money anywhere today.

    Codes come from babel (CLDR's list of legal tender); decimals are ISO 4217's minor units, from
    memory, because CLDR's own follow what coins are in use (no fillér, no para) and not the
    standard. Babel is loaded on the first call.

    Raises:
        ValueError: Not such a code; the message says what was expected.
    """
    known = _in_use()
    if code not in known:
        guess = did_you_mean(code, known)
        raise ValueError(f"{code!r} is not a currency, expected an ISO 4217 code like AUD{guess}")
    if code in _WITHOUT_DECIMALS:
        return Currency(code, 0)
    return Currency(code, 3 if code in _WITH_THREE else _OTHERS)


def currencies_like(text: str, most: int) -> list[tuple[str, str]]:
    """Codes that begin with a text, then those in whose English name a word does, with the names.

    Names come from babel (CLDR), which is loaded on the first call.
    """
    wanted = text.strip().casefold()
    if not wanted:
        return []
    names = _names()
    by_code = [code for code in names if code.casefold().startswith(wanted)]
    by_name = [
        code
        for code, name in names.items()
        if f" {wanted}" in f" {name.casefold()}" and code not in by_code
    ]
    return [(code, names[code]) for code in (*by_code, *by_name)][:most]


@cache
def _names() -> dict[str, str]:
    from babel.core import Locale

    known = Locale("en").currencies
    return {code: str(known.get(code, code)) for code in sorted(_in_use())}


@cache
def _in_use() -> frozenset[str]:
    from babel.core import get_global

    spans = get_global("territory_currencies").values()
    return frozenset(
        code for span in spans for code, _, until, tender in span if tender and until is None
    )
