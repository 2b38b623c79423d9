"""The team under Setup: names come and go, PINs are typed twice, every act is taken back."""

from __future__ import annotations

from dataclasses import fields

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from gambrel.domain.trade.around import Person
from gambrel.services.books import Book
from gambrel.services.people import check_pin, needs_pin, retire_person, team
from gambrel.ui.context import Context
from gambrel.ui.setup.people_section import PeopleSection
from gambrel.ui.setup.people_state import NOBODY_YET, Draft, NewPin, describe
from gambrel.ui.setup.place import SetupPlace
from gambrel.ui.theme import Meaning
from gambrel.ui.widgets.entry import BACK, CLEAR, press_code
from tests.ui.setup.hands import check_walk, tap, type_keys, type_text


@pytest.fixture
def section(place: SetupPlace) -> PeopleSection:
    place.open_item("people")
    found = place.section
    assert isinstance(found, PeopleSection)
    return found


def names(book: Book) -> list[str]:
    return [person.name for person in team(book)]


def give_pin(section: PeopleSection, first: str, second: str, qtbot: QtBot) -> None:
    """Type a PIN twice by touch."""
    pad = section.view.panel.pin
    tap(section.view.panel.give, qtbot)
    type_keys(pad.keypad.keys, first, qtbot)
    tap(pad.go_on, qtbot)
    type_keys(pad.keypad.keys, second, qtbot)
    tap(pad.go_on, qtbot)


# --- The state ---


def test_an_empty_team_says_what_to_do() -> None:
    state = describe([], Draft())
    assert state.about == "Nobody is in the team yet. Type the first name, then Add."
    assert (state.title, state.rows, state.can_add) == ("", (), False)
    assert describe([], Draft(name=" ")).can_add is False


def test_a_name_with_a_pin_can_lose_it() -> None:
    team = [Person("Ana", pin="scrypt$x$y"), Person("Joss")]
    state = describe(team, Draft(chosen="Ana"))
    assert [row.about for row in state.rows] == ["asked for a PIN", "no PIN"]
    assert (state.give, state.can_take_away) == ("Change the PIN", True)
    state = describe(team, Draft(chosen="Joss"))
    assert (state.give, state.can_take_away) == ("Give a PIN", False)
    assert describe(team, Draft(chosen="Bela")).title == ""


def test_a_pin_is_kept_only_where_both_are_the_same() -> None:
    pin = NewPin().type("0042").further()
    assert (pin.again, pin.typed, pin.agreed()) == (True, "", False)
    assert pin.type("0042").agreed()
    other = pin.type("0043").further()
    assert "not the same" in other.refusal
    assert (other.again, other.typed) == (False, "")
    assert other.type("1").refusal == ""


def test_no_digit_of_a_pin_stands_in_what_is_written_about_it() -> None:
    pin = NewPin().type("4711").further().type("4711")
    state = describe([Person("Ana")], Draft(chosen="Ana", pin=pin))
    assert "4711" not in repr((pin, state))
    assert state.pin is not None
    assert state.pin.dots == "● ● ● ●"
    assert "typed" in {each.name for each in fields(state.pin)}


@pytest.mark.parametrize(
    ("text", "key", "after"),
    [
        ("", "0", "0"),
        ("0", "0", "00"),
        ("0", "7", "07"),
        ("12", BACK, "1"),
        ("", BACK, ""),
        ("12", CLEAR, ""),
        ("12", ".", "12"),
        ("12", "٣", "12"),
        ("12345678", "9", "12345678"),
    ],
)
def test_a_code_keeps_its_leading_noughts_and_ends_at_its_length(
    text: str, key: str, after: str
) -> None:
    assert press_code(text, key, longest=8) == after


# --- The page ---


def test_a_name_is_added_and_taken_back(section: PeopleSection, demo: Book, qtbot: QtBot) -> None:
    view = section.view
    assert not view.add.isEnabled()
    qtbot.keyClicks(view.name, "Mira")
    tap(view.add, qtbot)
    assert names(demo) == ["Ana", "Bela", "Joss", "Mira"]
    assert view.told.sentence == "Mira is in the team."
    assert view.panel.title.text() == "Mira"
    assert view.name.text() == ""
    tap(view.told.action, qtbot)
    assert names(demo) == ["Ana", "Bela", "Joss"]
    assert view.panel.title.text() == "Ana"


def test_a_name_that_is_there_already_is_refused_beside_the_field(
    section: PeopleSection, demo: Book, qtbot: QtBot
) -> None:
    view = section.view
    view.name.setFocus()
    qtbot.keyClicks(view.name, "Ana")
    qtbot.keyClick(view.name, Qt.Key.Key_Return)
    assert view.refusal.meaning is Meaning.STOP
    assert view.refusal.sentence == "Ana is in the team already. Add a letter to tell two apart."
    assert view.name.text() == "Ana"
    qtbot.keyClicks(view.name, " K")
    assert view.refusal.sentence == ""
    qtbot.keyClick(view.name, Qt.Key.Key_Return)
    assert names(demo) == ["Ana", "Ana K", "Bela", "Joss"]


