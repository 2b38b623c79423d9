"""The cutting lists under Setup: order, norms, usual yields, copies; the block follows at once."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from PySide6.QtCore import QPoint, Qt
from pytestqt.qtbot import QtBot

from gambrel.domain.bench.usual import UsualYields
from gambrel.domain.trade.list_edits import ListKey, with_norms
from gambrel.services.books import Book
from gambrel.services.cutting_lists import CuttingLists, change_lines, cutting_lists
from gambrel.ui.context import Context
from gambrel.ui.setup.lists_section import ListsSection
from gambrel.ui.setup.lists_state import (
    ALL_ON,
    NO_LINES,
    NO_LISTS,
    TAP_ONE,
    Draft,
    Making,
    describe,
    key_text,
    text_key,
)
from gambrel.ui.setup.place import SetupPlace
from gambrel.ui.theme import Meaning
from tests.ui.setup.hands import check_walk, tap, type_keys, type_text

LAMB = ListKey("Lamb", "lamb", "whole")
ROUND = ListKey("Hindquarter round trimmed", "beef", "hindquarter")
NONE = UsualYields()


@pytest.fixture
def section(place: SetupPlace) -> ListsSection:
    place.open_item("lists")
    found = place.section
    assert isinstance(found, ListsSection)
    return found


@pytest.fixture
def found(demo: Book) -> CuttingLists:
    return cutting_lists(demo)


def cuts(book: Book, key: ListKey) -> list[str]:
    return [line.cut for line in cutting_lists(book).lists.get(key, ())]


def norm(book: Book, key: ListKey, cut: str) -> Decimal | None:
    lines = cutting_lists(book).lists[key]
    return next(line.norm_percent for line in lines if line.cut == cut)


def open_list(section: ListsSection, key: ListKey, qtbot: QtBot) -> None:
    tap(section.view.lists.rows[key_text(key)], qtbot)
    tap(section.view.list.open, qtbot)


# --- The state ---


def test_lists_stand_by_what_is_cut_with_their_sums(found: CuttingLists) -> None:
    state = describe(found, Draft(), NONE)
    assert [row.name for row in state.rows[-2:]] == ["Lamb", "Pig"]
    assert state.rows[-2].spoken == "Lamb, 99.5 %, lamb whole · 11 cuts"
    assert (state.about, state.can_open) == (TAP_ONE, False)
    assert text_key(state.rows[-2].key) == LAMB
    assert describe(replace(found, lists={}), Draft(), NONE).about == NO_LISTS


def test_the_sum_says_what_is_left_for_loss_while_a_norm_is_typed(found: CuttingLists) -> None:
    draft = Draft(LAMB, is_open=True, line="lamb-leg")
    was = next(line.norm_percent for line in found.lists[LAMB] if line.cut == "lamb-leg")
    assert was is not None
    assert describe(found, draft, NONE).total == "99.5\u202f% of 100; 0.5\u202f% left for loss."
    less = replace(draft, norm=str(was - 1))
    assert describe(found, less, NONE).total == "98.5\u202f% of 100; 1.5\u202f% left for loss."
    more = replace(draft, norm=str(was + 1))
    assert describe(found, more, NONE).total == "100.5\u202f%: 0.5\u202f% more than a body has."
    assert describe(found, less, NONE).line.can_keep
    assert not describe(found, replace(draft, norm=f"{was}0"), NONE).line.can_keep
    assert describe(found, replace(draft, norm=""), NONE).line.can_keep  # no norm at all


def test_usual_yields_are_offered_with_how_many_bodies(found: CuttingLists) -> None:
    draft = Draft(LAMB, is_open=True, line="lamb-leg")
    usual = UsualYields(8, {"lamb-leg": Decimal("28.2"), "lamb-neck": Decimal("3.8")})
    state = describe(found, draft, usual)
    assert state.line.usual == "The last 8 bodies usually gave 28.2\u202f%."
    assert state.line.can_take
    assert state.all_usual == "Take 1 usual yield of 8 bodies"  # the neck's norm is 3.8 already
    assert describe(found, draft, UsualYields(2)).line.usual == (
        "A usual yield is known from 3 bodies on."
    )
    other = replace(draft, line="lamb-rack")
    assert describe(found, other, usual).line.usual == "Most of the last 8 bodies gave none."
    assert not describe(found, other, usual).line.can_take


def test_numbers_of_a_column_have_the_same_decimals(found: CuttingLists) -> None:
    key = ListKey("Forequarter", "beef", "forequarter")
    draft = Draft(key, is_open=True, line="shin")
    usual = UsualYields(8, {"skirt": Decimal("1.05"), "shin": Decimal(3)})
    lines = {row.cut: row for row in describe(found, draft, usual).lines}
    assert {str(each.norm_percent) for each in found.lists[key]} >= {"1", "3.4"}
    assert (lines["skirt"].norm, lines["shin"].norm) == ("1.0", "3.4")
    assert (lines["skirt"].usual, lines["shin"].usual) == ("1.05", "3.00")
    typed = describe(found, replace(draft, norm="4."), usual).lines
    assert [row.norm for row in typed if row.cut == "shin"] == ["4."]


def test_only_cuts_of_the_species_that_are_not_retired_are_offered(found: CuttingLists) -> None:
    draft = Draft(LAMB, is_open=True, adding=True)
    offered = [row.key for row in describe(found, draft, NONE).offered]
    assert "lamb-leg" not in offered
    assert "rump" not in offered
    assert "lamb-leg-boned" in offered
    without = replace(found, retired=frozenset({"lamb-leg-boned"}))
    assert "lamb-leg-boned" not in [row.key for row in describe(without, draft, NONE).offered]
    assert describe(replace(found, retired=frozenset(found.cuts)), draft, NONE).none == ALL_ON


def test_a_copy_asks_for_a_name_and_a_new_list_for_what_is_cut(found: CuttingLists) -> None:
    new = describe(found, Draft(making=Making("x", "lamb", "whole")), NONE)
    assert [choice.text for choice in new.portions if choice.chosen] == ["lamb whole"]
    copy = describe(found, Draft(LAMB, making=Making("x", *LAMB[1:], LAMB)), NONE)
    assert copy.portions == ()
    assert copy.making_about == "It begins with the cuts and norms of Lamb."


# --- The page ---


def test_a_cut_is_moved_by_its_keys_and_taken_back(
    section: ListsSection, context: Context, demo: Book, qtbot: QtBot
) -> None:
    before = cuts(demo, ROUND)
    open_list(section, ROUND, qtbot)
    view = section.view
    assert view.line.title.text() == "Flank steak"
    assert not view.line.up.isEnabled()
    with qtbot.waitSignal(context.changes.changed) as heard:
        tap(view.line.down, qtbot)
    assert heard.args == [frozenset({"lists"})]
    tap(view.line.down, qtbot)
    assert cuts(demo, ROUND)[:3] == [before[1], before[2], before[0]]
    assert view.told.sentence == "Flank steak comes off as number 3."
    tap(view.line.up, qtbot)
    assert cuts(demo, ROUND)[1] == before[0]
    tap(view.told.action, qtbot)
    assert cuts(demo, ROUND)[2] == before[0]
    qtbot.keyClick(view.open.table, Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier)
    assert cuts(demo, ROUND)[3] == before[0]


def test_a_cut_is_dragged_where_it_belongs(section: ListsSection, demo: Book, qtbot: QtBot) -> None:
    before = cuts(demo, ROUND)
    open_list(section, ROUND, qtbot)
    table = section.view.open.table
    tap(section.view.open.arrange, qtbot)

    def at(row: int) -> QPoint:
        return table.visualRect(table.lines.index(row, 1)).center()

    spot = table.viewport()
    qtbot.mousePress(spot, Qt.MouseButton.LeftButton, pos=at(0))
    for row in (1, 2):
        qtbot.mouseMove(spot, at(row))
    assert table.row_keys()[2] == before[0]
    assert cuts(demo, ROUND) == before  # until the finger is lifted
    qtbot.mouseRelease(spot, Qt.MouseButton.LeftButton, pos=at(2))
    assert cuts(demo, ROUND)[:3] == [before[1], before[2], before[0]]
    tap(section.view.told.action, qtbot)
    assert cuts(demo, ROUND) == before


def test_a_norm_is_typed_kept_and_taken_back(
    section: ListsSection, demo: Book, qtbot: QtBot
) -> None:
    open_list(section, ROUND, qtbot)
    view, was = section.view, norm(demo, ROUND, "flank-steak")
    assert view.line.norm.value == "1.4"
    type_keys(view.line.keypad.keys, "<2", qtbot)
    assert view.line.norm.value == "1.2"
    assert view.open.total.text().startswith("99.3")
    tap(view.line.keep, qtbot)
    assert norm(demo, ROUND, "flank-steak") == Decimal("1.2")
    tap(view.told.action, qtbot)
    assert norm(demo, ROUND, "flank-steak") == was
    type_keys(view.line.keypad.keys, "<<99", qtbot)
    tap(view.line.keep, qtbot)
    assert view.line.refusal.meaning is Meaning.STOP
    assert "expected 0 to 100" in view.line.refusal.sentence
    assert norm(demo, ROUND, "flank-steak") == was
    qtbot.keyClick(view.open.table, Qt.Key.Key_Escape)
    assert view.line.norm.value == "1.4"
    type_keys(view.line.keypad.keys, "<<<", qtbot)
    tap(view.line.keep, qtbot)
    assert norm(demo, ROUND, "flank-steak") is None


def test_the_usual_yields_are_taken_at_one_tap(
    section: ListsSection, demo: Book, qtbot: QtBot
) -> None:
    before = cutting_lists(demo).lists[LAMB]
    open_list(section, LAMB, qtbot)
    view = section.view
    assert view.open.take_all.text() == "Take 6 usual yields of 8 bodies"
    tap(view.open.take_all, qtbot)
    after = {row.cut: (row.norm, row.usual) for row in view.open.table.lines.rows}
    assert all(mine == usual for mine, usual in after.values())
    assert not view.open.take_all.isVisible()
    tap(view.told.action, qtbot)
    assert cutting_lists(demo).lists[LAMB] == before
    section.choose_cut("lamb-breast")
    tap(view.line.take, qtbot)
    assert norm(demo, LAMB, "lamb-breast") == Decimal("7.9")


def test_a_cut_is_added_and_taken_off(section: ListsSection, demo: Book, qtbot: QtBot) -> None:
    open_list(section, LAMB, qtbot)
    view = section.view
    tap(view.open.add, qtbot)
    qtbot.keyClicks(view.add.search, "boned")
    tap(view.add.cuts.rows["lamb-leg-boned"], qtbot)
    assert cuts(demo, LAMB)[-1] == "lamb-leg-boned"
    assert "lamb-leg-boned" not in view.add.cuts.rows
    tap(view.add.done, qtbot)
    assert view.line.title.text() == "Boned lamb leg"
    assert view.line.norm.value == ""
    tap(view.line.remove, qtbot)
    assert "lamb-leg-boned" not in cuts(demo, LAMB)
    assert view.told.sentence == "Boned lamb leg is off the list. What was weighed stays."
    tap(view.told.action, qtbot)
    assert cuts(demo, LAMB)[-1] == "lamb-leg-boned"


def test_a_new_list_is_kept_with_its_first_cut(
    section: ListsSection, demo: Book, qtbot: QtBot
) -> None:
    view = section.view
    tap(view.new, qtbot)
    assert section.window().focusWidget() is view.make.words["name"]
    qtbot.keyClicks(view.make.words["name"], "Lamb for racks")
    assert not view.make.make.isEnabled()
    tap(view.make.portions.buttons["lamb\nwhole"], qtbot)
    tap(view.make.make, qtbot)
    made = ListKey("Lamb for racks", "lamb", "whole")
    assert view.open.empty.text() == NO_LINES
    assert made not in cutting_lists(demo).lists
    tap(view.add.cuts.rows["lamb-rack"], qtbot)
    assert cuts(demo, made) == ["lamb-rack"]
    tap(view.add.done, qtbot)
    tap(view.line.remove, qtbot)  # no body was cut by it, so it may go
    assert made not in cutting_lists(demo).lists
    assert view.open.empty.isVisible()
    tap(view.told.action, qtbot)
    assert cuts(demo, made) == ["lamb-rack"]


def test_a_list_is_copied_and_removed(section: ListsSection, demo: Book, qtbot: QtBot) -> None:
    view = section.view
    tap(view.lists.rows[key_text(LAMB)], qtbot)
    tap(view.list.copy, qtbot)
    qtbot.keyClicks(view.make.words["name"], "lamb")
    tap(view.make.make, qtbot)
    assert "There is a lamb for lamb whole already" in view.make.refusal.sentence
    qtbot.keyClicks(view.make.words["name"], " 2")
    qtbot.keyClick(view.make.words["name"], Qt.Key.Key_Return)
    copy = LAMB._replace(name="lamb 2")
    assert cuts(demo, copy) == cuts(demo, LAMB)
    assert view.list.title.text() == "lamb 2"
    tap(view.list.remove, qtbot)
    assert copy not in cutting_lists(demo).lists
    tap(view.told.action, qtbot)
    assert copy in cutting_lists(demo).lists
    tap(view.lists.rows[key_text(LAMB)], qtbot)
    tap(view.list.remove, qtbot)
    assert "bodies were cut by Lamb" in view.list.refusal.sentence


def test_another_stations_change_is_shown_and_not_written_over(
    section: ListsSection, demo: Book, qtbot: QtBot
) -> None:
    open_list(section, LAMB, qtbot)
    lines = cutting_lists(demo).lists[LAMB]
    change_lines(demo, LAMB, lines, with_norms(lines, {"lamb-neck": Decimal(3)}))
    tap(section.view.line.down, qtbot)
    assert "Another station has changed Lamb since" in section.view.line.refusal.sentence
    assert cuts(demo, LAMB) == [line.cut for line in lines]
    assert Decimal(section.view.open.table.lines.rows[0].norm) == 3
    tap(section.view.open.add, qtbot)
    tap(section.view.add.done, qtbot)
    tap(section.view.line.down, qtbot)
    assert cuts(demo, LAMB)[1] == lines[0].cut


def test_it_is_worked_by_the_keyboard_alone(
    section: ListsSection, demo: Book, qtbot: QtBot
) -> None:
    row = section.view.lists.rows[key_text(LAMB)]
    row.setFocus()
    qtbot.keyClick(row, Qt.Key.Key_Return)
    qtbot.keyClick(section.window().focusWidget(), Qt.Key.Key_Return)
    assert section.window().focusWidget() is section.view.open.table
    qtbot.keyClick(section.view.open.table, Qt.Key.Key_Down)
    qtbot.keyClick(section.view.open.table, Qt.Key.Key_Backspace)
    type_text(section, "1", qtbot)
    qtbot.keyClick(section.view.open.table, Qt.Key.Key_Return)
    second = cuts(demo, LAMB)[1]
    assert norm(demo, LAMB, second) == Decimal(21)  # it was 24
    qtbot.keySequence(section.view.open.table, "Ctrl+Z")
    assert norm(demo, LAMB, second) == Decimal(24)
    qtbot.keyClick(section.view.open.table, Qt.Key.Key_Escape)
    assert section.view.list.isVisible()


@pytest.mark.parametrize(
    "shown",
    ["none", "closed", "new", "copy", "open", "usual", "refused", "adding", "empty", "long"],
)
def test_every_control_is_large_named_reached_and_whole(
    place: SetupPlace, section: ListsSection, demo: Book, shown: str, qtbot: QtBot
) -> None:
    key = LAMB if shown in ("usual", "adding", "copy") else ROUND
    if shown == "long":
        key = ListKey("Hindquarter for " + "a very long name " * 4, "beef", "hindquarter")
        lines = tuple(replace(each, list=key.name) for each in cutting_lists(demo).lists[ROUND])
        change_lines(demo, key, (), lines)
        section.refresh()
    if shown != "none":
        section.choose(key)
    if shown in ("open", "usual", "refused", "adding", "long"):
        section.open()
    if shown == "new":
        section.begin(Making())
    if shown == "copy":
        section.begin_copy()
    if shown == "adding":
        section.begin_adding()
    if shown == "refused":
        section.type_norm("99")
        section.keep_norm()
        assert section.view.line.refusal.isVisible()
    if shown == "empty":
        section.begin(Making("New", "beef", "side"))
        section.make()
    check_walk(place, qtbot)
