"""What the Cabinet shows of a panel where the screen is low: a tablet of 1024 by 600."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QAbstractScrollArea, QWidget
from pytestqt.qtbot import QtBot

from gambrel.domain.prices.cabinet import LineState
from gambrel.services.books import Book, open_book
from gambrel.ui.cabinet.line_painter import PADS
from gambrel.ui.cabinet.lines_model import Column
from gambrel.ui.cabinet.place import CabinetPlace
from gambrel.ui.cabinet.tickets_panel import LABELS
from gambrel.ui.cabinet.view import SOLVE, TICKETS
from gambrel.ui.context import Context
from gambrel.ui.theme import Theme
from gambrel.ui.widgets.painting import text_width
from tests.trades import CUTS, a_shop

LOW, TALL = (1024, 536), (1280, 736)
LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def place(demo: Book, context_of: Callable[[Book], Context], qtbot: QtBot) -> CabinetPlace:
    made = CabinetPlace(context_of(demo))
    qtbot.addWidget(made)
    made.resize(*LOW)
    made.show()
    made.refresh()
    return made


def seen_whole(widget: QWidget) -> bool:
    """Whether nothing of a widget is scrolled out of sight."""
    parent = widget.parentWidget()
    while parent is not None and not isinstance(parent, QAbstractScrollArea):
        parent = parent.parentWidget()
    assert isinstance(parent, QAbstractScrollArea), "it stands in an area that scrolls"
    view = parent.viewport()
    upper = widget.mapTo(view, QPoint(0, 0)).y()
    return widget.isVisible() and upper >= 0 and upper + widget.height() <= view.height()


def test_a_proposal_has_the_room_and_what_was_chosen_folds_away(
    place: CabinetPlace, qtbot: QtBot
) -> None:
    solve = place.view.solve
    qtbot.mouseClick(place.view.tabs.button(SOLVE), LEFT)
    solve.kinds["week"].click()
    rows = list(solve.rows.values())
    qtbot.waitUntil(lambda: seen_whole(rows[2]))
    assert not solve.settings.isVisible()
    assert solve.fold_button.text() == "This week · 33 % · Ends in .99"
    qtbot.mouseClick(solve.fold_button, LEFT)
    qtbot.waitUntil(lambda: seen_whole(solve.endings))
    qtbot.mouseClick(solve.target.on, LEFT)
    assert solve.settings.isVisible(), "it stays open while something is being chosen"
    qtbot.mouseClick(solve.fold_button, LEFT)
    assert solve.fold_button.text() == "This week · 34 % · Ends in .99"
    place.resize(*TALL)
    qtbot.waitUntil(lambda: seen_whole(solve.endings))
    assert not solve.fold_button.isVisible()


def test_every_way_to_choose_tickets_is_seen_at_once(place: CabinetPlace, qtbot: QtBot) -> None:
    panel = place.view.tickets
    qtbot.mouseClick(place.view.tabs.button(TICKETS), LEFT)
    long = "Rolled shoulder with a stuffing of bread and herbs $127.99 → $131.49 (special began)"
    panel.show_reprints("Reprint · 12", f"In the cabinet stands another price: {long}; {long}.")
    qtbot.waitUntil(lambda: all(seen_whole(button) for button in panel.ticks.values()))
    assert not panel.ticks["none"].isEnabled(), "nothing is chosen"
    qtbot.mouseClick(panel.ticks["shown"], LEFT)
    assert panel.count.text() == f"{len(place.view.table.lines.rows)} cuts chosen"
    qtbot.mouseClick(panel.ticks["none"], LEFT)
    assert panel.count.text() == "No cut chosen"
    assert not panel.print_button.isEnabled()


def test_what_a_price_would_do_is_read_before_anything_else(
    place: CabinetPlace, qtbot: QtBot
) -> None:
    price = place.view.price
    for key in "31":
        qtbot.mouseClick(price.keypad.keys[key], LEFT)
    assert all(more.text() for more in price.effects.more), "cut, body and week would change"
    qtbot.waitUntil(lambda: seen_whole(price.effects))
    place.open_item("rump")
    qtbot.waitUntil(lambda: seen_whole(price.facts))
    place.view.method_button.click()
    place.open_item("beef-mince")
    assert price.warning.sentence, "by weight it shows a loss"
    qtbot.waitUntil(lambda: seen_whole(price.effects) and price.warning.y() < price.facts.y())


def test_the_foot_note_stands_on_one_line_beside_its_buttons(
    place: CabinetPlace, qtbot: QtBot
) -> None:
    place.resize(*TALL)
    note = place.view.footer
    assert "Open work is left out." in note.text()
    words = note.fontMetrics().horizontalAdvance(note.text())
    qtbot.waitUntil(lambda: words <= note.contentsRect().width())


def test_the_word_of_every_state_is_read_in_full(place: CabinetPlace, dressed: Theme) -> None:
    beside_the_word = PADS + 34 + 6
    room = place.view.table.columnWidth(Column.STATE) - beside_the_word
    for state in LineState:
        assert text_width(dressed.font(16), state.value) <= room, state.value


def test_without_a_piece_to_label_it_is_said_where_they_come_from(
    tmp_path: Path, context_of: Callable[[Book], Context], qtbot: QtBot
) -> None:
    with open_book(str(tmp_path / "cuts.gambrel")) as book:
        with book.transaction() as work:
            work.set_shop(a_shop())
            work.add(list(CUTS))
        place = CabinetPlace(context_of(book))
        qtbot.addWidget(place)
        place.show()
        place.refresh()
        place.view.show_panel(TICKETS)
        place.view.tickets.turn(LABELS)
        assert place.view.tickets.piece_count.text().startswith("There is no piece to label.")
        assert not place.view.tickets.pieces.today_button.isEnabled()
