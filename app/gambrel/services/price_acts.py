"""Acts on prices: each in one transaction, and each undone as one."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from typing import TYPE_CHECKING

from gambrel.domain.prices.effects import price_fault
from gambrel.domain.prices.planning import Plan, plan_undo
from gambrel.domain.prices.schedule import Schedule, schedule_of
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import PriceWithdrawn
from gambrel.domain.trade.catalogue import Cut, Shop
from gambrel.domain.trade.records import PriceChange

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book
    from gambrel.storage.work import Work

Planner = Callable[[Schedule, Shop], Plan]


@dataclass(frozen=True, slots=True)
class PriceAct:
    """One act on the prices of one cut or more, as it was written."""

    plans: tuple[Plan, ...]

    @property
    def changes(self) -> list[PriceChange]:
        """The rows that it wrote."""
        return [row for plan in self.plans for row in plan.changes]

    @property
    def withdrawn(self) -> list[PriceWithdrawn]:
        """The coming prices that it withdrew."""
        return [row for plan in self.plans for row in plan.withdrawn]


def carry_out(book: Book, planners: Mapping[str, Planner], person: str = "") -> PriceAct:
    """Change the prices of some cuts in one transaction: all of them or none.

    Raises:
        Refusal: There is no such cut for sale, or its planner refuses.
    """
    with book.transaction() as work:
        shop, schedules = _schedules(work, planners)
        plans = [plan(schedules[cut], shop) for cut, plan in planners.items()]
        act = PriceAct(tuple(plan for plan in plans if plan.changes or plan.withdrawn))
        work.add(act.changes)
        work.note([replace(row, person=person) for row in act.withdrawn])
    return act


def undo(book: Book, act: PriceAct, now: datetime, person: str = "") -> PriceAct:
    """Take an act back whole, from now on: what was withdrawn comes again, what was to come not.

    The book forgets nothing: the act stays in the history, with the return after it.

    Raises:
        Refusal: A price was changed again since, or there was none before.
    """

    def back(done: Plan) -> Planner:
        return lambda schedule, _shop: plan_undo(schedule, done, now)

    return carry_out(book, {plan.before.cut.key: back(plan) for plan in act.plans}, person)


def check_price(cut: Cut, price: int) -> None:
    """See that a price (minor units per kilogram) can be one.

    Raises:
        Refusal: It is nothing, less, or absurd.
    """
    if fault := price_fault(cut.name, price):
        raise Refusal(fault)


def _schedules(work: Work, wanted: Iterable[str]) -> tuple[Shop, dict[str, Schedule]]:
    shop = work.require_shop()
    cuts = {cut.key: cut for cut in work.cuts()}
    prices, gone = work.prices(), work.every(PriceWithdrawn)
    return shop, {key: schedule_of(_for_sale(cuts, key), prices, gone) for key in wanted}


def _for_sale(cuts: Mapping[str, Cut], key: str) -> Cut:
    cut = cuts.get(key)
    if cut is None:
        raise Refusal(f"There is no cut {key} in the book. Choose one of those shown.")
    if not cut.kind.bears_cost:
        raise Refusal(f"{cut.name} is not sold by price, so it has none to set.")
    return cut
