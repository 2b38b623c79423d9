"""A second price on a ticket: per 100 g or per pound, rounded as the shop's country has it.

Sources (references, section 7.3): Northern Ireland, SR 2004/368 article 13: below one pound to the
nearest 0.1 p, five in the next place goes up (SEEN); Great Britain, Price Marking Order 2004
article 14: from one pound on to the nearest 1 p (MEMORY), the same below; Canada, STP-20: nearest
cent (SEEN). Elsewhere the nearest minor unit, a half up (common practice, no source). The pound is
0.453 592 37 kg exactly (international yard and pound agreement of 1959; from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from gambrel.domain.numbers.money import Currency, round_half_up

_HUNDRED_MILLIONTHS = {"100g": 10_000_000, "lb": 45_359_237}
"""Hundred-millionths of a kilogram in each."""

_TENTHS = frozenset({"GB"})
"""Where a unit price below one major unit keeps a tenth of the minor unit."""


class Per(StrEnum):
    """For how much a second price is."""

    HUNDRED_GRAMS = "100g"
    POUND = "lb"


@dataclass(frozen=True, slots=True)
class UnitPrice:
    """A price per unit; ``amount`` is minor units, with a tenth where the country wants one."""

    per: Per
    amount: Decimal

    @property
    def words(self) -> str:
        """``per 100 g`` or ``per lb``, with spaces that do not break."""
        return {
            Per.HUNDRED_GRAMS: "per\N{NO-BREAK SPACE}100\N{NO-BREAK SPACE}g",
            Per.POUND: "per\N{NO-BREAK SPACE}lb",
        }[self.per]


def unit_price(per_kilo: int, per: Per, currency: Currency, country: str) -> UnitPrice:
    """What a price per kilo (minor units) comes to for 100 g or for a pound.

    Args:
        per_kilo: Zero or more.
        per: The unit.
        currency: Whose minor units; what one major unit is.
        country: An ISO 3166 code, by which the rounding is chosen.
    """
    exact = per_kilo * _HUNDRED_MILLIONTHS[per]
    major = 10**currency.digits * 10**8
    if country.upper() in _TENTHS and currency.digits and exact < major:
        return UnitPrice(per, Decimal(round_half_up(exact * 10, 10**8)) / 10)
    return UnitPrice(per, Decimal(round_half_up(exact, 10**8)))
