"""Money in whole minor units of the book's one currency, and what a weight costs."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal

from gambrel.domain.numbers.mass import GRAMS_PER_KILO

DEAREST_MINOR = 10**13
"""A bound that no shop reaches and that keeps every sum inside 64 bits."""

_DECIMAL = re.compile(r"-?\d{1,15}(?:\.\d{1,9})?", re.ASCII)


@dataclass(frozen=True, slots=True)
class Currency:
    """An ISO 4217 code with the number of decimals of its minor unit (AUD 2, JPY 0)."""

    code: str
    digits: int

    def parse(self, text: str) -> int:
        """Read an amount written in major units as minor units.

        Raises:
            ValueError: Not a number, more decimals than the currency has, or absurd.
        """
        cleaned = text.strip()
        if _DECIMAL.fullmatch(cleaned) is None:
            raise ValueError(f"{text!r} is not an amount; expected {self._example()}")
        amount = Decimal(cleaned).scaleb(self.digits)
        if amount != int(amount):
            raise ValueError(f"{text!r} has too many decimals; expected {self._example()}")
        if abs(amount) > DEAREST_MINOR:
            raise ValueError(f"{text!r} is more than any shop pays; expected {self._example()}")
        return int(amount)

    def text(self, minor: int) -> str:
        """Minor units as a plain decimal string: 81240 is ``"812.40"``."""
        sign, size = ("-", -minor) if minor < 0 else ("", minor)
        if not self.digits:
            return f"{sign}{size}"
        whole, part = divmod(size, 10**self.digits)
        return f"{sign}{whole}.{part:0{self.digits}d}"

    def _example(self) -> str:
        return f"{self.code} such as {self.text(12 * 10**self.digits + 10**self.digits // 2)}"


def round_half_up(numerator: int, denominator: int) -> int:
    """The whole number nearest to a fraction; a half goes away from zero.

    Args:
        numerator: Any whole number.
        denominator: One or more.
    """
    size = (2 * abs(numerator) + denominator) // (2 * denominator)
    return -size if numerator < 0 else size


def extend(per_kilo: int, grams: int) -> int:
    """What a weight comes to at a rate: minor units per kilogram times grams, half up to a unit.

    This is the one place where a rate meets a weight; a ticket's price, a finishing cost and a
    by-product's credit all come from here.
    """
    worth = per_kilo * grams
    if worth >= 0:  # as below, in one step: there is one for almost every piece of a book
        return (worth + GRAMS_PER_KILO // 2) // GRAMS_PER_KILO
    return round_half_up(worth, GRAMS_PER_KILO)


def per_kilo(minor: int, grams: int) -> Decimal:
    """A cost in minor units over a weight: minor units per kilogram, not rounded to a unit.

    Raises:
        ZeroDivisionError: No weight; a cost per kilo of nothing does not exist.
    """
    if not grams:
        raise ZeroDivisionError("a cost per kilo needs a weight")
    return Decimal(minor * GRAMS_PER_KILO) / Decimal(grams)
