"""The block with a scale: what is shown, what can be weighed in, and what is asked."""

from __future__ import annotations

import pytest
from PySide6.QtTest import QTest

from gambrel.domain.bench.steady import WeightState
from gambrel.services import bench
from gambrel.ui.block.place import BlockPlace
from tests.ui.block.fingers import ToldScale, cut_key, said, tap, weighed


def spoken(place: BlockPlace) -> str:
    return place.view.work.column.weight.accessibleName()


def test_a_piece_is_two_taps_with_a_scale(place: BlockPlace, scale: ToldScale) -> None:
    scale.steady(4506)
    tap(cut_key(place, "rump"))
    tap(place.view.work.column.weigh_key)
    assert weighed(place) == [("rump", 4506)]
    assert scale.uses == 1


def test_the_keypad_folds_away_while_a_scale_answers(place: BlockPlace, scale: ToldScale) -> None:
    column = place.view.work.column
    small = column.weight.height()
    scale.steady(4506)
    assert not column.keypad.isVisible()
    assert column.weight.height() > small + 300
    scale.say(WeightState.LOST)
    assert column.keypad.isVisible()
    assert column.weight.height() == small


@pytest.mark.parametrize(
    ("state", "grams", "act"),
    [
        (WeightState.ZERO, 0, "Put it on the scale · Rump"),
        (WeightState.UNSTEADY, 4500, "Wait, not steady yet · Rump"),
        (WeightState.UNIT_CHANGED, 4500, "Look at the scale · Rump"),
        (WeightState.NEGATIVE, -650, "Below zero · Rump"),
        (WeightState.OVERLOAD, None, "Too much for the scale · Rump"),
        (WeightState.OPENING, None, "Type the weight · Rump"),
        (WeightState.WAITING, None, "Type the weight · Rump"),
        (WeightState.STALE, None, "Type the weight · Rump"),
        (WeightState.GARBAGE, None, "Type the weight · Rump"),
        (WeightState.LOST, None, "Type the weight · Rump"),
        (WeightState.RETRYING, None, "Type the weight · Rump"),
    ],
)
def test_every_other_state_is_told_in_words_and_cannot_be_weighed_in(
    place: BlockPlace, scale: ToldScale, state: WeightState, grams: int | None, act: str
) -> None:
    place.choose_cut("rump")
    scale.steady(4506)
    scale.say(state, grams, "What to do.")
    column = place.view.work.column
    assert column.weigh_key.text() == act
    assert not column.weigh_key.isEnabled()
    assert state.value in spoken(place)
    shown = column.weight._weight
    assert shown is not None
    assert (shown.word, shown.sentence) == (state.value, "What to do.")
    assert "4.506" not in (shown.net, shown.gross)  # never a frozen number
    place.weigh()
    assert weighed(place) == []


def test_what_the_scale_says_at_the_tap_counts_not_what_was_painted(
    place: BlockPlace, scale: ToldScale
) -> None:
    place.choose_cut("rump")
    scale.steady(4506)
    with_signals_held = scale.blockSignals(True)
    scale.say(WeightState.UNSTEADY, 4300)
    scale.blockSignals(with_signals_held)
    tap(place.view.work.column.weigh_key)
    assert weighed(place) == []
    assert place.view.work.column.weigh_key.text() == "Wait, not steady yet · Rump"


def test_the_same_load_twice_is_asked_about(place: BlockPlace, scale: ToldScale) -> None:
    place.choose_cut("rump")
    scale.steady(4506)
    weigh_key = place.view.work.column.weigh_key
    tap(weigh_key)
    tap(weigh_key)
    assert "has not moved" in said(place)
    assert len(weighed(place)) == 1
    tap(weigh_key)
    assert len(weighed(place)) == 2


def test_after_the_load_has_changed_nothing_is_asked(place: BlockPlace, scale: ToldScale) -> None:
    place.choose_cut("rump")
    for grams in (4506, 0, 4506):
        scale.say(WeightState.STEADY if grams else WeightState.ZERO, grams)
        if grams:
            tap(place.view.work.column.weigh_key)
    assert weighed(place) == [("rump", 4506), ("rump", 4506)]


