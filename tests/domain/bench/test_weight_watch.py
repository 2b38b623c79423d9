"""When a weight may be believed. Time is an argument, so nothing here waits."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.bench.scale_line import Flag, Reading, Wrong
from gambrel.domain.bench.scale_pattern import Unit
from gambrel.domain.bench.scale_setting import Asking, ScaleKind, ScaleSetting
from gambrel.domain.bench.steady import LiveWeight, WeightState
from gambrel.domain.bench.weight_watch import (
    TYPED_RULE,
    Link,
    SteadyRule,
    WeightWatch,
    rule_for,
)

State = WeightState
RULE = SteadyRule()
BAD = Reading(b"?", wrong=Wrong.NO_FIT)


def weight(
    grams: int | None, flag: Flag = Flag.STEADY, unit: Unit = Unit.KILOGRAM, *, net: bool = False
) -> Reading:
    return Reading(b"", grams, unit, flag, net)


def watching(rule: SteadyRule = RULE) -> WeightWatch:
    watch = WeightWatch(rule)
    watch.set_link(Link.OPEN)
    return watch


def after(*readings: Reading, every: int = 50, rule: SteadyRule = RULE) -> LiveWeight:
    """What holds right after these came, one every so many milliseconds."""
    watch = watching(rule)
    for number, reading in enumerate(readings):
        watch.take([reading], number * every)
    return watch.live((len(readings) - 1) * every)


def test_a_flag_and_equal_numbers_over_the_hold_are_steady() -> None:
    assert after(weight(500)).state is State.UNSTEADY  # one line alone proves nothing
    assert after(weight(500), weight(500)).state is State.UNSTEADY
    live = after(*[weight(500)] * 4)
    assert live.weighable
    assert live.sentence == "Steady at 0.500 kg."


def test_without_a_flag_it_takes_longer() -> None:
    plain = weight(500, Flag.NONE)
    assert after(*[plain] * 8).state is State.UNSTEADY
    assert after(*[plain] * 9).state is State.STEADY
    assert after(*[plain] * 3, every=400).state is State.UNSTEADY  # too few, though long enough


def test_the_scales_own_no_is_always_believed() -> None:
    assert after(*[weight(500, Flag.UNSTEADY)] * 30).state is State.UNSTEADY
    assert after(*[weight(500)] * 9, weight(500, Flag.UNSTEADY)).state is State.UNSTEADY


def test_a_rest_begins_after_the_last_unsteady_line() -> None:
    begun = [weight(500, Flag.UNSTEADY), *[weight(500)] * 3]
    assert after(*begun).state is State.UNSTEADY
    assert after(*begun, weight(500)).state is State.STEADY


def test_a_typed_line_that_says_unsteady_is_no_weight() -> None:
    assert after(weight(500, Flag.UNSTEADY), rule=TYPED_RULE).state is State.UNSTEADY


@pytest.mark.parametrize(
    ("reading", "state", "grams"),
    [
        (weight(0), State.ZERO, 0),
        (weight(-5), State.NEGATIVE, -5),
        (weight(None, Flag.OVERLOAD), State.OVERLOAD, None),
    ],
)
def test_nothing_less_than_nothing_and_too_much(
    reading: Reading, state: WeightState, grams: int | None
) -> None:
    live = after(*[reading] * 10)
    assert (live.state, live.grams, live.weighable) == (state, grams, False)
    assert live.answers


def test_a_flag_that_stays_while_numbers_run_is_not_believed() -> None:
    running = [weight(500 + step) for step in range(10)]
    live = after(*running)
    assert live.state is State.UNSTEADY
    assert "still run" in live.sentence
    assert after(*running, *[weight(600)] * 5).state is State.UNSTEADY
    assert after(*running, *[weight(600)] * 9).state is State.STEADY


def test_a_scale_that_settles_is_believed_at_once() -> None:
    swings = [weight(480, Flag.UNSTEADY), weight(510, Flag.UNSTEADY)]
    assert after(*[weight(0)] * 5, *swings, *[weight(500)] * 4).weighable


def test_a_weight_goes_stale_and_its_number_goes_with_it() -> None:
    watch = watching()
    for at in range(0, 500, 50):
        watch.take([weight(500)], at)
    assert watch.live(450 + RULE.stale_ms).weighable
    live = watch.live(451 + RULE.stale_ms)
    assert (live.state, live.grams, live.answers) == (State.STALE, None, False)
    watch.take([weight(500)], 5000)
    assert watch.live(5000).state is State.UNSTEADY  # what stood before the silence does not count


def test_garbage_alone_is_told_and_one_bad_line_among_good_is_not() -> None:
    assert after(BAD).state is State.GARBAGE
    assert after(*[weight(500)] * 4, BAD, weight(500)).weighable
    watch = watching()
    watch.take([weight(500)], 0)
    for at in range(0, 3000, 50):
        watch.take([BAD], at)
    live = watch.live(3000)
    assert (live.state, live.grams) == (State.GARBAGE, None)


def test_a_line_that_nobody_understands_may_have_been_another_weight() -> None:
    live = after(*[weight(500)] * 4, BAD)
    assert (live.state, live.grams, live.weighable) == (State.UNSTEADY, 500, False)
    assert "could not be read" in live.sentence
    typed = watching(TYPED_RULE)
    typed.take([weight(500)], 0)
    assert typed.live(0).weighable
    typed.take([BAD], 100)
    assert not typed.live(100).weighable
    typed.take([weight(480)], 200)
    assert (typed.live(200).weighable, typed.live(200).grams) == (True, 480)


def test_joining_midway_is_no_garbage() -> None:
    assert after(Reading(b"6 kg", wrong=Wrong.MIDWAY)).state is State.WAITING


def test_a_change_of_unit_is_told_for_a_while() -> None:
    watch = watching()
    for at in range(0, 500, 50):
        watch.take([weight(453)], at)
    for at in range(500, 5000, 50):
        watch.take([weight(454, unit=Unit.POUND)], at)
        live = watch.live(at)
        expected = State.UNIT_CHANGED if at < 500 + RULE.unit_ms else State.STEADY
        assert live.state is expected
    assert live.unit is Unit.POUND


def test_an_overload_without_a_unit_is_no_change_of_unit() -> None:
    silent = Reading(b"OL", flag=Flag.OVERLOAD)
    assert after(*[weight(500)] * 4, silent, *[weight(500)] * 4).weighable


def test_net_and_gross_of_the_same_number_are_not_the_same_weight() -> None:
    assert after(*[weight(500)] * 9, weight(500, net=True)).state is State.UNSTEADY
    assert after(*[weight(500, net=True)] * 4).net


@pytest.mark.parametrize(
    ("link", "state"),
    [
        (Link.NONE, State.NONE),
        (Link.OPENING, State.OPENING),
        (Link.LOST, State.LOST),
        (Link.RETRYING, State.RETRYING),
    ],
)
def test_no_number_outlives_its_connection(link: Link, state: WeightState) -> None:
    watch = watching()
    for at in range(0, 500, 50):
        watch.take([weight(500)], at)
    watch.set_link(link, "The cable is out.")
    live = watch.live(500)
    assert (live.state, live.grams, live.answers) == (state, None, False)
    watch.set_link(Link.OPEN)
    assert watch.live(510).state is State.WAITING
    watch.take([weight(500)], 520)
    assert not watch.live(520).weighable


def test_why_it_was_lost_is_part_of_the_sentence() -> None:
    watch = watching()
    watch.set_link(Link.RETRYING, "There is no port X.")
    assert watch.live(0).sentence.startswith("There is no port X. Trying again")


def test_a_typed_weight_counts_at_once_once_and_not_for_ever() -> None:
    watch = watching(TYPED_RULE)
    assert watch.live(0).state is State.WAITING
    watch.take([weight(500, Flag.NONE)], 0)
    assert watch.live(0).weighable
    assert watch.live(TYPED_RULE.stale_ms + 1).state is State.WAITING
    watch.take([weight(700, Flag.NONE)], 10_000)
    watch.used()
    assert watch.live(10_000).state is State.WAITING
    steady = watching()
    steady.take([weight(500)] * 4, 0)
    steady.used()
    steady.take([weight(500)], 200)
    assert steady.live(200).weighable  # what lies on a scale goes on lying there


def test_the_rule_suits_how_a_scale_sends() -> None:
    serial = ScaleSetting(kind=ScaleKind.SERIAL, port="x", command="W")
    assert rule_for(serial) == SteadyRule()
    assert rule_for(replace(serial, kind=ScaleKind.TYPED)) == TYPED_RULE
    slow = rule_for(replace(serial, asking=Asking.ASKED, every_ms=2000))
    assert slow.stale_ms > 3 * 2000
    assert rule_for(replace(serial, asking=Asking.TAP)).stale_ms > SteadyRule().stale_ms


_READINGS = st.one_of(
    st.just(BAD),
    st.builds(
        weight,
        st.sampled_from([None, -10, 0, 500, 505]),
        st.sampled_from([Flag.NONE, Flag.STEADY, Flag.UNSTEADY]),
        st.sampled_from([Unit.KILOGRAM, Unit.POUND]),
    ).map(lambda r: replace(r, flag=Flag.OVERLOAD) if r.grams is None else r),
)


@given(st.lists(st.tuples(_READINGS, st.integers(1, 400)), max_size=60), st.integers(0, 3000))
def test_only_what_stood_still_lately_can_be_weighed_in(
    came: list[tuple[Reading, int]], later: int
) -> None:
    """Said once more and differently: looking back from now, over all that was understood."""
    watch, at, seen = watching(), 0, []
    for reading, gap in came:
        at += gap
        watch.take([reading], at)
        if reading.understood:
            seen.append((at, reading))
    now = at + later
    live = watch.live(now)
    assert live.sentence
    assert (live.grams is None) or (seen and live.grams == seen[-1][1].grams)
    if not live.weighable:
        return
    last_at, last = seen[-1]
    assert came[-1][0] is last
    assert now - last_at <= RULE.stale_ms
    assert last.grams is not None
    assert last.grams > 0
    lately = [reading for when, reading in seen if when > last_at - RULE.flagged_ms]
    assert len(seen) >= RULE.flagged
    assert {(r.grams, r.unit) for r in [*lately, seen[-2][1]]} == {(last.grams, last.unit)}
    assert Flag.UNSTEADY not in {reading.flag for reading in lately}
