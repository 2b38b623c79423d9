"""What the Book under Setup says, as plain texts."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from gambrel.services import backup as backups
from gambrel.services.backup import LastBackup
from gambrel.services.check import CheckReport
from gambrel.services.daily_copy import DailyCopy
from gambrel.ui.setup.book_state import (
    MAY_BREAK,
    SAME_DISK,
    BookFacts,
    Busy,
    backup_told,
    breakable,
    check_told,
    describe,
    size_words,
    sound_told,
)

FACTS = BookFacts(
    where="/books/shop.gambrel",
    size=1_234_567,
    bodies=23,
    pieces=1417,
    time_zone="Australia/Melbourne",
    last=LastBackup(datetime(2026, 11, 20, 2, 30, tzinfo=UTC), "/media/stick/b", "bench-1"),
    due="",
    copies=(DailyCopy(date(2026, 11, 20), Path("x")), DailyCopy(date(2026, 11, 19), Path("y"))),
    on_server=False,
    folder="/media/stick",
    same_disk=False,
    command="gambrel restore FILE --book /books/shop.gambrel",
)


def plain(text: str) -> str:
    return text.replace(MAY_BREAK, "")


def test_the_book_and_its_backups_are_told() -> None:
    state = describe(FACTS, Busy.NOTHING)
    assert state.size == ("1.2", "MB")
    assert (state.bodies, state.pieces) == ("23", "1,417")
    assert state.last == "Fri 20 Nov 2026 at 13:30, at bench-1"
    assert plain(state.last_file) == "/media/stick/b"
    assert state.copies == "Daily copies beside the book: 2, the last of Fri 20 Nov 2026."
    assert not state.watch
    assert state.can_act
    assert (state.back_up, state.check) == ("Back up now", "Check the book")


def test_what_is_missing_is_told_too() -> None:
    bare = replace(FACTS, last=None, copies=(), folder="", same_disk=False)
    state = describe(bare, Busy.NOTHING)
    assert (state.last, state.last_file, state.folder) == ("never", "", "no folder chosen yet")
    assert state.copies == "Daily copies beside the book: none yet."
    server = describe(replace(bare, on_server=True), Busy.NOTHING)
    assert server.copies.startswith("Daily copies: none here.")


def test_a_folder_on_the_books_own_disk_is_marked() -> None:
    state = describe(replace(FACTS, same_disk=True), Busy.NOTHING)
    assert (state.hint, state.watch) == (SAME_DISK, True)


def test_what_is_being_done_stands_on_its_button() -> None:
    assert describe(FACTS, Busy.BACKUP).back_up == "Backing up …"
    assert describe(FACTS, Busy.BACKUP).check == "Check the book"
    assert describe(FACTS, Busy.CHECK).check == "Checking …"
    assert describe(FACTS, Busy.LOOK).go_back == "Looking at it …"
    assert describe(FACTS, Busy.GO_BACK).go_back == "Going back …"
    assert not describe(FACTS, Busy.CHECK).can_act


@pytest.mark.parametrize(
    ("size", "words"),
    [
        (0, ("0", "bytes")),
        (999, ("999", "bytes")),
        (1000, ("1.0", "kB")),
        (327_680, ("328", "kB")),
        (99_940_000, ("99.9", "MB")),
        (99_960_000, ("100", "MB")),
        (5_000_000_000_000_000, ("5000", "TB")),
    ],
)
def test_a_size_is_told_in_steps_of_a_thousand(size: int, words: tuple[str, str]) -> None:
    assert size_words(size) == words


def test_a_path_may_break_and_stays_the_same_path() -> None:
    assert breakable("/a-b/c.d").count(MAY_BREAK) == 4
    assert plain(breakable("/a-b/c.d")) == "/a-b/c.d"


def test_a_check_is_told_with_what_is_wrong_first() -> None:
    report = CheckReport(["the pages"], ["the money: no"], ["pieces: P1: kg: no"], ["odd", "odd"])
    assert check_told(report) == (
        "Wrong: pieces: P1: kg: no.",
        "Not checked: the money: no.",
        "Note: odd.",
        "Checked: the pages.",
    )
    assert "go back to a backup" in sound_told(report)
    assert sound_told(CheckReport()) == "The book is sound."


def test_words_for_an_empty_book() -> None:
    empty = backups.Contents("", "", {"body": 0, "piece": 0}, None, 0)
    assert backup_told(empty, "b") == "Backed up an empty book in b."
