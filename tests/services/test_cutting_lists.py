"""Cutting lists as they are changed: the block follows, two stations do not undo each other."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

import pytest

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.list_edits import (
    Lines,
    ListKey,
    in_order,
    with_cut,
    with_norms,
    without_cut,
)
from gambrel.services import bench
from gambrel.services.books import Book, open_book
from gambrel.services.cutting_lists import (
    change_lines,
    copy_list,
    cutting_lists,
    new_list,
    read_norm,
    take_back_lines,
    yields_by,
)
from gambrel.services.folder.load import load_folder
from gambrel.services.folder.write import dump_folder
from tests.small_shop import write_shop

HIND = ListKey("Hind", "beef", "hindquarter")


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with open_book(str(tmp_path / "book.gambrel")) as opened:
        load_folder(opened, write_shop(tmp_path / "shop"))
        yield opened


def lines(book: Book, key: ListKey = HIND) -> Lines:
    return cutting_lists(book).lists.get(key, ())


def cuts(book: Book, key: ListKey = HIND) -> list[str]:
    return [line.cut for line in lines(book, key)]


def test_the_lists_stand_with_what_there_has_been(book: Book) -> None:
    found = cutting_lists(book)
    assert list(found.lists) == [HIND]
    assert found.portions == (("beef", "hindquarter"),)
    assert set(found.cuts) == {"rump", "trim", "mince", "bone"}


def test_the_block_follows_a_change_at_once_and_undo_too(book: Book) -> None:
    def offered() -> list[str]:
        return [row.cut.key for row in bench.look(book, "S1").on_block.cuts]

    assert offered()[:2] == ["rump", "bone"]
    before = lines(book)
    change = change_lines(book, HIND, before, in_order(with_cut(before, HIND, "mince"), ["mince"]))
    assert offered()[:3] == ["mince", "rump", "bone"]
    take_back_lines(book, change)
    assert lines(book) == before
    assert offered()[:2] == ["rump", "bone"]


def test_a_norm_past_the_whole_body_is_refused(book: Book) -> None:
    before = lines(book)
    with pytest.raises(Refusal, match="Norm: with it the norms of 'Hind' add up to 101"):
        change_lines(book, HIND, before, with_norms(before, {"rump": Decimal(83)}))
    assert lines(book) == before


def test_what_another_station_changed_is_not_written_over(book: Book) -> None:
    seen = lines(book)
    mine = change_lines(book, HIND, seen, in_order(seen, ["bone", "rump"]))
    with pytest.raises(Refusal, match="Another station has changed Hind since"):
        change_lines(book, HIND, seen, with_cut(seen, HIND, "trim"))
    now = lines(book)
    change_lines(book, HIND, now, with_cut(now, HIND, "trim"))
    with pytest.raises(Refusal, match="Undo would undo that"):
        take_back_lines(book, mine)
    assert cuts(book) == ["bone", "rump", "trim"]


def test_a_list_is_copied_and_the_copy_removed(book: Book) -> None:
    change = copy_list(book, HIND, "  Hind   for steaks ")
    copy = ListKey("Hind for steaks", "beef", "hindquarter")
    assert change.key == copy
    assert [(line.cut, line.norm_percent) for line in lines(book, copy)] == [
        ("rump", Decimal("8.5")),
        ("bone", Decimal(18)),
    ]
    assert bench.lists_for(book, "beef", "hindquarter") == ("Hind", "Hind for steaks")
    change_lines(book, copy, lines(book, copy), ())
    assert list(cutting_lists(book).lists) == [HIND]
    with pytest.raises(Refusal, match="There is a HIND for beef hindquarter already"):
        copy_list(book, HIND, "HIND")
    with pytest.raises(Refusal, match="no list Other"):
        copy_list(book, HIND._replace(name="Other"), "New")


def test_a_list_by_which_bodies_were_cut_stays(book: Book) -> None:
    one = without_cut(lines(book), "bone")
    change_lines(book, HIND, lines(book), one)
    with pytest.raises(Refusal, match="1 body was cut by Hind"):
        change_lines(book, HIND, one, ())
    assert cuts(book) == ["rump"]


def test_a_list_begins_with_its_first_cut(book: Book) -> None:
    found = cutting_lists(book)
    key = new_list(found.lists, ListKey("Shoulder", "lamb", "shoulder"), found.shop)
    change = change_lines(book, key, (), with_cut((), key, "rump"))
    assert cuts(book, key) == ["rump"]
    take_back_lines(book, change)
    assert list(cutting_lists(book).lists) == [HIND]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("", "beef", "side"), "A list needs a name"),
        (("New", "", "side"), "Species: nothing is given"),
        (("New", "beef", "x" * 101), "Portion: 101 characters are too many"),
        (("Hi\u200bnd", "beef", "side"), "List: "),
    ],
)
def test_a_list_needs_words_that_the_plain_files_hold(
    book: Book, words: tuple[str, str, str], said: str
) -> None:
    found = cutting_lists(book)
    with pytest.raises(Refusal, match=said):
        new_list(found.lists, ListKey(*words), found.shop)


def test_a_norm_is_read_as_in_the_plain_files(book: Book) -> None:
    shop = cutting_lists(book).shop
    assert read_norm("", shop) is None
    assert read_norm("8.25", shop) == Decimal("8.25")
    with pytest.raises(Refusal, match="Norm: 'much' is not a number"):
        read_norm("much", shop)


def test_what_one_body_yielded_is_no_habit(book: Book) -> None:
    assert (yields_by(book, HIND).bodies, yields_by(book, HIND).percent) == (1, {})


def test_lists_made_in_setup_are_dumped_and_loaded(book: Book, tmp_path: Path) -> None:
    copy_list(book, HIND, "Hind for steaks")
    seen = lines(book)
    change_lines(book, HIND, seen, with_norms(in_order(seen, ["bone"]), {"rump": None}))
    dump_folder(book, tmp_path / "out")
    with open_book(str(tmp_path / "again.gambrel")) as again:
        load_folder(again, tmp_path / "out")
        assert cutting_lists(again) == cutting_lists(book)
