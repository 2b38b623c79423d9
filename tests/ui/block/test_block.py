from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication
from pytestqt.qtbot import QtBot

from gambrel.services import bench
from gambrel.storage.book import Book
from gambrel.ui.block.place import BlockPlace
from gambrel.ui.block.state import Panel
from gambrel.ui.block.top_line import TopLine
from gambrel.ui.tasks import SyncTasks
from tests.ui.block.conftest import Clock
from tests.ui.block.fingers import (
    Make,
    ToldScale,
    cut_key,
    said,
    tap,
    type_by_touch,
    weigh,
    weighed,
)


def test_a_free_block_shows_what_hangs_and_a_tap_puts_it_there(make: Make) -> None:
    place = make()
    titles = [key.text() for key in place.view.waits.keys]
    assert titles == ["Hindquarter 17", "Lamb 26", "Forequarter 09"]
    tap(place.view.waits.keys[0])
    assert place.view.working
    assert place.view.top.title.text() == "Hindquarter 17"
    assert "received 84.20 kg" in place.view.top.more.text()


def test_by_touch_alone_a_piece_is_two_taps_and_its_digits(place: BlockPlace) -> None:
    weigh(place, "rump", "4.506")
    assert weighed(place) == [("rump", 4506)]
    bottom = place.view.work.bottom
    assert bottom.keys[0].piece is not None
    assert (bottom.keys[0].piece.name, bottom.keys[0].piece.kg) == ("Rump", "4.506")
    assert bottom.keys[0].isVisible()
    assert place.view.work.column.keypad.text == ""
    assert place._hands.cut == "rump"


def test_the_tub_is_one_tap_and_comes_back_with_its_cut(place: BlockPlace) -> None:
    tubs = place.view.work.column.tubs.keys
    tap(cut_key(place, "rump"))
    tap(tubs[1])
    weigh(place, "rump", "4.506")
    tap(cut_key(place, "bone"))
    tap(tubs[3])
    weigh(place, "bone", "9.45")
    assert weighed(place) == [("bone", 8000), ("rump", 4386)]
    tap(cut_key(place, "rump"))
    assert tubs[1].isChecked()
    assert not tubs[3].isChecked()


def test_gross_tare_and_net_are_told_apart(place: BlockPlace) -> None:
    tap(cut_key(place, "rump"))
    tap(place.view.work.column.tubs.keys[1])
    type_by_touch(place, "4.506")
    name = place.view.work.column.weight.accessibleName()
    assert "net 4.386 kg, gross 4.506 kg, tare tray 0.120" in name


