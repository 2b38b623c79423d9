"""The Week on the demo shop: what it shows, how it turns, what it keeps."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from gambrel.services.books import Book
from gambrel.services.words import formats_for
from gambrel.ui.context import Context
from gambrel.ui.tasks import SyncTasks
from gambrel.ui.theme import Theme
from gambrel.ui.week.pictures import TABLE
from gambrel.ui.week.place import WeekPlace
from tests.demo_book import open_demo

SATURDAY = datetime(2026, 11, 21, 3, tzinfo=UTC)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with open_demo(tmp_path / "demo.gambrel") as opened:
        yield opened


@pytest.fixture
def place(book: Book, qtbot: QtBot, tmp_path: Path) -> WeekPlace:
    with book.reading() as work:
        shop = work.shop()
    assert shop is not None
    context = Context(
        book, Theme(), formats_for(shop), lambda: SATURDAY, SyncTasks(), "test station"
    )
    made = WeekPlace(context, lambda name, kind: str(tmp_path / ("out" if kind == "csv" else name)))
    qtbot.addWidget(made)
    made.resize(1280, 720)
    made.show()
    made.refresh()
    return made


def test_the_week_of_today_is_shown_with_its_five_figures(place: WeekPlace) -> None:
    assert place.view.title.text().startswith("W47")
    shown = {card.figure.accessibleName().split(" $")[0] for card in place.view.cards}
    assert {"Bought", "Unexplained loss"} <= shown
    assert all(card.last.text().startswith("last week") for card in place.view.cards)


def test_what_earns_most_stands_first_and_what_went_wrong_is_said(place: WeekPlace) -> None:
    rows = place.view.pictures.cuts.texts()
    takings = [float(row[5].strip("$").replace(",", "")) for row in rows if row[5] != "—"]
    assert takings == sorted(takings, reverse=True)
    assert [row[0] for row in place.view.pictures.bodies.texts()], "bodies were broken in this week"
    spoken = [label.text() for label in place.view.exceptions.findChildren(type(place.view.title))]
    assert any("HQ-16" in sentence and "unexplained" in sentence for sentence in spoken)


def test_weeks_turn_by_touch_and_an_empty_one_says_so(place: WeekPlace, qtbot: QtBot) -> None:
    qtbot.mouseClick(place.view.back, Qt.MouseButton.LeftButton)
    assert place.view.title.text().startswith("W46")
    for _ in range(3):
        qtbot.mouseClick(place.view.back, Qt.MouseButton.LeftButton)
    assert place.view.pages.currentWidget() is place.view.empty, "before the shop's first body"
    for _ in range(4):
        qtbot.mouseClick(place.view.forth, Qt.MouseButton.LeftButton)
    assert place.view.title.text().startswith("W47")


def test_tables_change_by_keyboard(place: WeekPlace, qtbot: QtBot) -> None:
    place.view.pictures.show_segment(TABLE)
    place.view.pictures.by_body.setFocus()
    qtbot.keyClick(place.view.pictures.by_body, Qt.Key.Key_Space)
    assert place.view.pictures.tables.currentWidget() is place.view.pictures.bodies


def test_the_week_and_its_days_are_shown_as_they_will_be_printed(
    place: WeekPlace, qtbot: QtBot
) -> None:
    qtbot.mouseClick(place.view.print_button, Qt.MouseButton.LeftButton)
    desk = place.desk
    assert desk.isVisible()
    assert desk.view.title.text() == "Weekly sheet, 2026-W47"
    assert desk.view.preview.where.text().startswith("1 of ")
    qtbot.mouseClick(desk.view.options.what.on, Qt.MouseButton.LeftButton)
    assert desk.view.title.text() == "Daily sheet, 2026-11-16"
    assert desk.view.banner.sentence == ""
    for _ in range(6):
        desk.view.options.what.step(1)
    assert desk.view.title.text() == "Daily sheet, 2026-11-22"
    assert not desk.view.options.what.on.isEnabled()
    qtbot.mouseClick(desk.view.back, Qt.MouseButton.LeftButton)
    assert place.view.isVisible()


@pytest.mark.parametrize(("kind", "wanted"), [("pdf", b"%PDF"), ("xlsx", b"PK"), ("csv", b"")])
def test_the_sheet_is_kept_whole(
    place: WeekPlace, qtbot: QtBot, tmp_path: Path, kind: str, wanted: bytes
) -> None:
    qtbot.mouseClick(place.view.saves[kind], Qt.MouseButton.LeftButton)
    assert "Saved" in place.view.banner.sentence
    if kind == "csv":
        assert list((tmp_path / "out").glob("*.csv"))
    else:
        assert (tmp_path / f"week-2026-W47.{kind}").read_bytes().startswith(wanted)


def test_a_place_that_cannot_be_written_is_refused_in_words(
    book: Book, qtbot: QtBot, tmp_path: Path, place: WeekPlace
) -> None:
    (tmp_path / "week-2026-W47.pdf").mkdir()
    qtbot.mouseClick(place.view.saves["pdf"], Qt.MouseButton.LeftButton)
    assert "Choose another place" in place.view.banner.sentence


@pytest.mark.parametrize("size", [(1280, 720), (1024, 540), (1920, 1000)])
def test_every_control_is_a_finger_wide_and_named(place: WeekPlace, size: tuple[int, int]) -> None:
    place.resize(*size)
    pictures = place.view.pictures
    pictures.show_segment(TABLE)
    buttons = [place.view.back, place.view.forth, pictures.by_cut, pictures.by_body]
    buttons += pictures.segments
    for button in [*buttons, place.view.print_button, *place.view.saves.values()]:
        assert min(button.width(), button.height()) >= 44
        assert button.accessibleName() or button.text()


@pytest.mark.parametrize("size", [(1280, 720), (1024, 540)])
def test_the_name_of_every_body_is_read_in_full(
    place: WeekPlace, size: tuple[int, int], dressed: Theme, qtbot: QtBot
) -> None:
    place.resize(*size)
    place.view.pictures.show_segment(TABLE)
    place.view.pictures.by_body.click()
    table = place.view.pictures.bodies
    metrics = table.fontMetrics()
    qtbot.waitUntil(lambda: table.isVisible() and table.columnWidth(0) > 0)
    for row in table.texts():
        assert metrics.horizontalAdvance(row[0]) + 16 <= table.columnWidth(0), row[0]


def test_a_low_screen_keeps_five_rows_in_sight(
    place: WeekPlace, dressed: Theme, qtbot: QtBot
) -> None:
    table, card = place.view.pictures.cuts, place.view.cards[0]
    place.view.pictures.show_segment(TABLE)
    place.resize(1024, 536)
    qtbot.waitUntil(lambda: table.viewport().height() >= 5 * table.rowHeight(0))
    assert card.last.isVisible()
    assert card.usual.isVisible()
    assert card.more.text() in card.toolTip(), "what it means is told all the same"
    place.resize(1280, 736)
    qtbot.waitUntil(card.more.isVisible)
