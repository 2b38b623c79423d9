"""Specials at the Cabinet: set, told, ended, undone."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from gambrel.domain.prices.limits import Limit
from gambrel.services.books import Book
from gambrel.services.solve_rules import solve_rules
from gambrel.services.specials import set_special
from gambrel.ui.cabinet.place import CabinetPlace
from gambrel.ui.cabinet.view import PRICE, SOLVE
from tests.ui.cabinet.hands import LEFT, Contexts, made, press, tap_line, today, type_price
from tests.ui.conftest import MovingClock


def test_a_special_is_set_shown_ended_and_undone_by_touch(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    tap_line(place, qtbot, "Rump")
    qtbot.mouseClick(place.view.price.special_button, LEFT)
    special = place.view.special
    assert (special.first.text.text(), special.last.text.text()) == ("Fri 27 Nov", "Sun 29 Nov")
    while special.first.text.text() != "Sat 21 Nov":
        qtbot.mouseClick(special.first.back, LEFT)
    while special.last.text.text() != "Sun 22 Nov":
        qtbot.mouseClick(special.last.back, LEFT)
    press(special.keypad, qtbot, "21.99")
    assert "2 days at $21.99. On Mon 23 Nov the regular price returns" in special.plan.text()
    qtbot.mouseClick(special.set_button, LEFT)
    assert place.view.stack.currentIndex() == PRICE
    row = next(row for row in place.view.table.lines.rows if row.key == "rump")
    assert (row.price, row.was, row.note) == ("$21.99", "was $27.99", "special until 22 Nov")
    price = place.view.price
    assert "until Sun 22 Nov, from Mon 23 Nov $27.99 again" in price.special.text()
    assert today(book, "rump") == 2199
    qtbot.mouseClick(price.end_button, LEFT)
    assert today(book, "rump") == 2799
    assert not price.end_button.isVisible()
    qtbot.mouseClick(price.undo_button, LEFT)
    assert today(book, "rump") == 2199
    assert price.end_button.isVisible()


def test_a_regular_price_while_a_special_runs_says_from_when(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    now = datetime(2026, 11, 21, 3, tzinfo=UTC)
    days = (now.date(), now.date() + timedelta(days=1))
    set_special(book, "rump", 2199, days, now)
    place.refresh()
    tap_line(place, qtbot, "Rump")
    assert place.view.price.set_button.text() == "Set regular"
    type_price(place, qtbot, "28.99")
    qtbot.mouseClick(place.view.price.set_button, LEFT)
    assert today(book, "rump") == 2199
    assert "from Mon 23 Nov $28.99 again" in place.view.price.special.text()
    qtbot.mouseClick(place.view.price.undo_button, LEFT)
    assert "from Mon 23 Nov $27.99 again" in place.view.price.special.text()


def test_days_and_prices_that_cannot_be_are_said_beside_them(
    place: CabinetPlace, qtbot: QtBot
) -> None:
    tap_line(place, qtbot, "Rump")
    qtbot.mouseClick(place.view.price.special_button, LEFT)
    special = place.view.special
    for _ in range(3):
        qtbot.mouseClick(special.last.back, LEFT)
    press(special.keypad, qtbot, "21.99")
    assert "end before it starts" in special.fault.sentence
    assert not special.set_button.isEnabled()
    qtbot.mouseClick(special.last.on, LEFT)
    assert special.fault.sentence == ""
    special.keypad.clear()
    press(special.keypad, qtbot, "27.99")
    assert "regular price of Rump" in special.fault.sentence
    special.keypad.clear()
    press(special.keypad, qtbot, "0")
    assert "above zero" in special.fault.sentence
    special.keypad.clear()
    press(special.keypad, qtbot, "29.99")
    assert "dearer than today" in special.fault.sentence
    assert special.set_button.isEnabled()


def test_a_special_that_ends_by_itself_is_seen_without_anybody_s_act(
    book: Book, context_of: Contexts, qtbot: QtBot
) -> None:
    clock = MovingClock()
    set_special(book, "rump", 2199, (date(2026, 11, 21), date(2026, 11, 22)), clock())
    place = made(replace(context_of(book), clock=clock), qtbot)
    place.refresh()

    def price() -> str:
        return next(row.price for row in place.view.table.lines.rows if row.key == "rump")

    place.look_again()
    assert price() == "$21.99"
    clock.moment += timedelta(days=2)
    assert price() == "$21.99"
    place.look_again()
    assert price() == "$27.99"


def test_bounds_and_specials_are_set_by_keyboard_alone(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    solve, limits, special = place.view.solve, place.view.limits, place.view.special
    place.view.tabs.button(SOLVE).setFocus()
    qtbot.keyClick(place.view.tabs.button(SOLVE), Qt.Key.Key_Return)
    qtbot.keyClick(solve.kinds["week"], Qt.Key.Key_Return)
    qtbot.keyClick(solve.rows["rump"].open, Qt.Key.Key_Return)
    limits.fields["ceiling"].setFocus()
    qtbot.keyClicks(limits.fields["ceiling"], "29.9")
    qtbot.keyClick(limits.keep_button, Qt.Key.Key_Return)
    rules = solve_rules(book)
    assert rules is not None
    assert rules.limits == {"rump": Limit(ceiling=2990)}
    place.open_item("rump")
    qtbot.keyClick(place.view.price.special_button, Qt.Key.Key_Return)
    special.last.setFocus()
    qtbot.keyClick(special.last, Qt.Key.Key_Left)
    qtbot.keyClicks(special.last.on, "21.99")
    qtbot.keyClick(special.set_button, Qt.Key.Key_Return)
    assert "from Fri 27 Nov to Sat 28 Nov" in place.view.price.special.text()