def test_by_keyboard_alone(place: BlockPlace, qtbot: QtBot) -> None:
    QTest.keyClicks(place.view, "r")
    assert place._hands.cut == "rump"
    QTest.keyClicks(place.view, "4,386")
    QTest.keyClick(place.view, Qt.Key.Key_Return)
    assert weighed(place) == [("rump", 4386)]
    QTest.keyClick(place.view, Qt.Key.Key_Right)
    assert place._hands.cut == "topside"
    QTest.keyClick(place.view, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert weighed(place) == []


def test_a_doubt_is_asked_in_place_and_one_more_tap_means_it(place: BlockPlace) -> None:
    weigh(place, "rump", "43.86")
    assert weighed(place) == []
    assert "norm for this body" in said(place)
    assert place.view.work.column.weigh_key.text() == "YES, WEIGH IN · Rump"
    tap(place.view.work.column.weigh_key)
    assert weighed(place) == [("rump", 43_860)]
    assert said(place) == ""


def test_no_and_a_new_digit_and_escape_each_take_a_doubt_back(
    place: BlockPlace, qtbot: QtBot
) -> None:
    for answer in ("no", "digit", "escape"):
        place.view.work.column.keypad.clear()
        weigh(place, "rump", "43.86")
        assert said(place)
        if answer == "no":
            tap(place.view.work.column.saying.no_key)
        elif answer == "digit":
            type_by_touch(place, "<")
        else:
            QTest.keyClick(place.view, Qt.Key.Key_Escape)
        assert said(place) == ""
        assert place.view.work.column.weigh_key.text() == "WEIGH IN · Rump"
    assert weighed(place) == []


@pytest.mark.parametrize("size", [(1280, 800), (1024, 600)])
@pytest.mark.parametrize("by_scale", [False, True])
def test_a_caution_leaves_the_tubs_one_tap_away(
    place: BlockPlace, clock: Clock, scale: ToldScale, size: tuple[int, int], by_scale: bool
) -> None:
    place.resize(*size)
    if by_scale:
        scale.steady(4506)
    clock.now += timedelta(hours=2)
    place.refresh()
    assert "off the rail" in said(place)
    column = place.view.work.column
    tap(column.tubs.keys[1])
    assert column.tubs.keys[1].isChecked()
    assert said(place) == ""
    assert column.weight.isVisible()


def test_a_caution_is_closed_by_a_tap_and_waits_while_a_weight_is_typed(
    place: BlockPlace, clock: Clock
) -> None:
    place.resize(1024, 600)
    type_by_touch(place, "4")
    clock.now += timedelta(hours=2)
    place.refresh()
    assert said(place) == ""
    type_by_touch(place, "<")
    place.refresh()
    assert said(place)
    tap(place.view.work.column.saying)
    assert said(place) == ""


def test_the_same_again_within_two_seconds_is_asked_about(place: BlockPlace, clock: Clock) -> None:
    clock.step = timedelta(milliseconds=10)
    weigh(place, "rump", "2.1")
    weigh(place, "rump", "2.1")
    assert "a moment ago" in said(place)
    assert len(weighed(place)) == 1


def test_a_refusal_stands_in_place_and_nothing_is_weighed(place: BlockPlace) -> None:
    tap(cut_key(place, "rump"))
    tap(place.view.work.column.tubs.keys[1])
    type_by_touch(place, "0.1")
    tap(place.view.work.column.weigh_key)
    assert "not more than the tub" in said(place)
    assert weighed(place) == []


def test_undo_takes_back_what_it_names_and_the_record_keeps_both(place: BlockPlace) -> None:
    weigh(place, "rump", "2.1")
    weigh(place, "shin", "3.1")
    undo = place.view.work.bottom.undo_key
    assert undo.caption == "Shin 3.100"
    tap(undo)
    assert weighed(place) == [("rump", 2100)]
    assert undo.caption == "Rump 2.100"
    pieces = bench.look(place._book, place._look.on_block.stage.key).on_block.pieces  # type: ignore[union-attr]
    assert [row.void.reason if row.void else "" for row in pieces] == [bench.UNDONE, ""]


def test_any_piece_can_be_taken_back_with_a_reason(place: BlockPlace) -> None:
    weigh(place, "rump", "2.1")
    weigh(place, "shin", "3.1")
    tap(place.view.work.bottom.keys[1])
    assert place.view.work.panel.title.text() == "Rump 2.100 kg"
    reason = next(k for k in place.view.work.panel.keys if k.text() == "Weighed twice")
    tap(reason)
    assert weighed(place) == [("shin", 3100)]
    assert not place.view.work.panel.isVisible()


def test_a_piece_is_cut_further_as_work_of_its_own(place: BlockPlace) -> None:
    weigh(place, "rump", "4.386")
    tap(place.view.work.bottom.keys[0])
    further = next(k for k in place.view.work.panel.keys if k.text() == "Cut it further")
    tap(further)
    assert place.view.top.title.text() == "Rump"
    assert place.view.top.weight.text() == "4.39 kg"
    weigh(place, "diced", "4.0")
    assert weighed(place) == [("diced", 4000)]
    tap(place.view.work.bottom.finish_key)
    tap(place.view.end.finish_key)
    assert place.view.end.rail_key.text() == "Back to the body"
    tap(place.view.end.rail_key)
    assert place.view.top.title.text() == "Hindquarter 17"
    assert weighed(place) == [("rump", 4386)]


def test_a_new_name_is_typed_where_the_names_are(place: BlockPlace) -> None:
    tap(place.view.top.person_key)
    panel = place.view.work.panel
    assert panel.entry.isVisible()
    panel.entry.setText("  Bela  ")
    tap(panel.add_key)
    assert place.view.top.person_key.text() == "Bela"
    weigh(place, "rump", "4.386")
    assert place._look.on_block.standing[0].piece.person == "Bela"  # type: ignore[union-attr]


def test_finish_shows_the_balance_first_and_then_the_cost_a_kilo(place: BlockPlace) -> None:
    weigh(place, "rump", "4.386")
    tap(place.view.work.bottom.finish_key)
    end = place.view.end
    assert end.isVisible()
    assert end.figures[2].value.startswith("78,014")
    assert end.banner.sentence.startswith("That is much")
    minutes = int(end.minutes.text())
    tap(end.more_key)
    assert int(end.minutes.text()) == minutes + 1
    tap(end.finish_key)
    assert end.title.text() == "Finished: what every cut costs"
    rump = end.table.item(0, 0)
    cost = end.table.item(0, 2)
    assert rump is not None
    assert cost is not None
    assert rump.text() == "Rump"
    assert cost.text().startswith("$")
    tap(end.reopen_key)
    assert place.view.working
    assert weighed(place) == [("rump", 4386)]


def test_back_to_the_rail_leaves_the_block_free(place: BlockPlace, qtbot: QtBot) -> None:
    weigh(place, "rump", "4.386")
    tap(place.view.work.bottom.finish_key)
    tap(place.view.end.finish_key)
    with qtbot.waitSignal(place.go) as gone:
        tap(place.view.end.rail_key)
    assert gone.args == ["rail", ""]
    assert not place.view.working


def test_a_sudden_stop_comes_back_to_the_same_body_cut_tub_and_person(
    place: BlockPlace, make: Make
) -> None:
    weigh(place, "rump", "4.386")
    tap(cut_key(place, "shin"))
    tap(place.view.work.column.tubs.keys[2])
    place._open(Panel.PEOPLE)
    place._answered("Ana")
    again = make()
    assert again.view.top.title.text() == "Hindquarter 17"
    assert again.view.top.person_key.text() == "Ana"
    assert (again._hands.cut, again._hands.tub) == ("shin", "tub")
    assert weighed(again) == [("rump", 4386)]


def test_another_stations_weighings_come_with_the_next_tick(
    place: BlockPlace, book: Book, clock: Clock
) -> None:
    stage = place._look.on_block.stage.key  # type: ignore[union-attr]  # a body is there
    act = bench.Act("Joss", "block-2", clock(), bytes(8))
    bench.weigh_in(book, stage, "shin", bench.Weighing(3000), act)
    place._tick()
    assert place.view.work.bottom.keys[0].piece is not None
    assert place.view.work.bottom.keys[0].piece.name == "Shin"


def test_what_was_not_cut_is_put_back_in_one_tap(place: BlockPlace, qtbot: QtBot) -> None:
    end = place.view.work.bottom.finish_key
    assert (end.text(), end.caption) == ("Put back", "on the rail")
    with qtbot.waitSignal(place.go) as gone:
        tap(end)
    assert gone.args == ["rail", ""]
    assert [row.stage for row in bench.waiting(place._book)] == ["", "", ""]


def test_after_a_piece_the_same_key_finishes(place: BlockPlace) -> None:
    weigh(place, "rump", "4.386")
    assert place.view.work.bottom.finish_key.text() == "Finish"
    tap(place.view.work.bottom.undo_key)
    assert place.view.work.bottom.finish_key.text() == "Put back"


class LateTasks:
    """Answers only when it is told to, as a busy disk would."""

    def __init__(self) -> None:
        self.waiting: list[Callable[[], None]] = []

    def run_task(
        self,
        work: Callable[[], object],
        done: Callable[[object], None],
        failed: Callable[[Exception], None],
    ) -> None:
        self.waiting.append(lambda: SyncTasks().run_task(work, done, failed))

    def answer(self) -> None:
        waiting, self.waiting = self.waiting, []
        for each in waiting:
            each()


def test_a_look_that_was_asked_for_before_a_piece_does_not_hide_it(place: BlockPlace) -> None:
    late = LateTasks()
    stage = place._look.on_block.stage.key  # type: ignore[union-attr]  # a body is there
    before = bench.look(place._book, stage)
    place._context = replace(place._context, tasks=late)  # type: ignore[arg-type]  # any types
    place._fetch(lambda: before)
    weigh(place, "rump", "4.386")
    late.answer()
    assert place.view.work.bottom.keys[0].piece is not None
    assert place.view.work.bottom.keys[0].isVisible()


def test_while_a_body_is_fetched_nothing_is_weighed_and_no_second_one_started(
    make: Make, book: Book
) -> None:
    place = make()
    late = LateTasks()
    place._context = replace(place._context, tasks=late)  # type: ignore[arg-type]  # any types
    tap(place.view.waits.keys[0])
    assert not place.view.waits.isEnabled()
    place.open_item("LAMB-26")
    late.answer()
    assert place.view.top.title.text() == "Hindquarter 17"
    assert [row.title for row in bench.waiting(book) if row.stage] == ["Hindquarter 17"]


def test_another_species_brings_the_caution_to_wash(place: BlockPlace) -> None:
    place.open_item("LAMB-26")
    assert said(place).startswith("Lamb after beef: wash block, knives and hands first.")


@pytest.mark.parametrize("size", [(1280, 800), (1024, 600), (1920, 1080)])
def test_every_control_is_large_enough_named_and_within_the_window(
    place: BlockPlace, size: tuple[int, int]
) -> None:
    weigh(place, "rump", "4.386")
    place.resize(*size)
    QApplication.processEvents()
    top = place.view.findChild(TopLine)
    buttons = [b for b in place.findChildren(QAbstractButton) if b.isVisible()]
    assert len(buttons) > 30
    for button in buttons:
        name = QAccessible.queryAccessibleInterface(button).text(QAccessible.Text.Name)
        assert name, button
        corner = button.mapTo(place, button.rect().bottomRight())
        assert place.rect().contains(corner), name
        if top is not None and top.isAncestorOf(button):
            assert button.height() >= 48, name
            continue
        assert min(button.width(), button.height()) >= 88, (name, button.size())
    if size != (1024, 600):
        keys = [*place.view.work.column.keypad.keys.values(), *place.view.work.grid.keys]
        assert all(k.height() >= 118 for k in keys if k.isVisible())


def test_every_cut_can_be_reached_at_the_smallest_size(place: BlockPlace) -> None:
    place.resize(1024, 600)
    QApplication.processEvents()
    grid = place.view.work.grid
    seen: set[str] = set()
    for _ in range(4):
        seen |= {key.cut.key for key in grid.keys if key.isVisible() and key.cut}
        tap(grid.more_key)
    beef = [row.cut.key for row in (*place._look.on_block.cuts, *place._look.on_block.more)]  # type: ignore[union-attr]
    assert seen == set(beef)


def test_a_tap_on_the_map_chooses_the_cut(place: BlockPlace, qtbot: QtBot) -> None:
    view = place.view.work.grid.map
    assert view.body_map is not None
    place.choose_cut("shin")
    middle = view.middle_of("rump").toPoint()
    QTest.mouseClick(view, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, middle)
    assert place._hands.cut == "rump"
    assert view.chosen == "rump"