def test_a_pin_is_given_changed_and_taken_away_each_undone(
    section: PeopleSection, demo: Book, qtbot: QtBot
) -> None:
    panel = section.view.panel
    tap(section.view.team.rows["Ana"], qtbot)
    give_pin(section, "0042", "0042", qtbot)
    assert check_pin(demo, "Ana", "0042")
    assert not check_pin(demo, "Ana", "42")
    assert panel.give.text() == "Change the PIN"
    give_pin(section, "4711", "4711", qtbot)
    assert check_pin(demo, "Ana", "4711")
    tap(section.view.told.action, qtbot)
    assert check_pin(demo, "Ana", "0042")
    tap(panel.take_away, qtbot)
    assert not needs_pin(demo, "Ana")
    assert not panel.take_away.isVisible()
    tap(section.view.told.action, qtbot)
    assert check_pin(demo, "Ana", "0042")
    assert not check_pin(demo, "Ana", "4711")


def test_two_pins_that_differ_are_typed_again(
    section: PeopleSection, demo: Book, qtbot: QtBot
) -> None:
    pad = section.view.panel.pin
    tap(section.view.team.rows["Ana"], qtbot)
    give_pin(section, "1234", "1235", qtbot)
    assert "not the same" in pad.refusal.sentence
    assert not needs_pin(demo, "Ana")
    type_keys(pad.keypad.keys, "123", qtbot)
    assert not pad.go_on.isEnabled()
    assert pad.dots.text() == "● ● ●"
    tap(pad.leave, qtbot)
    assert not pad.isVisible()
    assert not needs_pin(demo, "Ana")


def test_someone_leaves_the_team_and_comes_back_with_their_pin(
    section: PeopleSection, demo: Book, qtbot: QtBot
) -> None:
    tap(section.view.team.rows["Bela"], qtbot)
    give_pin(section, "1234", "1234", qtbot)
    tap(section.view.panel.retire, qtbot)
    assert names(demo) == ["Ana", "Joss"]
    assert list(section.view.team.rows) == ["Ana", "Joss"]
    tap(section.view.told.action, qtbot)
    assert names(demo) == ["Ana", "Bela", "Joss"]
    assert check_pin(demo, "Bela", "1234")
    assert not check_pin(demo, "Bela", "")


def test_it_is_worked_by_the_keyboard_alone(
    section: PeopleSection, demo: Book, qtbot: QtBot
) -> None:
    ana = section.view.team.rows["Ana"]
    ana.setFocus()
    qtbot.keyClick(ana, Qt.Key.Key_Space)
    give = section.view.panel.give
    give.setFocus()
    qtbot.keyClick(give, Qt.Key.Key_Return)
    for _ in range(2):
        type_text(section, "0815", qtbot)
        qtbot.keyClick(section.window().focusWidget(), Qt.Key.Key_Return)
    assert check_pin(demo, "Ana", "0815")
    assert not check_pin(demo, "Ana", "")
    give.setFocus()
    qtbot.keyClick(give, Qt.Key.Key_Return)
    qtbot.keyClick(section.window().focusWidget(), Qt.Key.Key_Escape)
    assert not section.view.panel.pin.isVisible()
    assert section.window().focusWidget() is give


def test_other_places_hear_of_it(section: PeopleSection, context: Context, qtbot: QtBot) -> None:
    qtbot.keyClicks(section.view.name, "Mira")
    with qtbot.waitSignal(context.changes.changed) as heard:
        tap(section.view.add, qtbot)
    assert heard.args == [frozenset({"people"})]


def test_it_says_that_a_pin_is_no_lock(section: PeopleSection) -> None:
    told = [each for each in section.findChildren(QLabel) if "no lock" in each.text()]
    assert [each.isVisible() for each in told] == [True]


@pytest.mark.parametrize("shown", ["nobody", "chosen", "pin", "refused"])
def test_every_control_is_large_named_reached_and_whole(
    place: SetupPlace, section: PeopleSection, demo: Book, shown: str, qtbot: QtBot
) -> None:
    if shown == "nobody":
        for name in names(demo):
            retire_person(demo, name)
        section.refresh()
        assert section.view.panel.about.text() == NOBODY_YET
    if shown in ("pin", "refused"):
        section.begin_pin()
        section.type_pin("12345678")
    if shown == "refused":
        section.go_on()
        section.type_pin("1234")
        section.go_on()
    check_walk(place, qtbot)
