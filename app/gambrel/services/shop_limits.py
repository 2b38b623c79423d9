"""What a shop sets itself: the limits that its screens use, and its country."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from gambrel.domain.bench.legal import COUNTRY_SETTING, country_code
from gambrel.domain.bench.rail import HANG_DAYS
from gambrel.domain.bench.shop_limits import SHOP_LIMITS, ShopLimit, Where
from gambrel.domain.prices.body_limits import BODY_DAYS_SETTING, read_body_days
from gambrel.domain.refusals import Refusal
from gambrel.services.books import Book
from gambrel.services.settings import Change, change_setting


def _body_days(species: str) -> ShopLimit:
    short = species.capitalize()
    return ShopLimit(
        f"{BODY_DAYS_SETTING}:{species}", Where.LABEL, f"{short} is sold within", short, "days",
        Decimal(0), 0, 999, 0,
        "No label of its meat has a later day, counted from slaughter; the tub marks it.",
        "",
        free=True,
    )  # fmt: skip


BODY_DAYS: Mapping[str, ShopLimit] = {
    species: _body_days(species) for species in HANG_DAYS if " " not in species
}
"""By species. The book keeps them together, under one name."""

ALL_LIMITS: tuple[ShopLimit, ...] = tuple(
    sorted((*SHOP_LIMITS, *BODY_DAYS.values()), key=lambda each: list(Where).index(each.where))
)
"""In the order of their places."""


@dataclass(frozen=True, slots=True)
class Own:
    """What the shop has set: numbers by the limit's setting; ``country`` is empty for none."""

    numbers: Mapping[str, Decimal]
    country: str = ""

    def value(self, limit: ShopLimit) -> Decimal:
        """What holds: the shop's own, else the usual."""
        return self.numbers.get(limit.setting, limit.usual)


def own_limits(book: Book) -> Own:
    """What the shop has set itself; a limit that is not there has its usual value."""
    with book.reading() as work:
        found = {each.setting: each.own(work.setting(each.setting)) for each in SHOP_LIMITS}
        days = _days(work.setting(BODY_DAYS_SETTING))
        country = work.setting(COUNTRY_SETTING) or ""
    own = {setting: number for setting, number in found.items() if number is not None}
    bodies = {BODY_DAYS[key].setting: Decimal(days[key]) for key in BODY_DAYS if key in days}
    return Own({**own, **bodies}, country)


def set_limit(book: Book, limit: ShopLimit, text: str) -> Change:
    """Set a limit; an empty text goes back to the usual.

    Raises:
        Refusal: The text is no such number, or the book may not be written.
    """
    value = str(limit.parse(text)) if text else ""
    species = next((key for key, each in BODY_DAYS.items() if each == limit), "")
    if not species:
        return change_setting(book, limit.setting, lambda _before: value)

    def edit(before: str) -> str:
        days = {**_days(before), species: int(value or 0)}
        return ",".join(f"{key}={days[key]}" for key in days if days[key])

    return change_setting(book, BODY_DAYS_SETTING, edit)


def _days(kept: str | None) -> dict[str, int]:
    """The days by species; what cannot be read counts as not set."""
    try:
        return read_body_days(kept or "")
    except Refusal:
        return {}


def set_country(book: Book, text: str) -> Change:
    """Set the shop's country by its ISO 3166 code; an empty text sets none.

    Raises:
        Refusal: There is no such country, or the book may not be written.
    """
    code = country_code(text)
    if code and not country_name(code):
        raise Refusal(f"There is no country {code}. Type its two letters, such as IE.")
    return change_setting(book, COUNTRY_SETTING, lambda _before: code)


def country_name(code: str) -> str:
    """A country's English name by its ISO 3166 code, empty where there is none.

    Names and codes come from babel (CLDR), which is loaded on the first call.
    """
    return _countries().get(code, "")


@cache
def _countries() -> Mapping[str, str]:
    from babel.core import Locale, get_global

    names = Locale("en").territories
    # Where CLDR knows a currency there is a country; codes of former ones have no name any more.
    money = get_global("territory_currencies")
    known = {str(code): str(name) for code, name in names.items()}
    return {code: known[code] for code in known if code in money and code not in _NO_COUNTRY}


_NO_COUNTRY = frozenset(
    {"AC", "CP", "CQ", "DG", "EA", "EU", "EZ", "IC", "QO", "TA", "UN", "XA", "XB", "ZZ"}
)
"""Unions, made-up codes, and codes that ISO 3166 only reserves (from memory)."""
