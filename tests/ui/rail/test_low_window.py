"""The form at the door in a window that is as low as it may be."""

from __future__ import annotations

import pytest
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QScrollArea
from pytestqt.qtbot import QtBot

from gambrel.ui.rail.place import RailPlace
from tests.ui.rail.hands import SIZES, opened, tap, type_in
from tests.ui.walk import cut_labels, outside, painted_short, too_small


def scrolls(place: RailPlace) -> list[int]:
    """How far each page of the form that is shown would have to be scrolled."""
    areas = place.view.receive.findChildren(QScrollArea)
    return [each.verticalScrollBar().maximum() for each in areas if each.isVisible()]


@pytest.mark.parametrize("size", SIZES)
def test_the_form_fits_without_scrolling_in_each_state(
    place: RailPlace, qtbot: QtBot, size: tuple[int, int]
) -> None:
    place.resize(*size)
    form = place.view.receive

    def fits() -> None:
        qtbot.waitUntil(lambda: not cut_labels(place), timeout=2_000)
        assert scrolls(place) == [0]
        assert too_small(place, 44) == []
        assert outside(place) == []
        assert painted_short(place.view.receive) == []

    place.view.receive_wanted.emit()
    fits()
    tap(place, form.portions.buttons["beef/side"])
    tap(place, form.suppliers.buttons["+"])
    QTest.keyClicks(form.newcomer, "Northfold Farm")
    tap(place, form.add_key)
    assert form.refusal.sentence
    fits()
    tap(place, form.suppliers.buttons["northfold"])
    fits()
    for name, text in (("docket", "138.6"), ("received", "132.1"), ("temperature", "9.5")):
        tap(place, form.numbers[name])
        type_in(place, text)
    tap(place, form.killed.earlier)
    assert form.claims.sentence
    fits()
    form.body.setFocus()
    form.body.selectAll()
    QTest.keyClicks(form.body, "HQ-17")
    tap(place, form.take)
    assert form.refusal.sentence
    fits()


def test_what_came_and_from_whom_can_be_chosen_again(place: RailPlace, qtbot: QtBot) -> None:
    tap(place, place.view.receive_button)
    form = place.view.receive
    tap(place, form.portions.buttons["beef/side"])
    tap(place, form.suppliers.buttons["northfold"])
    assert form.numbers["docket"].hasFocus()  # digits go on to the keypad at once
    type_in(place, "138.6")
    tap(place, form.from_key)
    assert form.suppliers.isVisible()
    assert not form.keypad.isVisible()
    tap(place, form.suppliers.buttons["hollowgate"])
    assert (form.what_key.text(), form.from_key.text()) == ("Beef side", "Hollowgate Cattle")
    assert form.numbers["docket"].value == "138.6"  # what was typed stays


def test_a_refusal_goes_once_what_it_was_about_is_changed(place: RailPlace) -> None:
    opened(place, "receive")
    form = place.view.receive
    form.changed.emit("body", "HQ-17")
    tap(place, form.take)
    assert "already" in form.refusal.sentence
    form.changed.emit("body", "HQ-71")
    assert form.refusal.sentence == ""
