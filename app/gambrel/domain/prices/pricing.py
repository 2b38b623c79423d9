"""Whole-body pricing: one factor on every cut's relative value, so that the body earns its margin.

The body has to earn the margin, not each cut: bone, fat and cutting loss are paid by what is
saleable. Some prices are pinned, others have floors and ceilings; the rest move together.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from math import lcm

from gambrel.domain.trade.tax import TaxScale

NO_TAX = TaxScale(1, 1)


class Hold(StrEnum):
    """What decided a proposed price."""

    FREE = "free"
    PIN = "pin"
    FLOOR = "floor"
    CEILING = "ceiling"


@dataclass(frozen=True, slots=True)
class PriceLine:
    """One cut to be priced. Prices are whole minor units per kilogram as the shop writes them.

    ``value`` is its relative value: today's price or any index above zero. ``sold`` is the share of
    ``grams`` that is really sold, 0 to 1. A pin leaves no choice and wins over the bounds.
    """

    cut: str
    grams: int
    value: int
    sold: Decimal = Decimal(1)
    pin: int | None = None
    floor: int | None = None
    ceiling: int | None = None

    def __post_init__(self) -> None:
        if self.grams < 0 or self.value < 0 or not 0 <= self.sold <= 1:
            raise ValueError(f"{self.cut}: grams, value and the share sold must not be negative")
        if self.floor is not None and self.ceiling is not None and self.floor > self.ceiling:
            raise ValueError(f"{self.cut}: the floor stands above the ceiling; lower the floor")

    @property
    def weight(self) -> Fraction:
        """Grams that bring money in."""
        return self.grams * Fraction(self.sold)

    def bound(self, factor: Fraction) -> int | None:
        """The pin, floor or ceiling that decides the price at a factor; None while it is free."""
        if self.pin is not None:
            return self.pin
        wished, under = factor.numerator * self.value, factor.denominator
        if self.floor is not None and wished < self.floor * under:
            return self.floor
        if self.ceiling is not None and wished > self.ceiling * under:
            return self.ceiling
        return None

    def price(self, factor: Fraction) -> Fraction:
        """The price at a factor, held by pin, floor and ceiling."""
        bound = self.bound(factor)
        return factor * self.value if bound is None else Fraction(bound)

    def held(self, factor: Fraction) -> Hold:
        """What decides the price at a factor."""
        if self.pin is not None or (self.floor is not None and self.floor == self.ceiling):
            return Hold.PIN
        wished = factor * self.value
        if self.floor is not None and wished <= self.floor:
            return Hold.FLOOR
        if self.ceiling is not None and wished >= self.ceiling:
            return Hold.CEILING
        return Hold.FREE


@dataclass(frozen=True, slots=True)
class Solution:
    """The factor that meets a target, or the nearest there is.

    ``needed`` and ``reached`` are takings before tax in gram-minor units per kilogram (divide by
    1000 for minor units); ``shortfall`` is above zero where no factor reaches, below zero where
    pins and floors alone already bring in more. ``holding`` names the cuts whose bounds hold it.
    """

    factor: Fraction
    needed: Fraction
    reached: Fraction
    holding: tuple[str, ...] = ()

    @property
    def shortfall(self) -> Fraction:
        """Takings that are missing (positive) or too many (negative)."""
        return self.needed - self.reached


def takings_needed(cost: int, target: Decimal) -> Fraction:
    """Takings before tax at which a cost (minor units) earns a margin, in gram-minor per kilo.

    Raises:
        ValueError: A margin of one or more.
    """
    if target >= 1:
        raise ValueError("a margin must be below 100 per cent; no price earns all of itself")
    return Fraction(cost * 1000) / (1 - Fraction(target))


def takings(
    lines: Sequence[PriceLine], prices: Sequence[Fraction | int], tax: TaxScale
) -> Fraction:
    """What the sold grams bring in before tax at given prices (gram-minor per kilo)."""
    gross = sum((line.weight * p for line, p in zip(lines, prices, strict=True)), Fraction(0))
    return gross * tax.over / tax.under


def solve_factor(
    lines: Sequence[PriceLine], cost: int, target: Decimal, tax: TaxScale = NO_TAX
) -> Solution:
    """Find the one factor λ that makes Σ w·q·p = C / (1 − m).

    Takings never fall as λ grows and are straight between the points where a bound starts or stops
    to hold, so the answer is exact: find the stretch that holds the target, then solve on it.

    Args:
        lines: What the body sells.
        cost: What it cost, finishing included (minor units).
        target: The margin wanted, as a share of one, below one.
        tax: How written prices become prices before tax.
    """
    needed = takings_needed(cost, target)
    reach = _Reach(lines, tax)
    at_zero = reach.at(Fraction(0))
    if at_zero >= needed:
        return Solution(Fraction(0), needed, at_zero, _holding(lines, Fraction(0)))
    bends = _bends(lines)
    # Takings never fall from bend to bend: the first that reaches the target is found by halving.
    index = bisect_left(bends, needed, key=reach.at)
    low = bends[index - 1] if index else Fraction(0)
    high = bends[index] if index < len(bends) else low + 1
    low_takings, high_takings = reach.at(low), reach.at(high)
    if low_takings == high_takings:
        return Solution(low, needed, low_takings, _holding(lines, low))
    factor = low + (high - low) * (needed - low_takings) / (high_takings - low_takings)
    return Solution(factor, needed, reach.at(factor))


class _Reach:
    """What lines bring in at a factor; in whole numbers, since it is asked many times."""

    def __init__(self, lines: Sequence[PriceLine], tax: TaxScale) -> None:
        weights = [line.weight for line in lines]
        scale = lcm(*(weight.denominator for weight in weights))
        self._lines = [
            (line, weight.numerator * (scale // weight.denominator))
            for line, weight in zip(lines, weights, strict=True)
        ]
        self._tax = Fraction(tax.over, tax.under * scale)

    def at(self, factor: Fraction) -> Fraction:
        """Takings before tax, gram-minor per kilo."""
        free = held = 0
        for line, weight in self._lines:
            bound = line.bound(factor)
            if bound is None:
                free += weight * line.value
            else:
                held += weight * bound
        return (free * factor + held) * self._tax


def _bends(lines: Sequence[PriceLine]) -> list[Fraction]:
    free = [line for line in lines if line.pin is None and line.value]
    bounds = [(b, line.value) for line in free for b in (line.floor, line.ceiling) if b is not None]
    return sorted({Fraction(bound, value) for bound, value in bounds})


def _holding(lines: Sequence[PriceLine], factor: Fraction) -> tuple[str, ...]:
    holds = (Hold.PIN, Hold.FLOOR if not factor else Hold.CEILING)
    return tuple(line.cut for line in lines if line.weight and line.held(factor) in holds)
