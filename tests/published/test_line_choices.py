"""Published "sell at split-off or process further" problems, by `compare`.

A unit of the source (pound, gallon, cup) stands for 100 g, so that a quarter's output is a weight
that something in a shop could have. What going on costs is either finishing or minutes of work.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

import pytest

from gambrel.domain.bench.choice import Choice, Made, Way, compare
from gambrel.domain.trade.catalogue import Cut, CutKind
from tests.published.figures import FINE, fine, plain
from tests.trades import a_shop

UNIT_G = 100
UNITS_A_KILO = 1000 // UNIT_G
SHOP = a_shop(currency=FINE, work_per_hour=fine("60"))
"""One of money a minute, so that a sum of money is also so many minutes."""


@dataclass(frozen=True)
class Problem:
    """Units, price at split-off, price after going on, what that costs, and what is printed."""

    name: str
    units: int
    now: str
    later: str
    cost: str
    revenue: str
    gain: str


QUARTER = [
    # SEEN: wizedu.com question 633569; pounds and a gallon, joint cost 95,000 (sunk).
    Problem("A", 18_000, "3", "5", "40000", "36000", "-4000"),
    Problem("B", 23_000, "4", "7", "40000", "69000", "29000"),
    Problem("C", 5_000, "12", "15", "11250", "15000", "3750"),
    # SEEN: partnerperformance.uonbi.ac.ke, question 16547347.
    Problem("D", 4_540, "10.30", "14.90", "14824", "20884", "6060"),
    Problem("E", 6_410, "11.40", "15.80", "20554", "28204", "7650"),
    Problem("F", 1_750, "19.80", "22.20", "7520", "4200", "-3320"),
    # Inputs SEEN: vaia.com, Cost Accounting 14e ch. 16 problem 30 (18,000 lb of butter at 2.20, or
    # spread, two tubs a pound at 2.30, costs of 1.60 a pound); outputs COMPUTED: 82,800 - 39,600
    # and less 28,800.
    Problem("butter", 18_000, "2.20", "4.60", "28800", "43200", "14400"),
]

every_problem = pytest.mark.parametrize("problem", QUARTER, ids=lambda problem: problem.name)


def made(name: str, price: str, finish: Decimal = Decimal(0)) -> Made:
    per_kilo = fine(price) * UNITS_A_KILO
    cut = Cut(name, name, "any", CutKind.TRAY, per_kilo, int(finish))
    return Made(cut, per_kilo)


def split_off(problem: Problem) -> Way:
    return Way("at split-off", (made(f"{problem.name} as it is", problem.now),))


def worked_for(problem: Problem) -> Choice:
    """Going on costs minutes."""
    on = Way("further", (made(problem.name, problem.later),), Decimal(problem.cost))
    return compare(problem.units * UNIT_G, on, split_off(problem), SHOP)


@every_problem
def test_as_minutes_of_work(problem: Problem) -> None:
    choice = worked_for(problem)
    assert plain(choice.worth - choice.other_worth) == Decimal(problem.revenue)
    assert plain(choice.work) == Decimal(problem.cost)
    assert plain(choice.earns) == Decimal(problem.gain)


@every_problem
def test_as_finishing(problem: Problem) -> None:
    """A rate per kilo is a whole number of millionths, so the sum is right to one a kilo."""
    grams = problem.units * UNIT_G
    finish = Decimal(fine(problem.cost)) * 1000 / grams
    on = Way("further", (made(problem.name, problem.later, finish),))
    choice = compare(grams, on, split_off(problem), SHOP)
    assert abs(plain(choice.earns) - Decimal(problem.gain)) < Decimal("0.01")
    assert not choice.work


@every_problem
def test_the_revenue_is_what_the_work_may_cost(problem: Problem) -> None:
    """The textbook's rule turned round: go on as long as it costs less than it brings."""
    choice = worked_for(problem)
    assert choice.pays_within == Decimal(problem.revenue)
    assert choice.spare_minutes == max(Decimal(problem.gain), Decimal(0))


def test_which_of_them_go_on() -> None:
    """SEEN (same problem): "Product A should be sold at split off point"; B and C gain."""
    gains = [worked_for(problem).earns for problem in QUARTER[:3]]
    assert [gain > 0 for gain in gains] == [False, True, True]
