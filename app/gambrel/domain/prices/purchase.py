"""What a body may cost for a margin to be met at prices that go no higher."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass, replace
from decimal import Decimal
from itertools import count

from gambrel.domain.costing.costing import Costing
from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.numbers.money import per_kilo
from gambrel.domain.trade.records import Body, PricedOn, Trade

STRAIGHT_TRIES = 6
"""After so many the search goes half way: only gifts among the bodies need more."""


@dataclass(frozen=True, slots=True)
class Purchase:
    """A purchase price per kilo (minor units, the mean where several bodies were bought).

    ``lowered`` is by how much less every kilo has to be bought.
    """

    today: Decimal
    lowered: int

    @property
    def price(self) -> Decimal:
        """The price at which the margin is met."""
        return self.today - self.lowered


def purchase_that_meets(
    trade: Trade,
    bodies: Collection[str],
    cost_of: Callable[[Costing], int],
    affordable: int,
    method: Method,
) -> Purchase | None:
    """By how little less some bodies have to be bought, so that a cost is at most what it may be.

    A cost falls as its bodies are bought for less, and every answer is looked at by costing the
    trade again, so that work, credits, shared blends and rounding all count as they do.

    Args:
        trade: All that bears on the cost.
        bodies: Whose price per kilo is lowered, all by the same.
        cost_of: The cost that matters, of a costing (minor units).
        affordable: The most that it may be.
        method: How joint cost is shared.
    Returns:
        The purchase, with ``lowered`` in whole minor units per kilo; None where not even a gift
        would do.
    """
    bought = [body for body in trade.bodies if body.key in bodies]
    if not bought:
        return None

    def cost_at(lowered: int) -> int:
        return cost_of(roll_up(_bought_for_less(trade, bodies, lowered), method))

    low, high = 0, max(body.price for body in bought)
    low_cost, high_cost = cost_at(low), cost_at(high)
    if low_cost <= affordable:
        return Purchase(_mean(bought), 0)
    if high_cost > affordable:
        return None
    for tries in count():
        if high - low <= 1:
            break
        # Where the line between the two crosses; half way, should bodies become gifts one by one.
        along = (high - low) * (low_cost - affordable) // (low_cost - high_cost)
        middle = low + (along if tries < STRAIGHT_TRIES else (high - low) // 2)
        middle = min(max(middle, low + 1), high - 1)
        if (found := cost_at(middle)) <= affordable:
            high, high_cost = middle, found
        else:
            low, low_cost = middle, found
    return Purchase(_mean(bought), high)


def _bought_for_less(trade: Trade, bodies: Collection[str], lowered: int) -> Trade:
    return replace(
        trade,
        bodies=tuple(
            replace(body, price=max(body.price - lowered, 0)) if body.key in bodies else body
            for body in trade.bodies
        ),
    )


def _mean(bought: list[Body]) -> Decimal:
    money = sum(body.bought - body.other_cost for body in bought)
    return per_kilo(money, sum(_priced_g(body) for body in bought))


def _priced_g(body: Body) -> int:
    on_docket = body.priced_on is PricedOn.DOCKET and body.docket_g is not None
    return (body.docket_g if on_docket else body.received_g) or 0
