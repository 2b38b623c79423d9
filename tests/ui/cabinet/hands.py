"""Hands at the Cabinet, and what they look at."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from gambrel.services.books import Book
from gambrel.services.cabinet import cabinet
from gambrel.ui.cabinet.lines_model import Column
from gambrel.ui.cabinet.place import CabinetPlace
from gambrel.ui.context import Context
from gambrel.ui.widgets.keypad import Keypad

LEFT = Qt.MouseButton.LeftButton
Contexts = Callable[[Book], Context]


def made(context: Context, qtbot: QtBot) -> CabinetPlace:
    place = CabinetPlace(context)
    context.changes.changed.connect(lambda _kinds: place.refresh())
    qtbot.addWidget(place)
    place.resize(1280, 736)
    place.show()
    return place


def tap_line(place: CabinetPlace, qtbot: QtBot, name: str) -> None:
    table = place.view.table
    number = next(n for n, row in enumerate(table.lines.rows) if row.name == name)
    index = table.lines.index(number, Column.NAME)
    table.scrollTo(index)
    qtbot.mouseClick(table.viewport(), LEFT, pos=table.visualRect(index).center())


def type_price(place: CabinetPlace, qtbot: QtBot, text: str) -> None:
    for key in text:
        qtbot.mouseClick(place.view.price.keypad.keys[key], LEFT)


def today(book: Book, cut: str) -> int:
    return cabinet(book, datetime(2026, 11, 21, 4, tzinfo=UTC)).prices[cut]


def press(keypad: Keypad, qtbot: QtBot, text: str) -> None:
    for key in text:
        qtbot.mouseClick(keypad.keys[key], LEFT)
