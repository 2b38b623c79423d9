"""The shop's facts under Setup: what a change does is said before it is kept, and taken back."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from gambrel.services.books import Book
from gambrel.services.shop_facts import TITLES, set_fact, shop_facts
from gambrel.ui.setup.facts_section import FactsSection
from gambrel.ui.setup.facts_state import (
    FACTS,
    FIXED,
    NOT_GIVEN,
    PAST,
    Draft,
    Way,
    describe,
    missing,
    stepped,
    told,
)
from gambrel.ui.setup.place import SetupPlace
from gambrel.ui.theme import Meaning
from tests.ui.setup.hands import SIZES, check_walk, tap, type_keys, type_text
from tests.ui.walk import cut_labels, painted_short

VALUES: dict[str, str | bool] = {
    "name": "Test bench",
    "currency": "AUD",
    "time_zone": "Australia/Melbourne",
    "day_starts": "04:00",
    "week_starts": "monday",
    "work_per_hour": "37.50",
    "tax_percent": "0",
    "prices_include_tax": False,
    "target_margin_percent": "38",
}


@pytest.fixture
def section(place: SetupPlace) -> FactsSection:
    place.open_item("facts")
    found = place.section
    assert isinstance(found, FactsSection)
    return found


def choose(section: FactsSection, name: str, qtbot: QtBot) -> None:
    tap(section.view.rows.rows[name], qtbot)


# --- The state ---


def test_every_fact_stands_once_as_people_read_it() -> None:
    rows = {row.key: row for row in describe(VALUES, Draft()).rows}
    assert list(rows) == list(TITLES) == list(FACTS)
    assert rows["work_per_hour"].spoken == "Work per hour, 37.50 AUD"
    assert rows["week_starts"].spoken == "Week starts, Monday"
    assert rows["prices_include_tax"].spoken == "Prices include tax, No"
    assert rows["name"].spoken == "Name, Test bench"
    assert not any(row.fixed for row in rows.values())


def test_a_currency_with_amounts_in_it_stays_and_that_is_said() -> None:
    rows = {row.key: row for row in describe(VALUES, Draft(), fixed_currency=True).rows}
    assert rows["currency"].fixed
    assert rows["currency"].about == FIXED


def test_what_changes_in_the_past_is_said_before_and_for_a_new_shop_left_out() -> None:
    for name, fact in FACTS.items():
        side = describe(VALUES, Draft(name)).side
        fresh = describe(VALUES, Draft(name), new=True).side
        assert side.used == f"{fact.used} {fact.after}".strip()
        assert side.past == (PAST if fact.after else "")
        assert (fresh.used, fresh.past) == (fact.used, "")
    silent = {name for name, fact in FACTS.items() if not fact.after}
    assert silent == {"name", "currency"}


def test_what_is_typed_becomes_a_value_of_the_file() -> None:
    assert Draft("prices_include_tax", "yes").value is True
    assert Draft("prices_include_tax", "no").value is False
    assert Draft("currency", " eur ").value == "EUR"
    assert Draft("work_per_hour", "38.").value == "38"
    assert Draft("name", "Name.").value == "Name."


def test_only_what_is_new_can_be_kept() -> None:
    for name, same, other in (
        ("name", "Test bench", "TEST BENCH"),
        ("week_starts", "monday", "sunday"),
        ("prices_include_tax", "no", "yes"),
        ("tax_percent", "0", "10"),
    ):
        assert not describe(VALUES, Draft(name)).side.can_keep
        assert not describe(VALUES, Draft(name, same)).side.can_keep
        assert not describe(VALUES, Draft(name, "  ")).side.can_keep
        assert describe(VALUES, Draft(name, other)).side.can_keep


def test_what_is_missing_is_told_and_can_be_given() -> None:
    given: dict[str, str | bool] = {"name": "New", "prices_include_tax": False}
    assert missing(given) == [name for name in FACTS if name not in given]
    state = describe(given, Draft("prices_include_tax"), new=True)
    rows = {row.key: row for row in state.rows}
    assert (rows["tax_percent"].value, rows["tax_percent"].about) == ("", NOT_GIVEN)
    assert [choice.chosen for choice in state.side.choices] == [False, True]
    assert describe(given, Draft("work_per_hour")).side.decimals == 3
    assert describe({"currency": "JPY"}, Draft("work_per_hour")).side.decimals == 0


def test_a_clock_is_stepped_within_the_day() -> None:
    assert stepped("04:00", 1) == "04:30"
    assert stepped("00:00", -1) == "23:30"
    assert stepped("23:45", 1) == "00:15"
    assert stepped("soon", 1) == "04:00"


def test_what_was_done_is_told() -> None:
    assert told("work_per_hour", VALUES) == "Work per hour: 37.50 AUD from now on."
    assert told("prices_include_tax", VALUES) == "Prices include tax: No from now on."
    assert told("target_margin_percent", VALUES) == "Target margin: 38 % from now on."


# --- The page ---


def test_a_number_is_typed_by_touch_kept_and_taken_back(
    section: FactsSection, demo: Book, qtbot: QtBot
) -> None:
    before = shop_facts(demo).shop
    choose(section, "work_per_hour", qtbot)
    panel = section.view.panel
    assert panel.past.text == PAST
    assert "other costs" in panel.used.text()
    type_keys(panel.keypad.keys, "41.2", qtbot)
    assert shop_facts(demo).shop == before
    tap(panel.keep, qtbot)
    assert shop_facts(demo).shop.work_per_hour == 4120
    assert section.view.told.sentence == "Work per hour: 41.20 AUD from now on."
    assert section.view.rows.rows["work_per_hour"].accessibleName() == "Work per hour, 41.20 AUD"
    tap(section.view.told.action, qtbot)
    assert shop_facts(demo).shop == before


def test_a_text_is_typed_and_only_then_kept(
    section: FactsSection, demo: Book, qtbot: QtBot
) -> None:
    choose(section, "name", qtbot)
    text = section.view.panel.text
    assert section.window().focusWidget() is text
    qtbot.keyClicks(text, "The other one")  # over what stood there
    qtbot.keyClick(text, Qt.Key.Key_Return)
    assert shop_facts(demo).shop.name == "The other one"
    qtbot.keySequence(section, "Ctrl+Z")
    assert shop_facts(demo).shop.name == "Apron Street Butchers (demo)"


def test_a_time_zone_is_found_by_its_place(section: FactsSection, demo: Book, qtbot: QtBot) -> None:
    choose(section, "time_zone", qtbot)
    panel = section.view.panel
    assert panel.offers.isHidden()
    qtbot.keyClicks(panel.text, "dubl")
    assert list(panel.offers.buttons) == ["Europe/Dublin"]
    tap(panel.offers.buttons["Europe/Dublin"], qtbot)
    assert panel.text.text() == "Europe/Dublin"
    assert panel.offers.isHidden()
    assert shop_facts(demo).shop.time_zone != "Europe/Dublin"
    qtbot.keyClick(panel.keep, Qt.Key.Key_Return)
    assert shop_facts(demo).shop.time_zone == "Europe/Dublin"


def test_a_choice_is_made_and_then_kept(section: FactsSection, demo: Book, qtbot: QtBot) -> None:
    choose(section, "week_starts", qtbot)
    panel = section.view.panel
    assert next(iter(panel.choices.buttons)) == "monday"
    tap(panel.choices.buttons["sunday"], qtbot)
    assert shop_facts(demo).shop.week_starts == 0
    tap(panel.keep, qtbot)
    assert shop_facts(demo).shop.week_starts == 6
    choose(section, "prices_include_tax", qtbot)
    assert list(panel.choices.buttons) == ["yes", "no"]
    tap(panel.choices.buttons["yes"], qtbot)
    tap(panel.keep, qtbot)
    assert shop_facts(demo).shop.prices_include_tax


def test_a_clock_is_stepped_or_typed(section: FactsSection, demo: Book, qtbot: QtBot) -> None:
    choose(section, "day_starts", qtbot)
    panel = section.view.panel
    tap(panel.later, qtbot)
    tap(panel.later, qtbot)
    tap(panel.earlier, qtbot)
    assert panel.text.text() == "04:30"
    tap(panel.keep, qtbot)
    assert f"{shop_facts(demo).shop.day_starts:%H:%M}" == "04:30"
    panel.text.selectAll()
    qtbot.keyClicks(panel.text, "25:00")
    tap(panel.keep, qtbot)
    assert panel.refusal.sentence.startswith("Day starts: '25:00' is not a time of day")


def test_what_cannot_be_is_refused_beside_the_field_and_changes_nothing(
    section: FactsSection, demo: Book, qtbot: QtBot
) -> None:
    choose(section, "target_margin_percent", qtbot)
    panel = section.view.panel
    type_keys(panel.keypad.keys, "100", qtbot)
    tap(panel.keep, qtbot)
    assert panel.refusal.meaning is Meaning.STOP
    assert "expected a margin below 100 per cent" in panel.refusal.sentence
    type_keys(panel.keypad.keys, "<", qtbot)
    assert panel.refusal.sentence == ""
    tap(panel.keep, qtbot)
    assert shop_facts(demo).shop.target_margin_percent == Decimal(10)


def test_the_currency_of_a_book_with_amounts_cannot_be_tapped(
    section: FactsSection, demo: Book, qtbot: QtBot
) -> None:
    row = section.view.rows.rows["currency"]
    assert not row.isEnabled()
    tap(row, qtbot)
    assert section.view.panel.title.text() == "Name"
    section.choose("currency")  # chosen while it still could be
    section.type("eur")
    section.keep()
    assert "holds amounts in AUD" in section.view.panel.refusal.sentence


def test_what_another_station_set_since_is_not_undone(
    section: FactsSection, demo: Book, qtbot: QtBot
) -> None:
    choose(section, "tax_percent", qtbot)
    type_keys(section.view.panel.keypad.keys, "10", qtbot)
    tap(section.view.panel.keep, qtbot)
    set_fact(demo, "tax_percent", "15")
    tap(section.view.told.action, qtbot)
    assert section.view.told.meaning is Meaning.STOP
    assert "Another station" in section.view.told.sentence
    assert shop_facts(demo).shop.tax_percent == 15


def test_it_is_worked_by_the_keyboard_alone(
    section: FactsSection, demo: Book, qtbot: QtBot
) -> None:
    row = section.view.rows.rows["tax_percent"]
    row.setFocus()
    qtbot.keyClick(row, Qt.Key.Key_Return)
    type_text(row, "9x", qtbot)
    qtbot.keyClick(row, Qt.Key.Key_Return)
    assert shop_facts(demo).shop.tax_percent == 9
    type_text(row, "8", qtbot)
    qtbot.keyClick(row, Qt.Key.Key_Escape)
    assert not section.view.panel.keep.isEnabled()
    qtbot.keySequence(row, "Ctrl+Z")
    assert shop_facts(demo).shop.tax_percent == 0


def test_what_is_half_typed_is_forgotten_on_the_way_out(
    section: FactsSection, place: SetupPlace, qtbot: QtBot
) -> None:
    choose(section, "tax_percent", qtbot)
    type_keys(section.view.panel.keypad.keys, "9", qtbot)
    place.open_item("shop")
    place.open_item("facts")
    assert not section.view.panel.keep.isEnabled()
    assert section.view.panel.value.value == "0"


def test_every_control_has_its_room_its_name_and_its_way_there(
    section: FactsSection, place: SetupPlace, demo: Book, qtbot: QtBot
) -> None:
    for name, fact in FACTS.items():
        section.choose(name)
        check_walk(place, qtbot)
        if fact.way is Way.NUMBER:
            section.type("1234567.123")
            section.keep()
            assert section.view.panel.refusal.sentence or name == "work_per_hour"
            check_walk(place, qtbot)
    section.choose("time_zone")
    section.type("am")
    check_walk(place, qtbot)
    set_fact(demo, "name", "A shop with a very long name, and Sons, by the old bridge " * 5)
    section.refresh()
    check_walk(place, qtbot)


def test_no_words_are_cut_in_either_look(
    section: FactsSection, place: SetupPlace, tmp_path: Path, qtbot: QtBot
) -> None:
    for dark in (True, False):
        section.context.theme.set_dark(dark)
        for size in SIZES:
            place.window().resize(*size)
            for name in FACTS:
                section.choose(name)
                qtbot.waitUntil(lambda: not cut_labels(place.window()))
                assert painted_short(section) == [], (size, name)
