"""The station's scale at the rail: weighing again by it, and the weight at the door."""

from __future__ import annotations

from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from gambrel.domain.bench.steady import WeightState
from gambrel.services.books import Book
from gambrel.services.words import formats_for
from gambrel.ui.context import Context
from gambrel.ui.rail.place import RailPlace
from gambrel.ui.tasks import SyncTasks
from gambrel.ui.theme import Meaning, Theme
from tests.trades import a_shop
from tests.ui.block.fingers import ToldScale
from tests.ui.conftest import MovingClock
from tests.ui.rail.hands import SIZES, shown, tap, type_in
from tests.ui.walk import cut_labels, outside, painted_short, too_small


@pytest.fixture
def scale() -> ToldScale:
    return ToldScale()


@pytest.fixture
def place(demo: Book, dressed: Theme, scale: ToldScale, qtbot: QtBot) -> RailPlace:
    formats = formats_for(a_shop())
    context = Context(demo, dressed, formats, MovingClock(), SyncTasks(), "door", scale=scale)
    return shown(RailPlace(context), qtbot)


def kept(book: Book) -> list[int]:
    with book.reading() as work:
        rows = sorted(work.trade().reweighs, key=lambda row: row.at)
    return [row.grams for row in rows if row.body == "SIDE-04"]


def reweigh(place: RailPlace) -> None:
    tap(place, place.view.grid.cards["SIDE-04"].reweigh)


def marks(place: RailPlace) -> Meaning | None:
    return place.view.reweigh.weight.meaning


def test_with_a_scale_weighing_again_is_two_taps_and_the_weight_counts_once(
    place: RailPlace, scale: ToldScale, demo: Book
) -> None:
    scale.steady(138_100)
    reweigh(place)
    tap(place, place.view.reweigh.keep)
    assert kept(demo)[-1] == 138_100
    assert scale.uses == 1


def test_a_typed_weight_leaves_the_scales_own(
    place: RailPlace, scale: ToldScale, demo: Book
) -> None:
    reweigh(place)
    for digit in "138":
        tap(place, place.view.reweigh.keypad.keys[digit])
    tap(place, place.view.reweigh.keep)
    assert kept(demo)[-1] == 138_000
    assert scale.uses == 0


def test_a_figure_that_is_no_weight_is_marked_and_no_key_moves(
    place: RailPlace, scale: ToldScale
) -> None:
    reweigh(place)
    panel = place.view.reweigh
    scale.steady(138_100)
    assert marks(place) is None
    before = panel.keypad.geometry()
    scale.say(WeightState.UNSTEADY, 138_000)
    assert marks(place) == Meaning.WATCH
    assert (panel.keep.text(), panel.keep.isEnabled()) == ("Unsteady", False)
    assert panel.keypad.geometry() == before
    scale.say(WeightState.OVERLOAD)
    assert panel.weight.value == "–"
    assert marks(place) == Meaning.STOP


def test_a_lost_scale_is_told_in_words_until_the_weight_is_typed(
    place: RailPlace, scale: ToldScale
) -> None:
    scale.steady(138_100)
    reweigh(place)
    scale.say(WeightState.RETRYING, sentence="The scale is disconnected. Type the weight.")
    panel = place.view.reweigh
    assert panel.trouble.sentence == "The scale is disconnected. Type the weight."
    assert panel.weight.value == "0.00"
    tap(place, panel.keypad.keys["9"])
    assert panel.trouble.sentence == ""


def test_a_scale_that_waits_is_asked_by_a_key(place: RailPlace, scale: ToldScale) -> None:
    scale.by_tap = True
    scale.say(WeightState.WAITING)
    reweigh(place)
    panel = place.view.reweigh
    assert panel.trouble.sentence == ""
    tap(place, panel.ask)
    assert scale.requests == 1
    scale.steady(138_100)
    assert not panel.ask.isVisible()


