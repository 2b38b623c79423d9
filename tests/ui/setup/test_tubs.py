"""The tubs under Setup: named, weighed, put in order, removed; the block shows them at once."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from gambrel.domain.bench.scale_setting import ScaleKind, ScaleSetting
from gambrel.domain.bench.steady import LiveWeight, WeightState
from gambrel.domain.bench.tubs import MOST_TUBS, NO_TUB, USUAL_TUBS, Tub
from gambrel.domain.trade.formats import Formats
from gambrel.services import bench
from gambrel.services.bench.looking import TUBS
from gambrel.services.books import Book
from gambrel.services.settings import keep_setting
from gambrel.services.tubs import change_tubs, shop_tubs
from gambrel.ui.context import Context
from gambrel.ui.setup.place import SetupPlace
from gambrel.ui.setup.tubs_section import TubsSection
from gambrel.ui.setup.tubs_state import NEW, NO_TUBS, Draft, describe
from gambrel.ui.theme import Meaning
from tests.fake_scale import FakeScale
from tests.ui.setup.hands import check_walk, tap, type_keys, type_text


@pytest.fixture
def section(place: SetupPlace) -> TubsSection:
    place.open_item("tubs")
    found = place.section
    assert isinstance(found, TubsSection)
    return found


@pytest.fixture
def formats(context: Context) -> Formats:
    return context.formats


def names(book: Book) -> list[str]:
    return [tub.name for tub in shop_tubs(book)]


# --- The state ---


def test_the_tub_of_no_weight_stands_first_and_is_fixed(formats: Formats) -> None:
    state = describe(USUAL_TUBS, Draft(), formats)
    assert [row.fixed for row in state.rows] == [True, False, False, False]
    assert state.rows[0].spoken == "No tub, 0.000 kg, always first"
    assert (state.title, state.about) == ("", "Tap a tub to weigh it, to name it or to move it.")
    assert describe(USUAL_TUBS, Draft(NO_TUB.name), formats).title == ""


def test_what_stays_the_same_is_not_kept(formats: Formats) -> None:
    assert not describe(USUAL_TUBS, Draft("tub"), formats).can_act
    assert not describe(USUAL_TUBS, Draft("tub", kilos="0.65"), formats).can_act
    assert not describe(USUAL_TUBS, Draft("tub", name=" tub "), formats).can_act
    assert describe(USUAL_TUBS, Draft("tub", name="Tub"), formats).can_act
    assert describe(USUAL_TUBS, Draft("tub", kilos="0.651"), formats).can_act


def test_a_new_tub_needs_name_and_weight(formats: Formats) -> None:
    assert not describe(USUAL_TUBS, Draft(NEW), formats).can_act
    assert not describe(USUAL_TUBS, Draft(NEW, name="crate"), formats).can_act
    assert not describe(USUAL_TUBS, Draft(NEW, kilos="1"), formats).can_act
    assert describe(USUAL_TUBS, Draft(NEW, name="crate", kilos="1"), formats).can_act


def test_the_ends_of_the_order_are_known(formats: Formats) -> None:
    ends = {
        tub.name: (state.can_earlier, state.can_later)
        for tub in USUAL_TUBS[1:]
        for state in (describe(USUAL_TUBS, Draft(tub.name), formats),)
    }
    assert ends == {"tray": (False, True), "tub": (True, True), "bone crate": (True, False)}


def test_a_full_list_says_so(formats: Formats) -> None:
    full = (NO_TUB, *(Tub(f"tub {number}", 100) for number in range(MOST_TUBS - 1)))
    state = describe(full, Draft(), formats)
    assert not state.can_begin
    assert state.full == "The block has room for 12 tubs."


# --- The page ---


def test_a_tub_is_weighed_by_touch_and_taken_back(
    section: TubsSection, demo: Book, qtbot: QtBot
) -> None:
    panel = section.view.panel
    tap(section.view.tubs.rows["tub"], qtbot)
    type_keys(panel.keypad.keys, "0.655", qtbot)
    assert panel.kilos.value == "0.655"
    tap(panel.keep, qtbot)
    assert shop_tubs(demo)[2] == Tub("tub", 655)
    assert section.view.told.sentence == "tub weighs 0.655 kg from now on."
    tap(section.view.told.action, qtbot)
    assert shop_tubs(demo) == USUAL_TUBS
    assert panel.kilos.value == "0.650"


def test_a_new_tub_comes_last_and_the_block_offers_it(
    section: TubsSection, context: Context, demo: Book, qtbot: QtBot
) -> None:
    panel = section.view.panel
    tap(section.view.new, qtbot)
    assert section.window().focusWidget() is panel.name
    qtbot.keyClicks(panel.name, "blue tub")
    type_keys(panel.keypad.keys, "0.7", qtbot)
    with qtbot.waitSignal(context.changes.changed) as heard:
        tap(panel.keep, qtbot)
    assert heard.args == [frozenset({"tubs"})]
    assert names(demo)[-1] == "blue tub"
    assert panel.title.text() == "blue tub"
    stage = next(row.stage for row in bench.waiting(demo) if row.stage)
    assert bench.look(demo, stage).tubs[-1] == Tub("blue tub", 700)


def test_a_tub_is_named_moved_and_removed(section: TubsSection, demo: Book, qtbot: QtBot) -> None:
    panel = section.view.panel
    tap(section.view.tubs.rows["tray"], qtbot)
    assert not panel.earlier.isEnabled()
    panel.name.selectAll()
    qtbot.keyClicks(panel.name, "steel tray")
    qtbot.keyClick(panel.name, Qt.Key.Key_Return)
    assert names(demo) == ["no tub", "steel tray", "tub", "bone crate"]
    tap(panel.later, qtbot)
    tap(panel.later, qtbot)
    assert names(demo) == ["no tub", "tub", "bone crate", "steel tray"]
    assert not panel.later.isEnabled()
    tap(panel.remove, qtbot)
    assert names(demo) == ["no tub", "tub", "bone crate"]
    assert panel.title.text() == "tub"
    tap(section.view.told.action, qtbot)
    assert names(demo) == ["no tub", "tub", "bone crate", "steel tray"]


def test_what_cannot_be_is_refused_beside_the_field(
    section: TubsSection, demo: Book, qtbot: QtBot
) -> None:
    panel = section.view.panel
    tap(section.view.tubs.rows["tray"], qtbot)
    panel.name.selectAll()
    qtbot.keyClicks(panel.name, "TUB")
    tap(panel.keep, qtbot)
    assert panel.refusal.meaning is Meaning.STOP
    assert "already" in panel.refusal.sentence
    assert panel.name.text() == "TUB"
    qtbot.keyClick(panel.name, Qt.Key.Key_Escape)
    assert panel.refusal.sentence == ""
    assert panel.name.text() == "tray"
    type_keys(panel.keypad.keys, "60", qtbot)
    tap(panel.keep, qtbot)
    assert "at most 50" in panel.refusal.sentence
    assert shop_tubs(demo) == USUAL_TUBS


def test_a_new_tub_that_was_begun_is_left(section: TubsSection, demo: Book, qtbot: QtBot) -> None:
    tap(section.view.new, qtbot)
    qtbot.keyClicks(section.view.panel.name, "crate")
    assert section.view.panel.title.text() == "A new tub"
    tap(section.view.panel.remove, qtbot)
    assert section.view.panel.title.text() == "tray"
    assert shop_tubs(demo) == USUAL_TUBS


def test_it_is_worked_by_the_keyboard_alone(section: TubsSection, demo: Book, qtbot: QtBot) -> None:
    row = section.view.tubs.rows["bone crate"]
    row.setFocus()
    qtbot.keyClick(row, Qt.Key.Key_Return)
    type_text(section, "1.5", qtbot)
    qtbot.keyClick(section.window().focusWidget(), Qt.Key.Key_Return)
    assert shop_tubs(demo)[-1] == Tub("bone crate", 1500)
    qtbot.keySequence(section.window().focusWidget(), "Ctrl+Z")
    assert shop_tubs(demo) == USUAL_TUBS


def test_a_list_that_cannot_be_read_is_told_and_begun_again(
    section: TubsSection, demo: Book, qtbot: QtBot
) -> None:
    keep_setting(demo, TUBS, "?")
    section.refresh()
    assert section.view.told.meaning is Meaning.STOP
    assert "cannot be read" in section.view.told.sentence
    assert not section.view.new.isVisible()
    tap(section.view.usual, qtbot)
    assert shop_tubs(demo) == USUAL_TUBS
    assert section.view.new.isVisible()
    assert not section.view.usual.isVisible()


def test_an_empty_tub_on_the_scale_is_taken(
    section: TubsSection, context: Context, demo: Book, tmp_path: Path, qtbot: QtBot
) -> None:
    def steady(live: LiveWeight) -> bool:
        return live.state is WeightState.STEADY

    tap(section.view.tubs.rows["tub"], qtbot)
    assert not section.view.panel.scale.isVisible()
    with FakeScale(tmp_path) as fake:
        fake.steady(662)
        context.scale.listen(True)
        with qtbot.waitSignal(context.scale.reading, timeout=8000, check_params_cb=steady):
            context.scale.open(ScaleSetting(kind=ScaleKind.SERIAL, port=str(fake.port)))
        qtbot.waitUntil(section.view.panel.scale.isVisible)
        assert section.view.panel.scale.text() == "Take 0.662 kg from the scale"
        tap(section.view.panel.scale, qtbot)
        tap(section.view.panel.keep, qtbot)
        assert shop_tubs(demo)[2] == Tub("tub", 662)
        context.scale.close()


@pytest.mark.parametrize("shown", ["none", "chosen", "refused", "new"])
def test_every_control_is_large_named_reached_and_whole(
    place: SetupPlace, section: TubsSection, demo: Book, shown: str, qtbot: QtBot
) -> None:
    if shown == "none":
        change_tubs(demo, lambda tubs: tubs[:1])
        section.refresh()
        assert section.view.panel.about.text() == NO_TUBS
    if shown == "new":
        section.choose(NEW)
    if shown == "refused":
        section.type_name("tub")
        section.keep()
    check_walk(place, qtbot)
