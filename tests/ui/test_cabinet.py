"""The Cabinet on the demo shop, by touch alone and by keyboard alone."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from gambrel.services.books import Book, open_book
from gambrel.services.cabinet import cabinet
from gambrel.ui.cabinet.place import CabinetPlace
from gambrel.ui.cabinet.state import LOSS_BY_WEIGHT
from gambrel.ui.cabinet.table import Column
from gambrel.ui.cabinet.view import SOLVE, TICKETS
from gambrel.ui.context import Context
from gambrel.ui.tasks import PoolTasks
from gambrel.ui.theme import Meaning
from tests.demo_book import load_demo
from tests.trades import a_shop

LEFT = Qt.MouseButton.LeftButton
Contexts = Callable[[Book], Context]


@pytest.fixture(scope="module")
def loaded(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return load_demo(tmp_path_factory.mktemp("demo") / "demo.gambrel")


@pytest.fixture
def book(loaded: Path, tmp_path: Path) -> Iterator[Book]:
    copied = shutil.copy(loaded, tmp_path / "demo.gambrel")
    with open_book(str(copied)) as opened:
        yield opened


def made(context: Context, qtbot: QtBot) -> CabinetPlace:
    place = CabinetPlace(context)
    context.changes.changed.connect(lambda _kinds: place.refresh())
    qtbot.addWidget(place)
    place.resize(1280, 736)
    place.show()
    return place


@pytest.fixture
def place(book: Book, context_of: Contexts, qtbot: QtBot) -> CabinetPlace:
    found = made(context_of(book), qtbot)
    found.refresh()
    return found


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


def test_a_price_is_set_and_undone_by_touch_alone(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    tap_line(place, qtbot, "Rump")
    assert place.view.price.name.text() == "Rump"
    type_price(place, qtbot, "29.99")
    assert place.view.price.price.value == "$29.99"
    assert "→" in place.view.price.effects[0].text()
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
    qtbot.mouseClick(place.view.price.set_button, LEFT)
    assert "above zero" in place.view.banner.sentence
    assert today(book, "rump") == 2799


def test_a_loss_by_weight_carries_its_warning(place: CabinetPlace, qtbot: QtBot) -> None:
    qtbot.mouseClick(place.view.method_button, LEFT)
    lost = next(row for row in place.view.table.lines.rows if row.word == "below cost")
    tap_line(place, qtbot, lost.name)
    assert place.view.price.warning.sentence == LOSS_BY_WEIGHT


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


def test_a_body_is_solved_held_taken_and_undone(
    place: CabinetPlace, book: Book, qtbot: QtBot
) -> None:
    before = cabinet(book, datetime(2026, 11, 21, 4, tzinfo=UTC)).prices
    qtbot.mouseClick(place.view.tabs.button(SOLVE), LEFT)
    while place.view.solve.body.text.text() != "Hindquarter 16":
        qtbot.mouseClick(place.view.solve.body.on, LEFT)
    solve = place.view.solve
    assert "→" in solve.summary.text()
    qtbot.mouseClick(solve.rows["rump"], LEFT)
    assert "held" in solve.rows["rump"].caption
    assert cabinet(book, datetime(2026, 11, 21, 4, tzinfo=UTC)).prices == before
    qtbot.mouseClick(solve.take_button, LEFT)
    found = cabinet(book, datetime(2026, 11, 21, 4, tzinfo=UTC))
    after, earned = found.prices, found.basket("HQ-16").margin(found.prices, found.tax)
    assert earned is not None
    assert earned >= found.target
    assert after["rump"] == before["rump"]
    assert after != before
    qtbot.mouseClick(solve.undo_button, LEFT)
    assert cabinet(book, datetime(2026, 11, 21, 4, tzinfo=UTC)).prices == before


def test_tickets_of_the_chosen_cuts_are_saved(
    place: CabinetPlace, qtbot: QtBot, tmp_path: Path
) -> None:
    pdf = tmp_path / "tickets.pdf"
    place.ask_path = lambda name: str(pdf) if name.endswith(".pdf") else ""
    qtbot.mouseClick(place.view.tabs.button(TICKETS), LEFT)
    assert not place.view.tickets.save_button.isEnabled()
    tap_line(place, qtbot, "Rump")
    tap_line(place, qtbot, "Shin")
    tap_line(place, qtbot, "Shin")
    assert place.view.tickets.count.text() == "1 cut chosen"
    qtbot.mouseClick(place.view.tickets.save_button, LEFT)
    assert pdf.read_bytes().startswith(b"%PDF")
    assert place.view.banner.sentence == "1 ticket is saved in tickets.pdf."
    page = PdfReader(pdf).pages[0].extract_text()
    assert "Rump" in page
    assert "27.99" in page.replace("\n", "").replace(" ", "")
    assert "Shin" not in page


def test_a_ticket_is_chosen_by_keyboard_alone(place: CabinetPlace, qtbot: QtBot) -> None:
    place.view.show_panel(TICKETS)
    place.view.table.setFocus()
    qtbot.keyClick(place.view.table, Qt.Key.Key_Down)
    qtbot.keyClick(place.view.table, Qt.Key.Key_Space)
    assert place.view.tickets.count.text() == "1 cut chosen"
    qtbot.keyClick(place.view.tickets.paper.on, Qt.Key.Key_Return)
    assert place.view.tickets.paper.index == 1


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
