"""The pictures of the Week, and what opens from them: by finger, by keyboard, at every size."""

from __future__ import annotations

import csv
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import TypeVar

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from gambrel.domain.numbers.money import Currency
from gambrel.domain.sheets.behind import Wish, WishKind
from gambrel.domain.trade.catalogue import Cut, CutKind, Supplier
from gambrel.domain.trade.records import Source, StageKind, Trade
from gambrel.services.books import Book, open_book
from gambrel.ui.context import Context
from gambrel.ui.theme import Theme
from gambrel.ui.week.pictures import COSTS, MONEY, TABLE, YIELDS
from gambrel.ui.week.place import WeekPlace
from tests.trades import START, Bench, a_shop
from tests.ui.walk import cut_labels, nameless, out_of_reach, outside, painted_short, too_small

SIZES = [(1280, 736), (1024, 536), (1920, 1016)]
T = TypeVar("T")
ContextOf = Callable[[Book], Context]


@pytest.fixture
def place(demo: Book, context_of: ContextOf, qtbot: QtBot, tmp_path: Path) -> WeekPlace:
    return shown(context_of(demo), qtbot, tmp_path)


def shown(context: Context, qtbot: QtBot, tmp_path: Path) -> WeekPlace:
    made = WeekPlace(context, lambda name, _kind: str(tmp_path / name))
    qtbot.addWidget(made)
    made.resize(1280, 736)
    made.show()
    made.refresh()
    return made


def described(widget: QWidget) -> str:
    return QAccessible.queryAccessibleInterface(widget).text(QAccessible.Text.Description)


def last_money(place: WeekPlace) -> str:
    """The money in the panel's sum."""
    return place.view.behind.sum.text().rpartition(", ")[2]


def column(place: WeekPlace, number: int) -> list[str]:
    return [row[number] for row in place.view.behind.table.texts.rows]


def cents(text: str) -> int:
    return int(
        text.replace("\N{MINUS SIGN}", "-").replace("$", "").replace(",", "").replace(".", "")
    )


def test_every_figure_opens_to_rows_that_come_to_it(place: WeekPlace, qtbot: QtBot) -> None:
    view = place.view
    for card in view.cards:
        qtbot.mouseClick(card, Qt.MouseButton.LeftButton)
        assert view.sides.currentWidget() is view.behind
        told = [card.figure.value, card.more.text()]
        money = last_money(place)
        grams = view.behind.sum.text().split(", ")[-2]
        kilos = f"{float(grams.removesuffix(' kg').replace(',', '')):,.1f} kg"
        assert any(money in text for text in told) or kilos in told, (told, money, kilos)
        assert sum(cents(text) for text in column(place, 6)) == cents(money)
        amounts = [cents(text) for text in column(place, 6)]
        assert amounts == sorted(amounts, reverse=True)
        qtbot.mouseClick(view.behind.back_button, Qt.MouseButton.LeftButton)
        assert view.sides.currentWidget() is view.pictures


def test_a_figure_opens_by_enter_and_tells_what_it_is(place: WeekPlace, qtbot: QtBot) -> None:
    card = place.view.cards[4]
    assert card.accessibleName().startswith("Unexplained loss: $62.42")
    assert "usual $" in card.accessibleName()
    card.setFocus()
    qtbot.keyClick(card, Qt.Key.Key_Return)
    assert place.view.behind.title.text() == "Unexplained loss"
    assert last_money(place) == "$62.42"


def test_a_bar_of_the_flow_opens_by_finger_and_by_keyboard(place: WeekPlace, qtbot: QtBot) -> None:
    flow = place.view.pictures.flow
    assert flow.plan is not None
    for column_at, labels in enumerate(flow.plan.columns):
        for number, label in enumerate(labels):
            spot = flow.slot(column_at, number).center().toPoint()
            qtbot.mouseClick(flow, Qt.MouseButton.LeftButton, pos=spot)
            assert last_money(place) == label.value.rpartition(", ")[0]
            qtbot.mouseClick(place.view.behind.back_button, Qt.MouseButton.LeftButton)
    flow.setFocus()
    for key in (Qt.Key.Key_Left, Qt.Key.Key_Left, Qt.Key.Key_Up, Qt.Key.Key_Right):
        qtbot.keyClick(flow, key)
    assert flow.cursor_at[0] == 1
    name = flow.plan.columns[1][flow.cursor_at[1]].name
    assert name in flow.accessibleName()
    qtbot.keyClick(flow, Qt.Key.Key_Return)
    assert last_money(place) in flow.accessibleName()


