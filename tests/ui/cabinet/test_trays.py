"""Trays at the Cabinet in the shop's own order."""

from __future__ import annotations

from datetime import UTC, datetime

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from gambrel.services.books import Book
from gambrel.services.cabinet import cabinet
from gambrel.ui.cabinet.lines_model import Column
from gambrel.ui.cabinet.place import CabinetPlace
from tests.ui.cabinet.hands import LEFT


def order(place: CabinetPlace) -> list[str]:
    return [row.key for row in place.view.table.lines.rows]


def test_trays_are_dragged_into_the_shop_s_own_order(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    table, view = place.view.table, place.view
    before = order(place)
    qtbot.mouseClick(view.arrange_button, LEFT)
    port = table.viewport()
    places = [table.visualRect(table.lines.index(n, Column.NAME)).center() for n in range(4)]
    qtbot.mousePress(port, LEFT, pos=places[0])
    qtbot.mouseMove(port, places[1])
    qtbot.mouseMove(port, places[3])
    assert order(place)[:4] == [*before[1:4], before[0]], "it moves under the finger"
    qtbot.mouseRelease(port, LEFT, pos=places[3])
    found = cabinet(book, datetime(2026, 11, 21, 4, tzinfo=UTC))
    assert [line.cut.key for line in found.lines] == order(place)
    qtbot.mouseClick(view.arrange_button, LEFT)
    qtbot.mousePress(port, LEFT, pos=places[0])
    qtbot.mouseMove(port, places[2])
    qtbot.mouseRelease(port, LEFT, pos=places[2])
    assert order(place)[:4] == [*before[1:4], before[0]], "not while nobody arranges"


def test_trays_are_moved_by_keys_and_by_buttons(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    before, table = order(place), place.view.table
    place.open_item(before[2])
    qtbot.keyClick(table, Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier)
    assert order(place)[:3] == [before[0], before[2], before[1]]
    qtbot.mouseClick(place.view.arrange_button, LEFT)
    qtbot.mouseClick(place.view.up_button, LEFT)
    assert order(place)[:3] == [before[2], before[0], before[1]]
    qtbot.mouseClick(place.view.up_button, LEFT)
    assert order(place)[:3] == [before[2], before[0], before[1]], "there is nothing above it"
    qtbot.mouseClick(place.view.down_button, LEFT)
    found = cabinet(book, datetime(2026, 11, 21, 4, tzinfo=UTC))
    assert [line.cut.key for line in found.lines][:3] == [before[0], before[2], before[1]]


def test_a_tray_keeps_its_place_among_those_that_a_filter_hides(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    before = order(place)
    qtbot.mouseClick(place.view.chips["lamb"], LEFT)
    lamb = order(place)
    place.open_item(lamb[-1])
    qtbot.keyClick(place.view.table, Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier)
    assert order(place) == [*lamb[:-2], lamb[-1], lamb[-2]]
    qtbot.mouseClick(place.view.chips["all"], LEFT)
    assert [key for key in order(place) if key not in lamb] == [
        key for key in before if key not in lamb
    ]


def test_a_finger_drags_a_tray_only_while_they_are_arranged(
    place: CabinetPlace, qtbot: QtBot
) -> None:
    table, before = place.view.table, order(place)
    window, finger = place.windowHandle(), QTest.createTouchDevice()
    ports = [table.visualRect(table.lines.index(n, Column.NAME)).center() for n in range(4)]
    places = [table.viewport().mapTo(place, at) for at in ports]

    def drag() -> None:
        QTest.touchEvent(window, finger).press(0, places[0], window).commit()
        for at in places[1:]:
            QTest.touchEvent(window, finger).move(0, at, window).commit()
        QTest.touchEvent(window, finger).release(0, places[3], window).commit()

    qtbot.mouseClick(place.view.arrange_button, LEFT)
    drag()
    moved = order(place)
    assert moved[:4] == [*before[1:4], before[0]]
    qtbot.mouseClick(place.view.arrange_button, LEFT)
    drag()
    assert order(place) == moved, "a drag scrolls"
