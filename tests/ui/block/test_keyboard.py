"""The block by keyboard alone: whatever is pressed, the next digits and Enter weigh a piece in."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from gambrel.ui.block.place import BlockPlace
from gambrel.ui.block.state import Panel
from tests.ui.block.fingers import weighed
from tests.ui.walk import named


class Keys:
    """Somebody who never touches the screen."""

    def __init__(self, place: BlockPlace) -> None:
        self._place = place

    @property
    def at(self) -> QWidget:
        found = QApplication.focusWidget()
        assert found is not None, "nothing has the keyboard"
        return found

    def is_at(self, widget: QWidget) -> bool:
        return self.at is widget

    def press(
        self, key: Qt.Key, held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier
    ) -> None:
        QTest.keyClick(self.at, key, held)
        QApplication.processEvents()

    def type(self, text: str) -> None:
        QTest.keyClicks(self.at, text)
        QApplication.processEvents()

    def walk_to(self, name: str) -> None:
        """Press Tab until a control whose name begins so has the focus."""
        for _ in range(80):
            if named(self.at).startswith(name):
                return
            self.press(Qt.Key.Key_Tab)
        raise AssertionError(f"Tab never comes to {name}, it stays at {named(self.at)}")


@pytest.fixture
def keys(place: BlockPlace, qtbot: QtBot) -> Keys:
    place.activateWindow()
    qtbot.waitActive(place)
    place.setFocus()
    return Keys(place)


def test_after_a_tub_the_digits_and_enter_weigh_in(place: BlockPlace, keys: Keys) -> None:
    keys.type("r")
    keys.walk_to("Tare tray")
    keys.press(Qt.Key.Key_Return)
    assert place._hands.tub == "tray"
    keys.type("4.5")
    keys.press(Qt.Key.Key_Return)
    assert weighed(place) == [("rump", 4_380)]


@pytest.mark.parametrize("press", ["undo key", "control z"])
def test_after_undo_enter_takes_nothing_more_back(
    place: BlockPlace, keys: Keys, press: str
) -> None:
    for digits in ("4", "3", "2"):
        keys.type("r" if digits == "4" else "")
        keys.type(digits)
        keys.press(Qt.Key.Key_Return)
    if press == "undo key":
        keys.walk_to("Undo")
        keys.press(Qt.Key.Key_Return)
    else:
        keys.press(Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    keys.type("1.5")
    keys.press(Qt.Key.Key_Return)
    assert [grams for _, grams in weighed(place)] == [1_500, 3_000, 4_000]


def test_after_a_new_name_enter_finishes_nothing(place: BlockPlace, keys: Keys) -> None:
    keys.type("r")
    keys.walk_to("Butcher")
    keys.press(Qt.Key.Key_Return)
    keys.walk_to("Another name")
    keys.type("Zoe")
    keys.press(Qt.Key.Key_Return)
    assert place._hands.person == "Zoe"
    keys.type("4")
    keys.press(Qt.Key.Key_Return)
    assert weighed(place) == [("rump", 4_000)]
    assert place.view.working


def test_a_question_is_answered_where_the_keyboard_is(place: BlockPlace, keys: Keys) -> None:
    keys.walk_to("Cutting list")
    keys.press(Qt.Key.Key_Return)
    assert keys.is_at(place.view.work.panel.keys[0])
    keys.press(Qt.Key.Key_Tab)
    second = named(keys.at)
    assert second != place.look.on_block.stage.list
    keys.press(Qt.Key.Key_Return)
    assert place.look.on_block.stage.list == second
    assert keys.is_at(place.view)


def test_what_if_and_back(place: BlockPlace, keys: Keys) -> None:
    keys.type("r4")
    keys.press(Qt.Key.Key_Return)
    keys.walk_to("10:")  # the piece, by its time
    keys.press(Qt.Key.Key_Return)
    keys.walk_to("What if")
    keys.press(Qt.Key.Key_Return)
    assert place._hands.panel is Panel.WHAT_IF
    assert named(keys.at).startswith("Rump")
    keys.press(Qt.Key.Key_Escape)
    assert keys.is_at(place.view)
    keys.type("5")
    keys.press(Qt.Key.Key_Return)
    assert [grams for _, grams in weighed(place)] == [5_000, 4_000]


def test_the_end_of_a_body_lets_the_keyboard_out_again(place: BlockPlace, keys: Keys) -> None:
    keys.type("r4")
    keys.press(Qt.Key.Key_Return)
    keys.walk_to("Finish")
    keys.press(Qt.Key.Key_Return)
    for name in ("Cuts", "A minute more", "Keep on weighing", "Finish body"):  # all in reach
        keys.walk_to(name)
    keys.press(Qt.Key.Key_Return)
    assert not place.look.on_block.stage.is_open
    for name in ("Cuts", "Reopen", "Back to rail"):
        keys.walk_to(name)


def test_ticks_leave_the_keyboard_where_it_is(place: BlockPlace, keys: Keys) -> None:
    keys.walk_to("Undo") if place.look.on_block.standing else keys.walk_to("Put back")
    before = keys.at
    place._tick()
    assert keys.at is before


def test_whoever_taps_leaves_the_keyboard_with_the_screen(
    place: BlockPlace, keys: Keys, qtbot: QtBot
) -> None:
    acts: list[Callable[[], QWidget]] = [
        lambda: place.view.top.person_key,
        lambda: place.view.work.panel.close_key,
        lambda: place.view.work.grid.list_key,
        lambda: place.view.work.panel.close_key,
        lambda: place.view.work.column.tubs.keys[1],
    ]
    for act in acts:
        qtbot.mouseClick(act(), Qt.MouseButton.LeftButton)
        assert keys.at is place.view, named(act())