def test_the_flow_says_in_a_sentence_where_the_money_went(place: WeekPlace) -> None:
    words = described(place.view.pictures.flow)
    assert words.startswith("Of $6,601.09 went 82.4")
    assert "lost or thrown away" in words


def test_a_row_of_the_table_opens_a_cut_and_a_body_its_stages(
    place: WeekPlace, qtbot: QtBot
) -> None:
    pictures, behind = place.view.pictures, place.view.behind
    pictures.show_segment(TABLE)
    name = pictures.cuts.texts()[0][0]
    pictures.cuts.setFocus()
    pictures.cuts.setCurrentCell(0, 0)
    qtbot.keyClick(pictures.cuts, Qt.Key.Key_Return)
    assert behind.title.text() == name
    qtbot.mouseClick(behind.back_button, Qt.MouseButton.LeftButton)
    pictures.by_body.click()
    body = pictures.bodies.texts()[0][0]
    at = pictures.bodies.visualRect(pictures.bodies.model().index(0, 0)).center()
    qtbot.mouseClick(pictures.bodies.viewport(), Qt.MouseButton.LeftButton, pos=at)
    assert behind.title.text().startswith(f"{body}, ")
    assert column(place, 2)[0].startswith("Break, ")
    assert [each.heading for each in behind.table.texts.columns][:3] == ["Stage", "Body", "What"]
    qtbot.keyClick(behind.table, Qt.Key.Key_Return)
    assert behind.title.text().startswith("Break, ")
    assert set(column(place, 1)) == {body}
    qtbot.keyClick(behind.table, Qt.Key.Key_Escape)
    assert behind.title.text().startswith(f"{body}, ")
    qtbot.mouseClick(behind.back_button, Qt.MouseButton.LeftButton)
    assert place.view.sides.currentWidget() is pictures


def test_a_dot_opens_its_bodys_stage_and_a_row_its_cuts(place: WeekPlace, qtbot: QtBot) -> None:
    pictures = place.view.pictures
    qtbot.mouseClick(pictures.segments[YIELDS], Qt.MouseButton.LeftButton)
    rows = pictures.yields
    assert "8 more bodies" in rows.words(0, -1)
    qtbot.mouseClick(rows, Qt.MouseButton.LeftButton, pos=QPoint(30, 10))
    assert pictures.all_lists.isVisible()
    assert "Scotch fillet steak" in [rows.words(n, -1).split(":")[0] for n in range(rows.count())]
    dot = rows.dot_place(0, 0).toPoint()
    qtbot.mouseClick(rows, Qt.MouseButton.LeftButton, pos=dot)
    assert place.view.behind.title.text() == "Break, Cube roll carton, CTN-11"
    qtbot.mouseClick(place.view.behind.back_button, Qt.MouseButton.LeftButton)
    assert pictures.all_lists.isVisible(), "back comes to where it was"
    qtbot.mouseClick(pictures.all_lists, Qt.MouseButton.LeftButton)
    rows.setFocus()
    for key in (Qt.Key.Key_Down, Qt.Key.Key_Right, Qt.Key.Key_Return):
        qtbot.keyClick(rows, key)
    assert place.view.behind.title.text() == "Break, Forequarter, FQ-08"


