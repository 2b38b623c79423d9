"""The block with what a shop may well have: long names, few cuts, a norm of nothing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from gambrel.domain.trade.catalogue import Cut, CutKind, ListLine
from gambrel.domain.trade.records import Body
from gambrel.storage.book import Book
from gambrel.ui.block.place import BlockPlace
from tests.block_shop import BODIES, NOW
from tests.ui.block.fingers import Make, cut_key, said, tap, weigh
from tests.ui.walk import cut_labels, outside

LONG = "Boneless silverside with the eye removed, netted"
SIZES = ((1280, 800), (1024, 600), (1920, 1080))

Open = Callable[[list[tuple[str, str | None]]], BlockPlace]


def settle() -> None:
    for _ in range(2):
        QApplication.sendPostedEvents(None, int(QEvent.Type.LayoutRequest))
        QApplication.processEvents()


@pytest.fixture
def opened(book: Book, make: Make) -> Open:
    """Opens a quarter that is cut by a list of just these names and norms."""

    def made(cuts: list[tuple[str, str | None]]) -> BlockPlace:
        rows = [
            Cut(f"pork-{n}", name, "pork", CutKind.TRAY, 1500) for n, (name, _) in enumerate(cuts)
        ]
        lines = [
            ListLine("Own", "pork", "side", n, row.key, None if norm is None else Decimal(norm))
            for n, (row, (_, norm)) in enumerate(zip(rows, cuts, strict=True))
        ]
        body = Body(
            "SIDE-OF-THE-PIG-1", "pork", "side", "longbarn", NOW - timedelta(days=1), 40_000, 500
        )
        with book.transaction() as work:
            work.add([*rows, *lines, body])
        place = make()
        place.open_item(body.key)
        return place

    return made


def test_long_names_leave_what_lies_there_its_room(opened: Open) -> None:
    place = opened([("Leg", "30"), (LONG, "20")])
    place.let_in("Maximiliana Featherstonehaugh-Cholmondeley")
    place.resize(1024, 600)
    settle()
    top = place.view.top
    assert top.person_key.width() <= 220
    assert top.title.width() >= top.title.sizeHint().width()
    assert top.more.width() > 200


@pytest.mark.parametrize("size", SIZES)
def test_a_piece_with_a_long_name_is_told_whole(opened: Open, size: tuple[int, int]) -> None:
    place = opened([("Leg", "30"), (LONG, "20")])
    weigh(place, "pork-1", "4.386")
    place.resize(*size)
    tap(place.view.work.bottom.keys[0])
    settle()
    panel = place.view.work.panel
    assert panel.title.text() == f"{LONG} 4.386 kg"
    assert cut_labels(panel) == []
    assert outside(panel) == []


def test_the_finish_has_room_for_names(opened: Open) -> None:
    place = opened([("Leg", "30"), (LONG, "20")])
    weigh(place, "pork-1", "4.386")
    place.resize(1024, 600)
    tap(place.view.work.bottom.finish_key)
    settle()
    table = place.view.end.table
    name = table.item(1, 0)
    assert name is not None
    assert name.text() == LONG
    needed = table.fontMetrics().horizontalAdvance(LONG)
    assert table.columnWidth(0) > needed
    assert all(table.columnWidth(n) >= 130 for n in range(1, table.columnCount()))


def test_a_norm_of_nothing_is_no_norm(opened: Open) -> None:
    place = opened([("Leg", "30"), ("Trotters", "0"), ("Head", None)])
    shown = {key.cut.name: key.cut.norm for key in place.view.work.grid.keys if key.cut}
    assert shown == {"Leg": "of 12.0", "Trotters": "", "Head": ""}


def test_few_cuts_fill_a_low_window(opened: Open) -> None:
    place = opened([("Leg", "30"), ("Loin", "20"), ("Belly", "20"), ("Shoulder", "20")])
    place.resize(1024, 600)
    settle()
    grid = place.view.work.grid
    tall = cut_key(place, "pork-0").height()
    assert tall > 150
    assert grid.list_key.geometry().bottom() == grid.height() - 1
    assert grid.list_key.geometry().right() == grid.width() - 1
    assert outside(grid) == []


def test_a_body_that_lies_there_by_grams_alone(book: Book, make: Make) -> None:
    body = replace(BODIES[1], key="LAMB-4", received_g=4_000)
    with book.transaction() as work:
        work.add([body])
    place = make()
    place.open_item("LAMB-4")
    weigh(place, "lamb-leg", "1.264")
    assert place.view.work.bottom.left.text == "2.74 kg left"


@pytest.mark.parametrize("size", SIZES)
def test_a_piece_that_was_taken_back_tells_when_by_whom_and_why(
    opened: Open, size: tuple[int, int]
) -> None:
    place = opened([("Leg", "30"), (LONG, "20")])
    place.let_in("Ana")
    weigh(place, "pork-1", "4.386")
    tap(place.view.work.bottom.undo_key)
    weigh(place, "pork-0", "6")
    place.resize(*size)
    tap(place.view.work.bottom.all_key)
    settle()
    panel = place.view.work.panel
    assert [key.text()[:5] for key in panel.keys] == ["6.000", "4.386"]  # never cut short
    back = next(key for key in panel.keys if key.caption == "taken back")
    assert back.isEnabled()  # so that it can be read as well as any other
    tap(back)
    settle()
    assert panel.more.text().endswith(" by Ana: undone at once.")
    assert panel.keys == []
    assert cut_labels(panel) == []


def test_a_body_without_any_cut_says_what_to_do(book: Book, make: Make) -> None:
    body = replace(BODIES[1], key="GOAT-1", species="goat")
    with book.transaction() as work:
        work.add([body])
    place = make()
    place.open_item("GOAT-1")
    assert said(place) == "No cut of goat is in the catalogue. Add its cuts under Setup."
    tap(place.view.work.grid.list_key)
    assert place.view.work.panel.more.text().startswith("There is none for this portion")


def test_minutes_go_on_while_the_key_is_held_and_never_past_a_day(
    place: BlockPlace, qtbot: QtBot
) -> None:
    weigh(place, "rump", "4.386")
    tap(place.view.work.bottom.finish_key)
    end = place.view.end
    before = int(end.minutes.text())
    qtbot.mousePress(end.more_key, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: int(end.minutes.text()) >= before + 3, timeout=5_000)
    qtbot.mouseRelease(end.more_key, Qt.MouseButton.LeftButton)
    end.minutes_stepped.emit(5_000)
    assert end.minutes.text() == "1440"
    tap(end.finish_key)
    assert end.title.text() == "Finished: what every cut costs"
