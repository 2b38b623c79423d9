"""The team and its PINs, on a real book."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.pins import SALT_BYTES
from gambrel.services.books import Book, open_book
from gambrel.services.people import (
    add_person,
    check_pin,
    needs_pin,
    put_back_person,
    retire_person,
    set_pin,
    team,
)

SALT = bytes(SALT_BYTES)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with open_book(str(tmp_path / "shop.gambrel")) as opened:
        yield opened


def names(book: Book) -> list[str]:
    return [person.name for person in team(book)]


def test_people_come_and_go_and_come_back(book: Book) -> None:
    add_person(book, "  Joss  ")
    add_person(book, "Ana")
    assert names(book) == ["Ana", "Joss"]
    retire_person(book, "Ana")
    assert names(book) == ["Joss"]
    add_person(book, "Ana")
    assert names(book) == ["Ana", "Joss"]


@pytest.mark.parametrize(("name", "says"), [(" ", "name is needed"), ("x" * 41, "longer than 40")])
def test_no_name_and_too_long_a_name_are_refused(book: Book, name: str, says: str) -> None:
    with pytest.raises(Refusal, match=says):
        add_person(book, name)
    assert names(book) == []


def test_a_name_stands_once(book: Book) -> None:
    add_person(book, "Ana")
    with pytest.raises(Refusal, match="already"):
        add_person(book, "Ana")


def test_a_pin_is_asked_of_those_who_have_one(book: Book) -> None:
    add_person(book, "Ana")
    add_person(book, "Joss")
    set_pin(book, "Ana", "4711", SALT)
    assert (needs_pin(book, "Ana"), needs_pin(book, "Joss")) == (True, False)
    assert check_pin(book, "Ana", "4711")
    assert not check_pin(book, "Ana", "4712")
    assert check_pin(book, "Joss", "")
    set_pin(book, "Ana", "", SALT)
    assert not needs_pin(book, "Ana")
    assert check_pin(book, "Ana", "")


def test_a_pin_that_is_none_changes_nothing(book: Book) -> None:
    add_person(book, "Ana")
    set_pin(book, "Ana", "4711", SALT)
    with pytest.raises(Refusal, match="digits"):
        set_pin(book, "Ana", "12", SALT)
    assert check_pin(book, "Ana", "4711")


def test_whoever_left_has_no_pin_any_more(book: Book) -> None:
    add_person(book, "Ana")
    set_pin(book, "Ana", "4711", SALT)
    retire_person(book, "Ana")
    assert not needs_pin(book, "Ana")
    add_person(book, "Ana")
    assert not needs_pin(book, "Ana")
    with pytest.raises(Refusal, match="not in the team"):
        set_pin(book, "Nobody", "4711", SALT)


def test_what_was_done_to_someone_is_taken_back_with_their_pin(book: Book) -> None:
    add_person(book, "Ana")
    without = set_pin(book, "Ana", "4711", SALT)
    first = set_pin(book, "Ana", "0042", SALT)
    put_back_person(book, first)
    assert check_pin(book, "Ana", "4711")
    put_back_person(book, retire_person(book, "Ana"))
    assert names(book) == ["Ana"]
    assert check_pin(book, "Ana", "4711")
    assert not check_pin(book, "Ana", "0042")
    put_back_person(book, without)
    assert not needs_pin(book, "Ana")