def test_a_cost_line_opens_this_weeks_pieces(place: WeekPlace, qtbot: QtBot) -> None:
    pictures = place.view.pictures
    qtbot.mouseClick(pictures.segments[COSTS], Qt.MouseButton.LeftButton)
    first = pictures.costs.words(0, -1)
    assert first.startswith("Scotch fillet steak: $34.70 a kilo, ")
    assert "since W46" in first
    qtbot.mouseClick(pictures.costs, Qt.MouseButton.LeftButton, pos=QPoint(30, 10))
    assert place.view.behind.title.text() == "Scotch fillet steak"
    qtbot.mouseClick(place.view.behind.back_button, Qt.MouseButton.LeftButton)
    qtbot.mouseClick(pictures.cost_portions, Qt.MouseButton.LeftButton)
    assert pictures.costs.words(0, -1).startswith("Beef side: ")


def test_turning_the_week_closes_the_panel_and_a_refresh_keeps_it(
    place: WeekPlace, qtbot: QtBot
) -> None:
    qtbot.mouseClick(place.view.cards[0], Qt.MouseButton.LeftButton)
    place.refresh()
    assert place.view.sides.currentWidget() is place.view.behind
    qtbot.mouseClick(place.view.back, Qt.MouseButton.LeftButton)
    assert place.view.sides.currentWidget() is place.view.pictures