def test_a_weight_that_nobody_saw_is_shown_before_it_is_kept(
    place: RailPlace, scale: ToldScale, demo: Book
) -> None:
    scale.steady(138_100)
    reweigh(place)
    before = kept(demo)
    scale._says = replace(scale.live, grams=99_000)  # since the last look
    tap(place, place.view.reweigh.keep)
    assert kept(demo) == before
    assert "less than last time" in place.view.reweigh.doubt.sentence
    tap(place, place.view.reweigh.keep)
    assert kept(demo)[-1] == 99_000


@pytest.mark.parametrize("size", SIZES)
def test_the_card_that_is_weighed_is_in_sight_and_the_panel_fits(
    place: RailPlace, scale: ToldScale, qtbot: QtBot, size: tuple[int, int]
) -> None:
    place.resize(*size)
    last = list(place.view.grid.cards)[-1]
    for state in (WeightState.STEADY, WeightState.RETRYING, WeightState.WAITING):
        scale.by_tap = state is WeightState.WAITING
        scale.say(
            state, 138_100 if state is WeightState.STEADY else None, "Look at the scale. " * 4
        )
        place.open_reweigh(last)
        card, area = place.view.grid.cards[last], place.view._area.viewport()
        qtbot.waitUntil(
            lambda card=card, area=area: area.rect().contains(  # type: ignore[misc]
                card.geometry().translated(card.parentWidget().pos())
            )
        )
        qtbot.waitUntil(lambda: not cut_labels(place.view.reweigh))
        qtbot.waitUntil(lambda: not outside(place.view.reweigh))
        assert too_small(place.view.reweigh, 44) == []


# --- The door ---


def at_the_figures(place: RailPlace) -> None:
    tap(place, place.view.receive_button)
    tap(place, place.view.receive.portions.buttons["beef/side"])
    tap(place, place.view.receive.suppliers.buttons["northfold"])


def test_the_scales_weight_is_taken_with_one_tap(place: RailPlace, scale: ToldScale) -> None:
    at_the_figures(place)
    form = place.view.receive
    scale.steady(138_100)
    assert not form.scale_key.isVisible()  # the docket's weight comes from the docket
    tap(place, form.numbers["received"])
    assert form.scale_key.text() == "Take 138.10 kg from the scale"
    tap(place, form.scale_key)
    assert form.numbers["received"].value == "138.100"
    assert scale.uses == 1
    tap(place, form.keypad.keys["<"])
    assert form.numbers["received"].value == "138.10"


def test_a_weight_that_runs_cannot_be_taken_at_the_door(place: RailPlace, scale: ToldScale) -> None:
    at_the_figures(place)
    form = place.view.receive
    tap(place, form.numbers["received"])
    assert not form.scale_key.isVisible()  # no scale, no key
    scale.say(WeightState.UNSTEADY, 138_000)
    assert (form.scale_key.text(), form.scale_key.isEnabled()) == ("Scale: unsteady", False)
    scale.by_tap = True
    scale.say(WeightState.WAITING)
    tap(place, form.scale_key)
    assert scale.requests == 1


def test_the_form_fits_a_low_window_with_the_scales_key(
    place: RailPlace, scale: ToldScale, qtbot: QtBot
) -> None:
    place.resize(1024, 536)
    scale.steady(132_100)
    at_the_figures(place)
    form = place.view.receive
    for name, text in (("docket", "138.6"), ("temperature", "9.5"), ("price", "9.20")):
        tap(place, form.numbers[name])
        form.keypad.clear()
        type_in(place, text)
    tap(place, form.numbers["received"])
    tap(place, form.scale_key)
    form.changed.emit("body", "HQ-17")
    tap(place, form.take)
    assert form.refusal.sentence
    assert form.scale_key.isVisible()
    qtbot.waitUntil(lambda: not cut_labels(form))
    assert too_small(form, 44) == []
    assert outside(form) == []
    assert painted_short(form) == []