def test_a_doubt_outlives_a_gram_and_not_another_load(place: BlockPlace, scale: ToldScale) -> None:
    place.choose_cut("rump")
    scale.steady(43_860)
    tap(place.view.work.column.weigh_key)
    assert "norm for this body" in said(place)
    scale.steady(43_862)
    assert said(place)
    scale.steady(4386)
    assert said(place) == ""
    assert place.view.work.column.weigh_key.text() == "WEIGH IN · Rump"


def test_the_tub_comes_off_unless_the_scale_has_taken_it_off(
    place: BlockPlace, scale: ToldScale
) -> None:
    place.choose_cut("rump")
    tap(place.view.work.column.tubs.keys[1])
    scale.steady(4506)
    assert "net 4.386 kg, gross 4.506 kg, tare tray 0.120" in spoken(place)
    tap(place.view.work.column.weigh_key)
    scale.say(WeightState.ZERO, 0)
    scale.say(WeightState.STEADY, 2000, net=True)
    tap(place.view.work.column.weigh_key)
    assert weighed(place) == [("rump", 2000), ("rump", 4386)]


def test_less_than_the_tub_is_told_before_it_is_weighed(
    place: BlockPlace, scale: ToldScale
) -> None:
    place.choose_cut("rump")
    tap(place.view.work.column.tubs.keys[1])
    scale.steady(90)
    assert "under the tub" in spoken(place)


def test_the_weight_can_be_typed_although_a_scale_answers(
    place: BlockPlace, scale: ToldScale
) -> None:
    column = place.view.work.column
    place.choose_cut("rump")
    scale.steady(4506)
    tap(column.tubs.scale_key)
    assert column.keypad.isVisible()
    for sign in "2.1":
        tap(column.keypad.keys[sign])
    tap(column.weigh_key)
    assert weighed(place) == [("rump", 2100)]
    tap(column.tubs.scale_key)
    assert not column.keypad.isVisible()


def test_a_scale_that_waits_to_be_asked_has_a_key(place: BlockPlace, scale: ToldScale) -> None:
    key = place.view.work.column.tubs.scale_key
    assert not key.isVisible()
    scale.by_tap = True
    scale.say(WeightState.WAITING)
    assert (key.text(), key.caption) == ("Ask", "scale")
    tap(key)
    assert scale.requests == 1
    scale.steady(4506)
    assert key.text() == "Type"


def test_digits_of_a_keyboard_take_over_from_the_scale(place: BlockPlace, scale: ToldScale) -> None:
    place.choose_cut("rump")
    scale.steady(4506)
    QTest.keyClicks(place.view, "2.1")
    assert place.view.work.column.keypad.isVisible()
    place.weigh()
    assert weighed(place) == [("rump", 2100)]
    assert not place.view.work.column.keypad.isVisible()


def test_a_reading_repaints_the_weight_alone(place: BlockPlace, scale: ToldScale) -> None:
    """Twenty readings a second must not lay out the whole screen each time."""
    place.choose_cut("rump")
    scale.steady(4506)
    shown = []
    place.view.show_state = lambda *state: shown.append(state)  # type: ignore[method-assign]
    for grams in range(4000, 4020):
        scale.say(WeightState.UNSTEADY, grams)
    assert shown == []
    assert "4.019" in spoken(place)


def test_every_scale_weight_is_in_the_book_once(place: BlockPlace, scale: ToldScale) -> None:
    place.choose_cut("rump")
    for grams in (1000, 1100, 1200):
        scale.steady(grams)
        tap(place.view.work.column.weigh_key)
    stage = place._look.on_block.stage.key  # type: ignore[union-attr]  # a body is there
    pieces = bench.look(place._book, stage).on_block.standing
    assert [row.piece.gross_g for row in pieces] == [1200, 1100, 1000]