def test_the_list_is_kept_as_a_file_whose_money_is_the_figure(
    place: WeekPlace, qtbot: QtBot, tmp_path: Path
) -> None:
    qtbot.mouseClick(place.view.cards[0], Qt.MouseButton.LeftButton)
    qtbot.mouseClick(place.view.behind.save_button, Qt.MouseButton.LeftButton)
    with (tmp_path / "week-2026-W47-list.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert sum(cents(row["money"]) for row in rows) == 229_951
    assert {row["kind"] for row in rows} == {"body"}


class LaterTasks:
    """Keeps work until it is asked for, in any order."""

    def __init__(self) -> None:
        self.waiting: list[Callable[[], None]] = []

    def run_task(
        self,
        work: Callable[[], T],
        done: Callable[[T], None],
        failed: Callable[[Exception], None],
    ) -> None:
        value = work()
        self.waiting.append(lambda: done(value))


def test_the_week_that_was_asked_for_last_is_shown_whichever_is_read_first(
    demo: Book, context_of: ContextOf, qtbot: QtBot, tmp_path: Path
) -> None:
    tasks = LaterTasks()
    place = shown(replace(context_of(demo), tasks=tasks), qtbot, tmp_path)
    tasks.waiting.pop()()
    assert place.view.title.text().startswith("W47")
    qtbot.mouseClick(place.view.back, Qt.MouseButton.LeftButton)
    qtbot.mouseClick(place.view.back, Qt.MouseButton.LeftButton)
    early, late = tasks.waiting
    late()
    early()
    assert place.view.title.text().startswith("W45")


def test_what_is_gone_from_the_book_is_refused_in_words(place: WeekPlace) -> None:
    place.view.wished.emit(Wish(WishKind.BODY, "HQ-99"))
    assert "HQ-99 is not in this week" in place.view.banner.sentence
    assert place.view.sides.currentWidget() is place.view.pictures


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("segment", [MONEY, YIELDS, COSTS, TABLE, -1])
def test_all_is_large_named_within_reach_and_in_full(
    place: WeekPlace, qtbot: QtBot, size: tuple[int, int], segment: int
) -> None:
    place.resize(*size)
    if segment < 0:
        place.view.wished.emit(Wish(WishKind.SALEABLE))
    else:
        place.view.pictures.show_segment(segment)
    qtbot.waitUntil(lambda: place.view.width() == size[0])
    qtbot.wait(20)
    assert too_small(place, 44) == []
    assert nameless(place) == []
    assert out_of_reach(place) == []
    assert outside(place) == []
    assert cut_labels(place) == []
    assert painted_short(place) == []


@pytest.mark.parametrize("size", SIZES)
def test_a_finger_hits_every_bar_and_no_two_at_once(
    place: WeekPlace, qtbot: QtBot, size: tuple[int, int]
) -> None:
    place.resize(*size)
    flow = place.view.pictures.flow
    qtbot.waitUntil(lambda: place.view.width() == size[0])
    plan = flow.plan
    assert plan is not None
    slots = [
        flow.slot(number, n)
        for number, labels in enumerate(plan.columns)
        for n in range(len(labels))
    ]
    assert min(min(slot.width(), slot.height()) for slot in slots) >= 44 - 1e-6
    for number, slot in enumerate(slots):
        assert flow.rect().toRectF().contains(slot.center())
        assert not any(slot.intersects(other) for other in slots[number + 1 :])


# Other shops


def a_book(path: Path, trade: Trade) -> Book:
    book = open_book(str(path))
    with book.transaction() as work:
        work.set_shop(trade.shop)
        work.add([Supplier("farm", "Northfold Farm"), *trade.cuts, *trade.lists, *trade.bodies])
        work.add([*trade.stages, *trade.pieces, *trade.inputs])
    return book


def yen_shop(bodies: int) -> Bench:
    """Cuts with very long names and very large sums in a currency without decimals."""
    long = "Slow-cooked, hand-tied and seasoned shoulder of the house, boneless"
    cuts = tuple(
        Cut(f"c{n}", f"{long} {n}", "beef", CutKind.TRAY, 1_500_000 + n, 300) for n in range(20)
    )
    bench = Bench(
        a_shop(currency=Currency("JPY", 0), work_per_hour=400_000),
        (*cuts, Cut("m", "Mince", "beef", CutKind.TRAY, 90_000)),
    )
    for number in range(bodies):
        bench.now = START + timedelta(minutes=10 * number)
        stage = bench.stage(
            (Source.BODY, bench.body(120_000, 990_000), None), minutes=30, still_open=True
        )
        pieces = [bench.piece(stage, cut.key, 5_000) for cut in cuts]
        blend = bench.stage((Source.PIECE, pieces[0], None), kind=StageKind.BLEND, still_open=True)
        bench.piece(blend, "m", 4_900)
    return bench


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("bodies", [1, 60])
def test_long_names_large_sums_and_many_bodies_have_their_room(
    context_of: ContextOf, qtbot: QtBot, tmp_path: Path, size: tuple[int, int], bodies: int
) -> None:
    with a_book(tmp_path / "yen.gambrel", yen_shop(bodies).trade()) as book:
        context = context_of(book)
        place = shown(context, qtbot, tmp_path)
        week = place.view.title.text()
        assert week.startswith("W47"), week
        place.resize(*size)
        for segment in (MONEY, YIELDS, COSTS, TABLE):
            place.view.pictures.show_segment(segment)
            qtbot.wait(10)
            assert too_small(place, 44) == []
            assert outside(place) == []
            assert not [text for text in painted_short(place) if "\N{YEN SIGN}" in text]
        place.view.wished.emit(Wish(WishKind.SALEABLE))
        assert place.view.behind.table.texts.rowCount() == 20 * bodies
        assert "\N{YEN SIGN}" in place.view.behind.sum.text()
        place.close()


def test_a_week_in_which_bodies_only_came_says_that_nothing_moved(
    context_of: ContextOf, qtbot: QtBot, tmp_path: Path
) -> None:
    bench = Bench()
    bench.body(80_000, 900)
    with a_book(tmp_path / "quiet.gambrel", bench.trade()) as book:
        place = shown(context_of(book), qtbot, tmp_path)
        pictures = place.view.pictures
        assert pictures.captions[MONEY].text() == "No money was moved at the block in this week."
        assert not pictures.flow.isVisible()
        assert "No body was finished" in pictures.captions[YIELDS].text()
        for segment in (MONEY, YIELDS, COSTS, TABLE):
            pictures.show_segment(segment)
            assert painted_short(place) == []
        assert place.view.cards[0].usual.text() == "usual \N{EM DASH}"
        place.close()


def test_thousands_of_rows_open_without_making_a_widget_for_each(
    place: WeekPlace, dressed: Theme
) -> None:
    table = place.view.behind.table
    before = len(place.findChildren(QWidget))
    table.show_rows(
        [
            [f"P{n}", "B1", "Rump", "16 Nov, 10:42", "Ana", "1.000", "$1.00", "$1.00"]
            for n in range(20_000)
        ]
    )
    assert table.texts.rowCount() == 20_000
    assert len(place.findChildren(QWidget)) == before
