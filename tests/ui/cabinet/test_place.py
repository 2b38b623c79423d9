"""The Cabinet on the demo shop: its lines, filters and tickets, by touch and by keyboard alone."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from gambrel.domain.costing.methods import Method
from gambrel.services.books import Book, open_book
from gambrel.services.cabinet import cabinet, costs_by_method
from gambrel.services.words import formats_for
from gambrel.ui.cabinet.lines_model import FOUR, Column
from gambrel.ui.cabinet.place import CabinetPlace
from gambrel.ui.cabinet.view import TICKETS
from gambrel.ui.tasks import PoolTasks
from tests.trades import a_shop
from tests.ui.cabinet.hands import LEFT, Contexts, made


def test_lines_say_cost_price_margin_and_state(place: CabinetPlace, book: Book) -> None:
    rows = {row.name: row for row in place.view.table.lines.rows}
    assert rows["Rump"].price == "$27.99"
    found = cabinet(book, datetime(2026, 11, 21, 4, tzinfo=UTC))
    line = found.line("rump")
    assert line is not None
    assert line.margin is not None
    assert rows["Rump"].word == ("thin" if line.margin < found.target else "fine")
    assert "margin" in rows["Rump"].words
    assert place.view.table.rowHeight(0) >= 56


def test_filters_and_search_narrow_the_lines(place: CabinetPlace, qtbot: QtBot) -> None:
    everything = len(place.view.table.lines.rows)
    qtbot.mouseClick(place.view.chips["lamb"], LEFT)
    lamb = {row.name for row in place.view.table.lines.rows}
    assert lamb
    assert len(lamb) < everything
    assert "Rump" not in lamb
    qtbot.mouseClick(place.view.chips["all"], LEFT)
    qtbot.keyClicks(place.view.search, "RUMP")
    assert {row.name for row in place.view.table.lines.rows} == {"Rump", "Rump cap", "Rump steak"}


def test_costs_stand_side_by_side_while_they_are_wished(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    table = place.view.table
    assert table.isColumnHidden(Column.BY_WEIGHT)
    qtbot.mouseClick(place.view.four_button, LEFT)
    assert not any(table.isColumnHidden(column) for column in FOUR)
    assert table.isColumnHidden(Column.COST)
    side = costs_by_method(book, datetime(2026, 11, 21, 4, tzinfo=UTC))
    row = next(row for row in table.lines.rows if row.key == "rump")
    formats = formats_for(a_shop())
    for method, text in zip(Method, row.costs, strict=True):
        costs = side[method]
        assert costs is not None
        assert text == formats.per_kilo(costs["rump"])
    assert "by weight" in row.words
    qtbot.mouseClick(place.view.four_button, LEFT)
    assert all(table.isColumnHidden(column) for column in FOUR)


def test_a_ticket_is_chosen_by_keyboard_alone(place: CabinetPlace, qtbot: QtBot) -> None:
    place.view.show_panel(TICKETS)
    place.view.table.setFocus()
    qtbot.keyClick(place.view.table, Qt.Key.Key_Down)
    qtbot.keyClick(place.view.table, Qt.Key.Key_Space)
    assert place.view.tickets.count.text() == "1 cut chosen"


def test_new_prices_of_the_week_are_chosen_at_once(place: CabinetPlace, qtbot: QtBot) -> None:
    qtbot.mouseClick(place.view.tabs.button(TICKETS), LEFT)
    qtbot.mouseClick(place.view.tickets.ticks["changed"], LEFT)
    ticked = place.view.table.lines.ticked
    assert ticked is not None
    assert {"rump-steak", "beef-mince"} <= ticked
    assert "tenderloin" not in ticked


def test_the_book_is_read_off_the_window_s_thread(
    book: Book, context_of: Contexts, qtbot: QtBot
) -> None:
    tasks = PoolTasks()
    found = made(replace(context_of(book), tasks=tasks), qtbot)
    with qtbot.waitSignal(found.view.table.lines.modelReset, timeout=5000):
        found.refresh()
    assert found.view.table.lines.rows
    tasks.wait()


def test_an_empty_book_says_what_to_do(tmp_path: Path, context_of: Contexts, qtbot: QtBot) -> None:
    with open_book(str(tmp_path / "empty.gambrel")) as book:
        with book.transaction() as work:
            work.set_shop(a_shop())
        found = made(context_of(book), qtbot)
        found.refresh()
        with qtbot.waitSignal(found.go) as gone:
            qtbot.mouseClick(found.empty.action, LEFT)
        assert gone.args == ["rail", ""]


def test_targets_are_large_enough_for_a_finger_on_a_small_tablet(place: CabinetPlace) -> None:
    from gambrel.ui.widgets.button import Button

    place.resize(1024, 536)
    shown = [button for button in place.findChildren(Button) if button.isVisible()]
    assert shown
    assert all(min(button.width(), button.height()) >= 44 for button in shown)
    assert all(button.accessibleName() for button in shown)
