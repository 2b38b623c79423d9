"""Who cuts: one tap, and a PIN in place where the shop wants one."""

from __future__ import annotations

from datetime import timedelta

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from gambrel.domain.trade.pins import SALT_BYTES
from gambrel.services import people
from gambrel.storage.book import Book
from gambrel.ui.block.pins import LOCK_OUT, MOST_WRONG, PinPad
from gambrel.ui.block.place import BlockPlace
from tests.block_shop import NOW
from tests.ui.block.conftest import Clock
from tests.ui.block.fingers import Make, tap, weigh, weighed


@pytest.fixture(autouse=True)
def team(book: Book) -> None:
    for name in ("Ana", "Bela", "Cas"):
        people.add_person(book, name)
    people.set_pin(book, "Bela", "2468", bytes(SALT_BYTES))
    people.retire_person(book, "Cas")


def press(place: BlockPlace, *texts: str) -> None:
    for text in texts:
        tap(next(key for key in place.view.work.panel.keys if key.text() == text))


def who(place: BlockPlace) -> str:
    return place.view.top.person_key.text()


def ask_for(place: BlockPlace, name: str) -> None:
    tap(place.view.top.person_key)
    press(place, name)


def test_the_team_is_offered_without_who_left(place: BlockPlace) -> None:
    tap(place.view.top.person_key)
    assert [key.text() for key in place.view.work.panel.keys] == ["Ana", "Bela"]


def test_without_a_pin_a_name_is_one_tap(place: BlockPlace) -> None:
    ask_for(place, "Ana")
    assert who(place) == "Ana"
    assert place.view.work.grid.isVisible()


def test_a_pin_is_asked_for_in_place_and_lets_in(place: BlockPlace) -> None:
    ask_for(place, "Ana")
    ask_for(place, "Bela")
    panel = place.view.work.panel
    assert panel.title.text() == "Bela"
    assert who(place) == "Ana"
    press(place, "2", "4", "6")
    ok = next(key for key in panel.keys if key.text() == "OK")
    assert not ok.isEnabled()
    press(place, "8")
    assert panel.more.text() == "● ● ● ●"
    press(place, "OK")
    assert who(place) == "Bela"
    weigh(place, "rump", "4.386")
    assert place._look.on_block.standing[0].piece.person == "Bela"  # type: ignore[union-attr]


def test_a_wrong_pin_is_told_and_changes_nobody(place: BlockPlace) -> None:
    ask_for(place, "Bela")
    press(place, "1", "1", "1", "1", "OK")
    assert place.view.work.panel.more.text().startswith("That is not the PIN of Bela.")
    assert who(place) == "Who cuts?"
    press(place, "2", "4", "6", "8", "OK")
    assert who(place) == "Bela"


def test_after_five_wrong_ones_comes_a_short_wait(place: BlockPlace, clock: Clock) -> None:
    clock.step = timedelta(0)
    ask_for(place, "Bela")
    for _ in range(MOST_WRONG):
        press(place, "1", "1", "1", "1", "OK")
    assert "Wait 30 seconds" in place.view.work.panel.more.text()
    assert not any(key.isEnabled() for key in place.view.work.panel.keys)
    tap(place.view.work.panel.close_key)
    ask_for(place, "Bela")
    assert "Wait 30 seconds" in place.view.work.panel.more.text()
    clock.now += LOCK_OUT
    tap(place.view.work.panel.close_key)
    ask_for(place, "Bela")
    press(place, "2", "4", "6", "8", "OK")
    assert who(place) == "Bela"


def test_a_pin_is_typed_on_a_keyboard_too(place: BlockPlace) -> None:
    ask_for(place, "Bela")
    QTest.keyClicks(place.view, "24699")
    QTest.keyClick(place.view, Qt.Key.Key_Backspace)
    QTest.keyClick(place.view, Qt.Key.Key_Backspace)
    QTest.keyClicks(place.view, "8")
    QTest.keyClick(place.view, Qt.Key.Key_Return)
    assert who(place) == "Bela"
    assert place.view.work.column.keypad.text == ""


def test_after_a_restart_a_pin_is_asked_for_before_the_next_piece(
    place: BlockPlace, make: Make
) -> None:
    ask_for(place, "Bela")
    press(place, "2", "4", "6", "8", "OK")
    weigh(place, "rump", "4.386")
    between = make()  # begun and left again without a PIN
    tap(between.view.work.panel.close_key)
    between.choose_cut("rump")
    again = make()
    assert again.view.work.panel.title.text() == "Bela"
    assert who(again) == "Who cuts?"
    tap(again.view.work.panel.close_key)
    weigh(again, "rump", "4.386")
    assert len(again.look.on_block.standing) == 1
    assert again.view.work.panel.title.text() == "Bela"
    press(again, "2", "4", "6", "8", "OK")
    tap(again.view.work.column.weigh_key)
    tap(again.view.work.column.weigh_key)  # the same again: it is meant
    pieces = [row.piece for row in again.look.on_block.standing]
    assert [(piece.cut, piece.person) for piece in pieces] == [("rump", "Bela")] * 2


def test_after_a_restart_a_name_without_a_pin_goes_on(place: BlockPlace, make: Make) -> None:
    ask_for(place, "Ana")
    again = make()
    assert who(again) == "Ana"
    assert again.view.work.grid.isVisible()


@pytest.mark.parametrize("told", [True, False])
def test_nobody_weighs_under_the_name_of_one_who_left(
    place: BlockPlace, book: Book, told: bool
) -> None:
    ask_for(place, "Ana")
    people.retire_person(book, "Ana")
    if told:
        place.refresh()
        assert who(place) == "Who cuts?"
        tap(place.view.work.panel.close_key)
    weigh(place, "rump", "4.386")
    assert weighed(place) == []
    assert [key.text() for key in place.view.work.panel.keys] == ["Bela"]
    press(place, "Bela")
    press(place, "2", "4", "6", "8", "OK")
    tap(place.view.work.column.weigh_key)
    assert [row.piece.person for row in place.look.on_block.standing] == ["Bela"]


def test_the_pad_never_shows_what_was_typed() -> None:
    pad = PinPad("Bela", "2468")
    assert "2468" not in repr(pad) + pad.sentence(NOW)


def test_the_pad_takes_no_more_than_a_pin_has() -> None:
    pad = PinPad("Bela")
    for digit in "1234567890x":
        pad = pad.press(digit)
    assert pad.typed == "12345678"
    assert pad.press("<").typed == "1234567"
