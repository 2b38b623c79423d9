"""Prices in time: what every act must leave as it is, and what it must change."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.prices.planning import (
    TAKEN_BACK,
    Plan,
    plan_end,
    plan_price,
    plan_special,
    plan_undo,
)
from gambrel.domain.prices.schedule import MOMENT, Schedule, schedule_of
from gambrel.domain.prices.specials import AFTER_SPECIAL, SPECIAL, special_at
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import PriceWithdrawn
from gambrel.domain.trade.catalogue import Cut, CutKind
from gambrel.domain.trade.records import PriceChange

NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)
HOUR = timedelta(hours=1)
RUMP = Cut("rump", "Rump", "beef", CutKind.TRAY, 2799)
HOURS = range(-40, 60)
"""The moments at which the tests look, in hours from noon."""

amounts = st.integers(1, 9000)


def at(hours: float) -> datetime:
    return NOON + hours * HOUR


def prices(schedule: Schedule, since: float = -40) -> list[int | None]:
    """The price half past every hour from one on."""
    return [schedule.price_at(at(hour + 0.5)) for hour in HOURS if hour >= since]


@st.composite
def schedules(draw: st.DrawFn) -> Schedule:
    """Some past and future prices, and perhaps a special that runs or is to come."""
    hours = draw(st.lists(st.integers(-40, 50), max_size=4, unique=True))
    plain = schedule_of(RUMP, [PriceChange("rump", draw(amounts), at(h)) for h in hours])
    begins = draw(st.integers(-8, 20))
    ends = begins + draw(st.integers(1, 12))
    clear = all(not at(begins) < row.since < at(ends) for row in plain.rows)
    if not (draw(st.booleans()) and clear):
        return plain
    return plan_special(plain, draw(amounts), at(begins), at(ends), at(-9)).after


def applied(plan: Plan) -> Schedule:
    """What the book reads back: the rows that stand, and the moments of those that do not."""
    standing = [*plan.before.rows, *plan.changes]
    gone = {row.since for row in plan.withdrawn}
    kept = [row for row in standing if row.since not in gone]
    withdrawn = [PriceWithdrawn("rump", since, NOON) for since in plan.before.taken | gone]
    return schedule_of(RUMP, kept, withdrawn)


@given(schedules(), amounts)
def test_a_plan_says_just_what_the_book_will_hold(schedule: Schedule, price: int) -> None:
    plan = plan_price(schedule, price, NOON)
    assert applied(plan) == plan.after
    assert all(row.since >= NOON for row in plan.changes)
    assert all(row.at < row.since for row in plan.withdrawn), "only what has not come"
    times = [row.since for row in plan.changes]
    assert not set(times) & schedule.taken, "no moment is used twice"


@given(schedules(), amounts)
def test_no_act_changes_the_past(schedule: Schedule, price: int) -> None:
    after = plan_price(schedule, price, NOON).after
    assert [after.price_at(at(h)) for h in range(-40, 0)] == [
        schedule.price_at(at(h)) for h in range(-40, 0)
    ]


@given(schedules(), amounts)
def test_a_regular_price_holds_at_once_or_when_the_special_ends(
    schedule: Schedule, price: int
) -> None:
    after = plan_price(schedule, price, NOON).after
    if schedule.runs(NOON) and schedule.coming(NOON):
        assert after.price_at(NOON) == schedule.price_at(NOON), "the special stays"
        special = after.special(NOON)
        assert special is not None
        assert special.returns == price
    else:
        assert after.price_at(NOON + MOMENT) == price
    assert len(after.specials()) == len(schedule.specials()) or schedule.runs(NOON)


@given(schedules(), amounts, st.integers(1, 30), st.integers(1, 20))
def test_a_special_holds_within_its_time_and_changes_nothing_outside(
    schedule: Schedule, price: int, begins: int, length: int
) -> None:
    start, until = at(begins), at(begins + length)
    taken = any(start < row.since < until for row in schedule.rows)
    running = any(s.since < until and (s.until is None or s.until > start)
                  for s in schedule.specials())  # fmt: skip
    if taken or running:
        return  # the caller refuses those
    plan = plan_special(schedule, price, start, until, NOON)
    assert applied(plan) == plan.after
    for hour in HOURS:
        moment = at(hour + 0.5)
        inside = start <= moment < until
        assert plan.after.price_at(moment) == (price if inside else schedule.price_at(moment))
    told = special_at(RUMP, plan.after.rows, start + HOUR / 2)
    assert told is not None
    assert told.price == price
    assert told.until is not None
    assert abs(told.until - until) <= timedelta(milliseconds=1)


@given(schedules())
def test_a_special_ended_leaves_the_regular_price(schedule: Schedule) -> None:
    special = schedule.special(NOON)
    if special is None:
        with pytest.raises(Refusal, match="no special"):
            plan_end(schedule, NOON)
        return
    plan = plan_end(schedule, NOON)
    assert applied(plan) == plan.after
    assert not plan.after.runs(NOON + MOMENT)
    runs = special.since <= NOON
    regular = schedule.price_at(special.since - MOMENT if runs else NOON)
    assert plan.after.price_at(NOON + MOMENT) == regular


@given(schedules(), amounts, st.sampled_from(["price", "special", "end"]), st.integers(0, 10))
def test_undo_makes_every_later_price_what_it_would_have_been(
    schedule: Schedule, price: int, kind: str, wait: int
) -> None:
    if kind == "price":
        done = plan_price(schedule, price, NOON)
    elif kind == "end":
        if schedule.special(NOON) is None:
            return
        done = plan_end(schedule, NOON)
    else:
        if any(row.since > at(20) for row in schedule.rows):
            return
        done = plan_special(schedule, price, at(30), at(40), NOON)
    later = at(wait)
    back = plan_undo(done.after, done, later)
    assert applied(back) == back.after
    assert prices(back.after, wait) == prices(schedule, wait)
    for hour in range(wait, 60):
        moment = at(hour + 0.5)
        assert back.after.runs(moment) == schedule.runs(moment), "a special is one again"
    again = plan_undo(back.after, back, later)
    assert prices(again.after, wait) == prices(done.after, wait), "an undo is an act like others"


def test_what_was_changed_since_is_not_undone() -> None:
    done = plan_price(schedule_of(RUMP, []), 2999, NOON)
    changed = plan_price(done.after, 3099, NOON + HOUR).after
    with pytest.raises(Refusal, match="changed meanwhile"):
        plan_undo(changed, done, NOON + 2 * HOUR)


def test_a_first_price_cannot_be_taken_away() -> None:
    bare = Cut("rump", "Rump", "beef", CutKind.TRAY)
    done = plan_price(schedule_of(bare, []), 2999, NOON)
    with pytest.raises(Refusal, match="had no price before"):
        plan_undo(done.after, done, NOON)
    with pytest.raises(Refusal, match="no regular price to return to"):
        plan_special(schedule_of(bare, []), 2500, at(1), at(2), NOON)


def test_two_specials_may_touch_in_either_order() -> None:
    first = plan_special(schedule_of(RUMP, []), 2500, at(10), at(20), NOON).after
    after = plan_special(first, 2400, at(20), at(30), NOON).after
    before = plan_special(first, 2300, at(2), at(10), NOON).after
    assert [after.price_at(at(h)) for h in (15, 20.5, 25, 31)] == [2500, 2400, 2400, 2799]
    assert [before.price_at(at(h)) for h in (5, 10, 15, 21)] == [2300, 2500, 2500, 2799]
    called_off = plan_end(plan_end(before, at(3)).after, at(3)).after
    assert prices(called_off, 4) == [2799] * len(prices(called_off, 4))


def test_a_regular_price_moves_the_return_by_a_microsecond_and_keeps_its_word() -> None:
    special = plan_special(schedule_of(RUMP, []), 2500, at(-1), at(10), at(-2)).after
    plan = plan_price(special, 2899, NOON)
    [written] = plan.changes
    assert (written.since, written.price, written.reason) == (at(10) + MOMENT, 2899, AFTER_SPECIAL)
    assert [row.since for row in plan.withdrawn] == [at(10)]
    assert plan.after.runs(NOON)


def test_undoing_the_end_of_a_special_makes_it_a_special_again() -> None:
    special = plan_special(schedule_of(RUMP, []), 2500, at(-1), at(10), at(-2)).after
    ended = plan_end(special, NOON)
    assert [row.reason for row in ended.changes] == [AFTER_SPECIAL]
    back = plan_undo(ended.after, ended, at(1))
    assert [row.reason for row in back.changes] == [SPECIAL, AFTER_SPECIAL]
    plain = plan_price(schedule_of(RUMP, []), 2999, NOON)
    assert plan_undo(plain.after, plain, at(1)).changes[0].reason == TAKEN_BACK
