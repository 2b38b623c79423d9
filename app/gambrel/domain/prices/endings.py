"""From solved prices to prices that a shop writes: its endings, with the least money moved."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

MOST_BRANCHES = 50_000
"""Enough for sixty cuts to be settled exactly; past it the best found so far is taken."""


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
    ending below or above it; where bounds forbid so many that the takings fall short, others climb
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
        # Floats steer the search; the gains that must cover the shortfall are compared exactly.
        self._items = items
        self._extra = [float(item[2]) for item in items]
        self._ratio = [float(item[0]) for item in items]
        self._gain = [float(item[1]) for item in items]
        self._rest = self._sums([item[1] for item in items])
        self._best_cost = float("inf")
        self._best: list[int] = []
        self._branches = 0

    @staticmethod
    def _sums(gains: list[Fraction]) -> list[Fraction]:
        rest = [Fraction(0)]
        for gain in reversed(gains):
            rest.append(rest[-1] + gain)
        return rest[::-1]

    def best(self, short: Fraction) -> list[int]:
        self._walk(0, short, 0.0, [])
        return self._best

    def _walk(self, at: int, short: Fraction, cost: float, taken: list[int]) -> None:
        if short <= 0:
            if cost < self._best_cost:
                self._best_cost, self._best = cost, list(taken)
            return
        self._branches += 1
        hopeless = self._rest[at] < short or cost + self._bound(at, short) >= self._best_cost
        if hopeless or (self._branches > MOST_BRANCHES and self._best):
            return
        _, gain, _, index = self._items[at]
        taken.append(index)
        self._walk(at + 1, short - gain, cost + self._extra[at], taken)
        taken.pop()
        self._walk(at + 1, short, cost, taken)

    def _bound(self, at: int, short: Fraction) -> float:
        left, cost = float(short), 0.0
        for index in range(at, len(self._items)):
            if left <= 0:
                break
            part = min(left, self._gain[index])
            cost += part * self._ratio[index]
            left -= part
        return cost * (1 - 1e-12)


def _climb(
    wishes: Sequence[Wish], endings: Endings, written: list[int], goal: Fraction
) -> list[int]:
    """Where neighbours were not enough, raise further prices, the smallest step first."""
    while (short := goal - _takings(wishes, written)) > 0:
        steps = []
        for index, wish in enumerate(wishes):
            higher = endings.at_or_above(Fraction(written[index] + 1))
            if not wish.fixed and wish.weight and _allowed(wish, higher):
                step = wish.weight * (higher - written[index])
                steps.append((step < short, abs(step - short), index, higher))
        if not steps:
            return written
        _, _, index, higher = min(steps)
        written[index] = higher
    return written
