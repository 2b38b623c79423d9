"""Acts on a cut's prices: what each writes, and what it withdraws of what is to come.

Nothing is ever taken out of the past. A row that replaces another stands a microsecond later, since
a moment at which the cut ever had a row stays taken.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime

from gambrel.domain.prices.schedule import MOMENT, Schedule
from gambrel.domain.prices.specials import AFTER_SPECIAL, SPECIAL
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import PriceWithdrawn
from gambrel.domain.trade.records import PriceChange

TAKEN_BACK = "taken back"


@dataclass(frozen=True, slots=True)
class Plan:
    """What one act does to one cut's prices, and how they stood before and stand after it."""

    before: Schedule
    after: Schedule
    changes: tuple[PriceChange, ...] = ()
    withdrawn: tuple[PriceWithdrawn, ...] = ()


def plan_price(schedule: Schedule, price: int, now: datetime, reason: str = "") -> Plan:
    """Another regular price (minor units per kilogram) from now on.

    While a special runs, its price stays and what it returns to changes. A special to come returns
    to the new price as well, unless another price was set to come before it.
    """
    draft = _Draft(schedule, now, "another regular price")
    runs = schedule.runs(now)
    returns = list(_returns(schedule.coming(now), ends_special=runs))
    if not runs or not returns:
        draft.write(price, now, reason)
    for row in returns:
        if row.price != price:
            draft.withdraw(row)
            draft.write(price, row.since, AFTER_SPECIAL)
    return draft.plan()


def _returns(coming: Iterable[PriceChange], *, ends_special: bool) -> Iterable[PriceChange]:
    """The rows to come by which specials give way, up to the first price set for its own sake.

    Whatever row ends a special that runs is what it returns to.
    """
    for row in coming:
        if row.reason == AFTER_SPECIAL or (ends_special and row.reason != SPECIAL):
            yield row
        elif row.reason != SPECIAL:
            return
        ends_special = ends_special and row.reason == SPECIAL


def plan_special(
    schedule: Schedule, price: int, start: datetime, until: datetime, now: datetime
) -> Plan:
    """A special from ``start`` that gives way, at ``until``, to the price that would hold then.

    The caller has seen that no other special and no other price lies between the two.

    Raises:
        Refusal: There is no price to return to.
    """
    regular = schedule.price_at(until - MOMENT)
    if regular is None:
        raise Refusal(
            f"{schedule.cut.name} has no regular price to return to. Set its price first."
        )
    draft = _Draft(schedule, now, "")
    draft.write(price, start, SPECIAL)
    after = next((row for row in schedule.rows if row.since >= until), None)
    if after is None or schedule.free_from(until) < after.since:
        draft.write(regular, schedule.free_from(until), AFTER_SPECIAL)
    elif after.reason == SPECIAL:  # the next one begins in that moment: give way just before it
        draft.write(regular, schedule.free_before(until), AFTER_SPECIAL)
    return draft.plan()


def plan_end(schedule: Schedule, now: datetime) -> Plan:
    """End the special that runs, or call off the next one to come.

    Raises:
        Refusal: There is none.
    """
    special = schedule.special(now)
    if special is None:
        raise Refusal(f"{schedule.cut.name} is on no special. There is nothing to end.")
    draft = _Draft(schedule, now, "special called off")
    after = next((row for row in schedule.rows if row.since > special.since), None)
    returning = after is not None and after.reason == AFTER_SPECIAL
    if returning and after is not None:
        draft.withdraw(after)
    if special.since > now:
        draft.withdraw(next(row for row in schedule.rows if row.since == special.since))
        return draft.plan()
    back = after.price if returning and after is not None else _before(schedule, special.since)
    if back is None:
        raise Refusal(f"{schedule.cut.name} had no price before. Set the one that you want.")
    draft.write(back, now, AFTER_SPECIAL)
    return draft.plan()


def _before(schedule: Schedule, since: datetime) -> int | None:
    """The last price before a moment that was no special."""
    earlier = [row for row in schedule.rows if row.since < since and row.reason != SPECIAL]
    return earlier[-1].price if earlier else schedule.cut.price


def plan_undo(schedule: Schedule, done: Plan, now: datetime) -> Plan:
    """Make all prices from now on what they would be had an act not been.

    Raises:
        Refusal: Prices of this cut were changed since, or it had none before the act.
    """
    name = schedule.cut.name
    if schedule.rows != done.after.rows:
        raise Refusal(f"The price of {name} has been changed meanwhile. Look at it again.")
    price = done.before.price_at(now)
    if price is None:
        raise Refusal(
            f"{name} had no price before, and a price cannot be taken away. "
            "Set the one that you want."
        )
    draft = _Draft(schedule, now, TAKEN_BACK)
    special = done.before.runs(now)
    if price != schedule.price_at(now) or special != schedule.runs(now):
        draft.write(price, now, SPECIAL if special else TAKEN_BACK)
    wanted, standing = done.before.coming(now), schedule.coming(now)
    for row in standing:
        if row not in wanted:
            draft.withdraw(row)
    for row in wanted:
        if row not in standing:
            draft.write(row.price, row.since, row.reason)
    return draft.plan()


class _Draft:
    """Gathers what an act writes and withdraws, each row at a moment that is free."""

    def __init__(self, schedule: Schedule, now: datetime, why: str) -> None:
        self._before, self._after = schedule, schedule
        self._now, self._why = now, why
        self._changes: list[PriceChange] = []
        self._withdrawn: list[PriceWithdrawn] = []

    def write(self, price: int, since: datetime, reason: str) -> None:
        """Add a row at the first free moment from ``since`` on."""
        at = self._after.free_from(since)
        row = PriceChange(self._before.cut.key, price, at, reason)
        self._changes.append(row)
        rows = sorted([*self._after.rows, row], key=lambda each: each.since)
        self._after = replace(self._after, rows=tuple(rows), taken=self._after.taken | {at})

    def withdraw(self, row: PriceChange) -> None:
        """Take a row back that has not come into force; its moment stays taken."""
        self._withdrawn.append(PriceWithdrawn(row.cut, row.since, self._now, "", self._why))
        rows = tuple(each for each in self._after.rows if each != row)
        self._after = replace(self._after, rows=rows)

    def plan(self) -> Plan:
        """All of it."""
        return Plan(self._before, self._after, tuple(self._changes), tuple(self._withdrawn))
