"""A cut's price at the Cabinet: set, asked about, refused, undone."""

from __future__ import annotations

from datetime import UTC, datetime

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from gambrel.domain.costing.methods import Method
from gambrel.services.books import Book
from gambrel.services.cabinet import dropped
from gambrel.services.words import formats_for
from gambrel.ui.cabinet.place import CabinetPlace
from gambrel.ui.theme import Meaning
from tests.trades import a_shop
from tests.ui.cabinet.hands import LEFT, tap_line, today, type_price


def test_a_price_is_set_and_undone_by_touch_alone(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    tap_line(place, qtbot, "Rump")
    assert place.view.price.name.text() == "Rump"
    type_price(place, qtbot, "29.99")
    assert place.view.price.price.value == "$29.99"
    assert "→" in place.view.price.effects.margins[0].text()
    assert "+$2.00 a kilo" in place.view.price.effects.more[0].text()
    qtbot.mouseClick(place.view.price.set_button, LEFT)
    assert today(book, "rump") == 2999
    assert place.view.price.keypad.text == ""
    assert place.view.price.undo_button.caption == "Rump"
    qtbot.mouseClick(place.view.price.undo_button, LEFT)
    assert today(book, "rump") == 2799
    assert place.view.banner.meaning is Meaning.FINE
    assert not place.view.price.undo_button.isEnabled()


def test_a_price_is_set_by_keyboard_alone(place: CabinetPlace, book: Book, qtbot: QtBot) -> None:
    table = place.view.table
    table.setFocus()
    qtbot.keyClick(table, Qt.Key.Key_Down)
    name = place.view.price.name.text()
    cut = next(row.key for row in table.lines.rows if row.name == name)
    qtbot.keyClicks(table, "16.49")
    qtbot.keyClick(table, Qt.Key.Key_Return)
    assert today(book, cut) == 1649


def test_another_line_starts_with_an_empty_keypad(place: CabinetPlace, qtbot: QtBot) -> None:
    tap_line(place, qtbot, "Rump")
    type_price(place, qtbot, "29")
    tap_line(place, qtbot, "Shin")
    assert place.view.price.keypad.text == ""
    assert not place.view.price.set_button.isEnabled()


def test_a_slip_is_asked_about_and_may_be_meant(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    tap_line(place, qtbot, "Rump")
    type_price(place, qtbot, "279")
    qtbot.mouseClick(place.view.price.set_button, LEFT)
    assert "decimal point" in place.view.banner.sentence
    assert today(book, "rump") == 2799
    qtbot.mouseClick(place.view.banner.action, LEFT)
    assert today(book, "rump") == 27900


def test_a_price_of_nothing_is_refused_in_place(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    tap_line(place, qtbot, "Rump")
    type_price(place, qtbot, "0")
    assert "above zero" in place.view.price.fault.sentence
    assert not place.view.price.set_button.isEnabled()
    qtbot.keyClick(place.view.table, Qt.Key.Key_Return)
    assert today(book, "rump") == 2799


def test_a_loss_by_weight_says_what_dropping_it_would_do(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    qtbot.mouseClick(place.view.method_button, LEFT)
    lost = next(row for row in place.view.table.lines.rows if row.word == "below cost")
    assert lost.note == "may still pay"
    tap_line(place, qtbot, lost.name)
    said = dropped(book, lost.key, datetime(2026, 11, 21, 4, tzinfo=UTC), Method.WEIGHT)
    assert said.worse > 0
    worse = formats_for(a_shop()).money(said.worse)
    warning = place.view.price.warning.sentence
    assert f"would have earned {worse} less in four weeks" in warning
