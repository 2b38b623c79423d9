"""From solved prices to prices that a shop writes: its endings, with the least money moved."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate
from math import ceil, lcm

MOST_BRANCHES = 8_000
"""Enough for sixty cuts; past it the best found so far is taken."""

FEW = 14
"""Up to so many open choices the least is found to the last gram."""

NEAR = 500.0
"""With more of them the search ends half a minor unit of money from the least (gram-minor)."""


@dataclass(frozen=True, slots=True)
class Endings:
    """The last digits that a shop's prices may have: ``Endings(100, (99, 49))`` is .99 and .49.

    ``Endings(1, (0,))`` lets every minor unit stand.
    """

    modulus: int = 1
    residues: tuple[int, ...] = (0,)

    def __post_init__(self) -> None:
        known = self.residues and all(0 <= residue < self.modulus for residue in self.residues)
        if self.modulus < 1 or not known:
            raise ValueError("a price ending must be less than one unit; write .99 for 99 cents")

    def at_or_below(self, price: Fraction) -> int:
        """The dearest written price that is not above a solved one (may be negative)."""
        whole = price.numerator // price.denominator
        return max(whole - (whole - residue) % self.modulus for residue in self.residues)

    def at_or_above(self, price: Fraction) -> int:
        """The cheapest written price that is not below a solved one."""
        whole = -(-price.numerator // price.denominator)
        return min(whole + (residue - whole) % self.modulus for residue in self.residues)


@dataclass(frozen=True, slots=True)
class Wish:
    """A solved price to be written: ``weight`` grams are sold at it; bounds are minor units."""

    price: Fraction
    weight: Fraction
    fixed: bool = False
    floor: int = 1
    ceiling: int | None = None


def write_prices(
    wishes: Sequence[Wish], endings: Endings, needed: Fraction | None = None
) -> list[int]:
    """Give every price an ending so that the takings still hold, moving the least money.

    Money moved is the sum of sold grams times the change of each price. Each price goes to the
    ending below or above it, to within half a minor unit of the least money in all (exactly, where
    few prices have a choice); where bounds forbid so many that the takings fall short, others climb
    further, the cheapest step first.

    Args:
        wishes: Solved prices; a fixed one (a pin) is kept as it stands, to the unit.
        endings: What may be written.
        needed: Takings to hold; those of the solved prices where not given.
    Returns:
        Whole minor units, in the order given. They fall short of ``needed`` only where every
        price stands at its ceiling.
    """
    goal = sum((wish.weight * wish.price for wish in wishes), Fraction(0))
    goal = goal if needed is None else needed
    choices = [_choices(wish, endings) for wish in wishes]
    written = [low if _nearer_low(wish, low, high) else high
               for wish, (low, high) in zip(wishes, choices, strict=True)]  # fmt: skip
    short = goal - _takings(wishes, written)
    if short > 0:
        for index in _cheapest_flips(wishes, choices, written, short):
            written[index] = choices[index][1]
    return _climb(wishes, endings, written, goal)


def _choices(wish: Wish, endings: Endings) -> tuple[int, int]:
    if wish.fixed:
        own = wish.price.numerator // wish.price.denominator
        return own, own
    low, high = endings.at_or_below(wish.price), endings.at_or_above(wish.price)
    fits = [price for price in (low, high) if _allowed(wish, price)]
    if not fits:  # no ending between the bounds: the bound itself is written
        near = wish.floor if wish.price <= wish.floor else wish.ceiling
        near = endings.at_or_above(Fraction(wish.floor)) if near is None else near
        return near, near
    return fits[0], fits[-1]


def _allowed(wish: Wish, price: int) -> bool:
    return price >= wish.floor and (wish.ceiling is None or price <= wish.ceiling)


def _nearer_low(wish: Wish, low: int, high: int) -> bool:
    return abs(wish.price - low) <= abs(high - wish.price)


def _takings(wishes: Sequence[Wish], prices: Sequence[int]) -> Fraction:
    return sum((w.weight * price for w, price in zip(wishes, prices, strict=True)), Fraction(0))


def _cheapest_flips(
    wishes: Sequence[Wish],
    choices: Sequence[tuple[int, int]],
    written: Sequence[int],
    short: Fraction,
) -> list[int]:
    """Which lowered prices to raise instead: enough takings for the least extra money moved.

    A covering knapsack, settled by branch and bound; its bound is the fractional cover.
    """
    items = []
    for index, (wish, (low, high)) in enumerate(zip(wishes, choices, strict=True)):
        gain = wish.weight * (high - low)
        if written[index] == low and gain > 0:
            extra = wish.weight * (abs(high - wish.price) - abs(wish.price - low))
            items.append((extra / gain, gain, extra, index))
    items.sort()
    if sum((item[1] for item in items), Fraction(0)) <= short:
        return [item[3] for item in items]
    return _Cover(items).best(short)


class _Cover:
    """Branch and bound over (ratio, gain, extra, index) items sorted by ratio."""

    def __init__(self, items: list[tuple[Fraction, Fraction, Fraction, int]]) -> None:
        # Floats steer the search; the gains that must cover the shortfall are whole numbers.
        self._scale = lcm(*(item[1].denominator for item in items))
        self._gain = [int(item[1] * self._scale) for item in items]
        self._extra = [float(item[2]) for item in items]
        self._index = [item[3] for item in items]
        self._gains = [0, *accumulate(self._gain)]
        self._extras = [0.0, *accumulate(self._extra)]
        self._near = NEAR if len(items) > FEW else 0.0
        self._best_cost = float("inf")
        self._best: list[int] = []
        self._branches = 0

    def best(self, short: Fraction) -> list[int]:
        """The items that cover a shortfall, by their indexes."""
        self._walk(0, ceil(short * self._scale), 0.0, [])
        return [self._index[at] for at in self._best]

    def _walk(self, at: int, short: int, cost: float, taken: list[int]) -> None:
        if short <= 0:
            if cost < self._best_cost:
                self._best_cost, self._best = cost, list(taken)
            return
        self._branches += 1
        hopeless = self._gains[-1] - self._gains[at] < short
        if hopeless or cost + self._bound(at, short) >= self._best_cost - self._near:
            return
        if self._branches > MOST_BRANCHES and self._best:
            return
        taken.append(at)
        self._walk(at + 1, short - self._gain[at], cost + self._extra[at], taken)
        taken.pop()
        self._walk(at + 1, short, cost, taken)

    def _bound(self, at: int, short: int) -> float:
        """The least extra for which the rest could cover it, were items to be had in parts."""
        goal = self._gains[at] + short
        last = bisect_left(self._gains, goal, lo=at) - 1
        whole = self._extras[last] - self._extras[at]
        part = (goal - self._gains[last]) / self._gain[last] * self._extra[last]
        return (whole + part) * (1 - 1e-12)


def _climb(
    wishes: Sequence[Wish], endings: Endings, written: list[int], goal: Fraction
) -> list[int]:
    """Where neighbours were not enough, raise further prices, the smallest step that will do."""
    short = goal - _takings(wishes, written)
    while short > 0:
        steps = []
        for index, wish in enumerate(wishes):
            higher = endings.at_or_above(Fraction(written[index] + 1))
            if not wish.fixed and wish.weight and _allowed(wish, higher):
                step = wish.weight * (higher - written[index])
                steps.append((step < short, abs(step - short), index, higher))
        if not steps:
            return written
        too_small, _, index, higher = min(steps)
        if too_small:  # every step is: take as many whole ones at once as are needed and allowed
            higher = max(higher, _climbed(wishes[index], endings, written[index], short))
        short -= wishes[index].weight * (higher - written[index])
        written[index] = higher
    return written


def _climbed(wish: Wish, endings: Endings, price: int, short: Fraction) -> int:
    rounds = int(short / (wish.weight * endings.modulus))
    if wish.ceiling is not None:
        rounds = min(rounds, (wish.ceiling - price) // endings.modulus)
    return price + rounds * endings.modulus
