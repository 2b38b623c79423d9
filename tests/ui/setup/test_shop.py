"""The shop's limits under Setup: typed, refused beside the field, saved at once, taken back."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from gambrel.domain.bench.shop_limits import BLEND_STEP, HANG, OFF_RAIL, WARMEST
from gambrel.services.books import Book
from gambrel.services.rail import door
from gambrel.services.shop_limits import ALL_LIMITS, BODY_DAYS, Own, own_limits, set_limit
from gambrel.ui.context import Context
from gambrel.ui.setup.place import SetupPlace
from gambrel.ui.setup.shop_section import ShopSection
from gambrel.ui.setup.shop_state import COUNTRY, Draft, describe, told
from gambrel.ui.theme import Meaning
from tests.ui.setup.hands import check_walk, tap, type_keys, type_text
from tests.ui.walk import cut_labels, outside


@pytest.fixture
def section(place: SetupPlace) -> ShopSection:
    place.open_item("shop")
    found = place.section
    assert isinstance(found, ShopSection)
    return found


def choose(section: ShopSection, key: str, qtbot: QtBot) -> None:
    tap(next(grid.rows[key] for grid in section.view.grids if key in grid.rows), qtbot)


# --- The state ---


def test_every_limit_stands_once_with_its_usual_value_or_the_shops_own() -> None:
    own = Own({WARMEST.setting: Decimal("4.5")}, "IE")
    state = describe(own, Draft(), "Ireland")
    rows = {row.key: row for group in state.groups for row in group.rows}
    assert list(rows) == [*(each.setting for each in ALL_LIMITS), COUNTRY]
    assert (rows[WARMEST.setting].value, rows[WARMEST.setting].about) == (
        "4.5",
        "set here · usual 7 °C",
    )
    assert (rows[BLEND_STEP.setting].value, rows[BLEND_STEP.setting].about) == ("10", "")
    assert rows[COUNTRY].spoken == "Country, IE, Ireland"


def test_the_chosen_limit_says_where_it_is_used_and_where_the_usual_comes_from() -> None:
    side = describe(Own({}), Draft(), "").side
    assert side.used == "The rail marks a body that comes in warmer."
    assert side.why.startswith("Usual: 7 °C.")
    assert "853/2004" in side.why
    assert (side.value, side.unit, side.bounds) == ("7", "°C", "0 to 15 °C")
    assert not side.can_keep
    assert not side.can_go_back


def test_what_was_refused_goes_with_the_next_digit() -> None:
    refused = replace(Draft(), typed="30", refusal="No.")
    assert refused.type("3").refusal == ""
    assert refused.type("30") is refused
    assert refused.choose(WARMEST.setting) is refused
    assert refused.choose(COUNTRY) == Draft(COUNTRY)


def test_what_was_done_is_told_with_what_it_was() -> None:
    usual = Own({})
    colder = Own({WARMEST.setting: Decimal("5.0")})
    assert told(WARMEST, usual, colder) == "Warmest core on arrival: 5 °C from now on. It was 7 °C."
    assert told(WARMEST, colder, usual) == (
        "Warmest core on arrival: 7 °C from now on, as usual. It was 5 °C."
    )
    same = Own({HANG["beef"].setting: Decimal(21)})
    assert told(HANG["beef"], usual, same) == "Beef, break within: 21 days from now on."
    beef = BODY_DAYS["beef"]
    assert told(beef, Own({beef.setting: Decimal(35)}), usual) == (
        "Beef is sold within: no limit from now on, as usual. It was 35 days."
    )


def test_where_there_is_no_limit_no_unit_stands() -> None:
    beef = BODY_DAYS["beef"]
    side = describe(Own({}), Draft(beef.setting), "").side
    assert (side.value, side.unit, side.bounds) == ("no limit", "", "0 to 999 days, 0 for no limit")
    side = describe(Own({}), Draft(beef.setting, typed="35"), "").side
    assert (side.typed, side.unit) == ("35", "days")
    side = describe(Own({beef.setting: Decimal(35)}), Draft(beef.setting), "").side
    assert (side.value, side.unit) == ("35", "days")
    side = describe(Own({}), Draft(OFF_RAIL.setting), "").side
    assert (side.value, side.unit) == ("60", "minutes")


# --- The page ---


def test_a_limit_is_typed_by_touch_saved_at_once_and_taken_back(
    section: ShopSection, demo: Book, qtbot: QtBot
) -> None:
    choose(section, HANG["beef"].setting, qtbot)
    panel = section.view.panel
    assert panel.title.text() == "Beef, break within"
    type_keys(panel.keypad.keys, "14", qtbot)
    assert panel.value.value == "14"
    assert own_limits(demo).numbers == {}
    tap(panel.keep, qtbot)
    assert own_limits(demo).numbers == {HANG["beef"].setting: Decimal(14)}
    assert section.view.told.meaning is Meaning.FINE
    assert section.view.told.sentence == "Beef, break within: 14 days from now on. It was 21 days."
    tap(section.view.told.action, qtbot)
    assert own_limits(demo).numbers == {}
    assert panel.value.value == "21"


def test_what_cannot_be_is_refused_beside_the_field_and_changes_nothing(
    section: ShopSection, demo: Book, qtbot: QtBot
) -> None:
    panel = section.view.panel
    type_keys(panel.keypad.keys, "30", qtbot)
    tap(panel.keep, qtbot)
    assert panel.refusal.meaning is Meaning.STOP
    assert panel.refusal.sentence == "30 °C cannot be here. Type 0 to 15 °C."
    assert panel.value.value == "30"
    assert own_limits(demo).numbers == {}
    type_keys(panel.keypad.keys, "<", qtbot)
    assert panel.refusal.sentence == ""
    tap(panel.keep, qtbot)
    assert own_limits(demo).numbers == {WARMEST.setting: Decimal(3)}


def test_it_goes_back_to_the_usual(section: ShopSection, demo: Book, qtbot: QtBot) -> None:
    set_limit(demo, WARMEST, "5")
    section.refresh()
    tap(section.view.panel.usual, qtbot)
    assert own_limits(demo).numbers == {}
    assert not section.view.panel.usual.isEnabled()


def test_the_country_is_typed_in_letters(section: ShopSection, demo: Book, qtbot: QtBot) -> None:
    choose(section, COUNTRY, qtbot)
    panel = section.view.panel
    assert section.window().focusWidget() is panel.letters
    assert not panel.keypad.isVisible()
    qtbot.keyClicks(panel.letters, "xq")
    qtbot.keyClick(panel.letters, Qt.Key.Key_Return)
    assert panel.refusal.sentence == "There is no country XQ. Type its two letters, such as IE."
    assert own_limits(demo).country == "AU"
    panel.letters.selectAll()
    qtbot.keyClicks(panel.letters, "ie")
    qtbot.keyClick(panel.letters, Qt.Key.Key_Return)
    assert own_limits(demo).country == "IE"
    assert section.view.told.sentence == "The country is Ireland from now on."
    tap(panel.usual, qtbot)
    assert own_limits(demo).country == ""
    assert panel.value.value == "none"


def test_it_is_worked_by_the_keyboard_alone(section: ShopSection, demo: Book, qtbot: QtBot) -> None:
    rows = section.view.grids[1].rows
    first = rows[HANG["beef"].setting]
    first.setFocus()
    qtbot.keyClick(first, Qt.Key.Key_Return)
    type_text(first, "9x", qtbot)
    assert section.view.panel.value.value == "9"
    qtbot.keyClick(first, Qt.Key.Key_Return)
    assert own_limits(demo).numbers == {HANG["beef"].setting: Decimal(9)}
    type_text(first, "8", qtbot)
    qtbot.keyClick(first, Qt.Key.Key_Escape)
    assert section.view.panel.value.value == "9"
    qtbot.keySequence(first, "Ctrl+Z")
    assert own_limits(demo).numbers == {}
    qtbot.keyClick(first, Qt.Key.Key_Tab)
    assert section.window().focusWidget() is rows[HANG["beef carton"].setting]


def test_what_another_station_set_since_is_not_undone(
    section: ShopSection, demo: Book, qtbot: QtBot
) -> None:
    type_keys(section.view.panel.keypad.keys, "5", qtbot)
    tap(section.view.panel.keep, qtbot)
    set_limit(demo, WARMEST, "4")
    section.undo()
    assert section.view.told.meaning is Meaning.STOP
    assert section.view.panel.value.value == "4"


def test_other_places_hear_of_it_and_read_it_afresh(
    section: ShopSection, context: Context, demo: Book, qtbot: QtBot
) -> None:
    with qtbot.waitSignal(context.changes.changed) as heard:
        type_keys(section.view.panel.keypad.keys, "5", qtbot)
        tap(section.view.panel.keep, qtbot)
    assert heard.args == [frozenset({"limits"})]
    assert door(demo).warmest == 5


def test_it_says_once_that_local_codes_come_first(section: ShopSection) -> None:
    told_there = [
        each
        for each in section.findChildren(QLabel)
        if "follow your local food code" in each.text()
    ]
    assert [each.isVisible() for each in told_there] == [True]


@pytest.mark.parametrize("shown", ["number", "refused", "country"])
def test_every_control_is_large_named_reached_and_whole(
    place: SetupPlace, section: ShopSection, shown: str, qtbot: QtBot
) -> None:
    if shown == "country":
        section.choose(COUNTRY)
    else:
        section.choose(HANG["lamb carton"].setting)
        section.type("999" if shown == "refused" else "5")
        section.keep()
    check_walk(place, qtbot)


def test_the_words_of_every_limit_leave_room_for_its_keys_on_a_small_window(
    place: SetupPlace, section: ShopSection, qtbot: QtBot
) -> None:
    window = place.window()
    window.resize(1024, 600)
    qtbot.waitUntil(lambda: not outside(window))
    for limit in ALL_LIMITS:
        section.choose(limit.setting)
        qtbot.waitUntil(lambda: not outside(window) and not cut_labels(window))
