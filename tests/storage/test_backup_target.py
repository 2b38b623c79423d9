"""A backup never takes the place of what it may not."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from gambrel.domain.refusals import Refusal
from gambrel.storage import backup as backups
from gambrel.storage.book import open_book
from tests.storage.backup_help import (
    backed_up,
    fill,
    make,
    nothing,
    parts_in,
    picture,
    rows_at,
    text,
    weigh,
)
from tests.storage.samples import SHOP
from tests.storage.test_refusals import damaged, foreign_database, newer


def test_an_earlier_backup_is_replaced_only_when_that_is_said(place: str, tmp_path: Path) -> None:
    make(place)
    file = backed_up(place, tmp_path / "b.gambrel")
    before = file.read_bytes()
    with open_book(place) as book:
        weigh(book, "new")
        with pytest.raises(Refusal, match="is there already"):
            book.back_up(file)
        assert file.read_bytes() == before
        book.back_up(file, replace=True)
    assert rows_at(file) == rows_at(place)


def later(path: Path, book: Path) -> None:
    """A backup of the same book that holds one piece more."""
    backed_up(book, path)
    with open_book(str(path)) as ahead:
        weigh(ahead, "only here")


def other(path: Path, book: Path) -> None:
    with open_book(str(path.with_name("other"))) as another:
        fill(another)
        weigh(another, "theirs")
    shutil.move(path.with_name("other"), path)


def other_without_trade(path: Path, book: Path) -> None:
    with open_book(str(path)) as another, another.transaction() as work:
        work.set_shop(replace(SHOP, name="Other shop"))


@pytest.mark.parametrize("make_other", [later, other, other_without_trade])
def test_what_the_book_does_not_hold_is_never_replaced(
    tmp_path: Path, make_other: Callable[[Path, Path], None]
) -> None:
    book = tmp_path / "shop.gambrel"
    make(book)
    target = tmp_path / "b.gambrel"
    make_other(target, book)
    before = target.read_bytes()
    with open_book(str(book)) as opened, pytest.raises(Refusal, match="does not: it is of another"):
        opened.back_up(target, replace=True)
    assert target.read_bytes() == before
    assert parts_in(tmp_path) == []


@pytest.mark.parametrize(
    ("make_it", "says"),
    [
        (text, "not a book but a file of another kind"),
        (picture, "not a book but a file of another kind"),
        (nothing, "is empty and not a book"),
        (foreign_database, "a database of another program"),
        (newer, "made by a newer version"),
        (damaged, "damaged"),
    ],
)
def test_a_file_that_is_no_backup_of_this_book_stays(
    file: Path, tmp_path: Path, make_it: Callable[[Path], None], says: str
) -> None:
    target = tmp_path / "target"
    make_it(target)
    before = target.read_bytes()
    with open_book(str(file)) as book, pytest.raises(Refusal, match=says) as told:
        book.back_up(target, replace=True)
    assert str(target) in str(told.value)
    assert target.read_bytes() == before
    assert parts_in(tmp_path) == []


def test_a_target_that_is_no_place_is_refused(file: Path, tmp_path: Path) -> None:
    link = tmp_path / "link"
    link.symlink_to(file)
    hard = tmp_path / "hard"
    hard.hardlink_to(file)
    with open_book(str(file)) as book:
        fill(book)
        for target, says in [
            (tmp_path, "is a folder"),
            (file, "is the book itself"),
            (link, "is the book itself"),
            (hard, "is the book itself"),
            (file.with_name("shop.gambrel-wal"), "is the book itself"),
            (file.with_name("shop.gambrel-journal"), "is the book itself"),
            (tmp_path / "none" / "b", "There is no folder"),
            (tmp_path / ("x" * 250), "cannot be written"),
        ]:
            with pytest.raises(Refusal, match=says):
                book.back_up(target, replace=True)
    assert rows_at(file)["piece"]


def test_a_journal_beside_the_target_is_not_played_into_the_backup(
    file: Path, tmp_path: Path
) -> None:
    target = tmp_path / "b.gambrel"
    with open_book(str(file)) as book:
        book.back_up(target)
        with open_book(str(target)) as opened:  # somebody looks into the backup as a book
            with opened.transaction() as work:
                work.set_setting("hook", "two")
            with pytest.raises(Refusal, match="open as a book"):
                book.back_up(target, replace=True)


def test_a_backup_that_somebody_else_wrote_meanwhile_stays(
    file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = tmp_path / "b.gambrel"

    def meanwhile(part: Path) -> None:
        target.write_text("theirs")

    monkeypatch.setattr(backups, "require_sound", meanwhile)
    with open_book(str(file)) as book, pytest.raises(Refusal):
        book.back_up(target)
    assert target.read_text() == "theirs"


def test_two_backups_under_one_name_at_once_are_one(
    file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    make(file)
    theirs = backed_up(file, tmp_path / "theirs")
    target = tmp_path / "b.gambrel"
    sound = backups.require_sound

    def meanwhile(part: Path) -> None:
        sound(part)
        shutil.copyfile(theirs, target)
        target.chmod(0o600)

    monkeypatch.setattr(backups, "require_sound", meanwhile)
    with open_book(str(file)) as book:
        weigh(book, "new")
        with pytest.raises(Refusal, match="at the same moment"):
            book.back_up(target)
        assert target.read_bytes() == theirs.read_bytes()
        book.back_up(target, replace=True)
    assert rows_at(target) == rows_at(file)
