"""A preview says what a load would do, and only what was shown is taken in."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from gambrel.domain.refusals import Refusal, RowsRefused
from gambrel.domain.trade.records import Trade
from gambrel.services.books import Book
from gambrel.services.folder.load import load_folder
from gambrel.services.folder.preview import (
    FileCount,
    PreviewChanged,
    preview_folder,
    take_in,
)
from gambrel.services.folder.read import LoadStopped
from gambrel.services.folder.report import (
    ignored_sentence,
    load_sentence,
    preview_json,
    preview_sentence,
    refused_text,
)
from gambrel.services.folder.write import dump_folder
from tests.services.folder.test_load import BAD, ROWS
from tests.small_shop import FILES, replaced, write_shop


def held(book: Book) -> Trade | None:
    with book.reading() as work:
        return work.trade() if work.shop() is not None else None


def files_of(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_a_first_folder_is_all_new_and_nothing_is_written(book: Book, tmp_path: Path) -> None:
    shown = preview_folder(book, write_shop(tmp_path / "in"))
    assert held(book) is None
    assert shown.files == (
        FileCount("shop.toml", new=1),
        *(FileCount(f"{table}.csv", new=count) for table, count in ROWS.items()),
    )
    assert shown.can_be_taken
    assert [row.name for row in shown.new][:4] == ["the shop", "farm", "rump", "trim"]
    assert shown.new[2].line == 2
    assert shown.cells(shown.new[2])[:4] == [
        ("cut", "rump"),
        ("name", "Rump"),
        ("species", "beef"),
        ("kind", "tray"),
    ]
    assert shown.cells(shown.new[0]) == []
    assert preview_sentence(shown) == "23 rows are new."


def test_what_is_taken_in_is_what_a_load_takes_in(
    new_book: Callable[[str], Book], tmp_path: Path
) -> None:
    folder = write_shop(tmp_path / "in")
    one, two = new_book("one"), new_book("two")
    taken = take_in(one, preview_folder(one, folder))
    assert taken == load_folder(two, folder)
    assert held(one) == held(two)
    dump_folder(one, tmp_path / "a")
    dump_folder(two, tmp_path / "b")
    assert files_of(tmp_path / "a") == files_of(tmp_path / "b")
    assert load_sentence(taken).startswith("Added rows: suppliers 1, cuts 4,")


@pytest.mark.parametrize("changes", [changes for changes, _, _ in BAD])
def test_a_preview_refuses_what_a_load_refuses_in_the_same_words(
    book: Book, tmp_path: Path, changes: dict[str, str | None]
) -> None:
    folder = write_shop(tmp_path / "in", **changes)
    with pytest.raises(RowsRefused) as caught:
        load_folder(book, folder)
    shown = preview_folder(book, folder)
    assert tuple(each.text for each in shown.refused) == caught.value.sentences
    assert refused_text(shown.refused).splitlines() == str(caught.value).splitlines()
    assert not shown.can_be_taken
    with pytest.raises(RowsRefused):
        take_in(book, shown)
    assert held(book) is None


def test_the_same_folder_again_changes_nothing_and_is_told_so(book: Book, tmp_path: Path) -> None:
    folder = write_shop(tmp_path / "in")
    load_folder(book, folder)
    shown = preview_folder(book, folder)
    assert (shown.new, shown.refused) == ((), ())
    assert [count.same for count in shown.files] == [1, *ROWS.values()]
    assert not shown.can_be_taken
    assert preview_sentence(shown).startswith("All of it is in the book already")


def test_new_the_same_finished_and_refused_are_told_apart(book: Book, tmp_path: Path) -> None:
    load_folder(book, write_shop(tmp_path / "in"))
    more = write_shop(
        tmp_path / "more",
        suppliers=FILES["suppliers.csv"] + "other,Another,\nthird,,\n",
        stages=replaced("stages.csv", "+11:00,,Joss", "+11:00,2026-11-19T09:00,Joss"),
        cuts=replaced("cuts.csv", "26.99", "27.99"),
    )
    (more / "people.csv").write_text("name\nAna\n")
    (more / "notes.csv").write_text("anything\n")
    shown = preview_folder(book, more)
    counts = {count.file: count for count in shown.files}
    assert counts["suppliers.csv"] == FileCount("suppliers.csv", new=1, same=1, refused=1)
    assert counts["stages.csv"] == FileCount("stages.csv", finished=1, same=1)
    assert counts["cuts.csv"] == FileCount("cuts.csv", same=3, refused=1)
    assert counts["people.csv"] == FileCount("people.csv", new=1)
    assert {each.place for each in shown.refused} == {"suppliers.csv:4", "cuts.csv:2"}
    assert [(row.file, row.name, row.finishes) for row in shown.new] == [
        ("suppliers.csv", "other", False),
        ("stages.csv", "S2", True),
        ("people.csv", "Ana", False),
    ]
    assert preview_sentence(shown) == (
        "2 rows are new, 1 open stage would be finished, 21 rows are in the book already, "
        "2 things are wrong, so nothing can be taken in."
    )
    assert ignored_sentence(shown.ignored).endswith("none of the files of this form: notes.csv.")


def test_a_preview_is_told_to_programs(book: Book, tmp_path: Path) -> None:
    spoilt = replaced("suppliers.csv", "A farm", "")
    told = preview_json(preview_folder(book, write_shop(tmp_path / "in", suppliers=spoilt)))
    assert told["can_be_taken"] is False
    assert told["files"][1] == {
        "file": "suppliers.csv", "new": 0, "finished": 0, "same": 0, "refused": 1,
    }  # fmt: skip
    assert told["new"][1] == {"file": "cuts.csv", "line": 2, "key": "rump", "finishes": False}
    (refused,) = told["refused"]
    assert (refused["file"], refused["line"], refused["column"]) == ("suppliers.csv", 2, "name")
    assert refused["text"] == f"suppliers.csv:2: name: {refused['message']}"


# --- One file alone ---


def test_one_file_alone_is_taken_into_a_book_that_has_a_shop(book: Book, tmp_path: Path) -> None:
    folder = write_shop(tmp_path / "in", prices=None)
    load_folder(book, folder)
    (folder / "cuts.csv").write_text(FILES["cuts.csv"] + "shin,Shin,beef,tray,14.50,,,,,\n")
    (folder / "suppliers.csv").write_text("spoilt")
    shown = preview_folder(book, folder / "cuts.csv")
    assert shown.files == (FileCount("cuts.csv", new=1, same=4),)
    take_in(book, shown)
    trade = held(book)
    assert trade is not None
    assert "shin" in {cut.key for cut in trade.cuts}


def test_one_file_alone_needs_a_book_that_has_a_shop(book: Book, tmp_path: Path) -> None:
    shown = preview_folder(book, write_shop(tmp_path / "in") / "cuts.csv")
    assert [each.place for each in shown.refused] == ["shop.toml"]
    assert "has no shop yet" in shown.refused[0].message
    assert shown.files == (FileCount("shop.toml", refused=1), FileCount("cuts.csv", new=4))
    assert [shown.cells(row) for row in shown.new] == [[]] * 4


def test_one_file_of_another_name_is_refused_by_what_was_meant(book: Book, tmp_path: Path) -> None:
    (tmp_path / "Cust.csv").write_text(FILES["cuts.csv"])
    with pytest.raises(Refusal, match=r"did you mean 'cuts.csv'\?$"):
        preview_folder(book, tmp_path / "Cust.csv")
    (tmp_path / "holiday.png").touch()
    with pytest.raises(Refusal, match=r"in which they lie\.$"):
        preview_folder(book, tmp_path / "holiday.png")


# --- What changes between looking and taking ---


def test_a_folder_that_changed_is_shown_again_and_not_taken(book: Book, tmp_path: Path) -> None:
    folder = write_shop(tmp_path / "in")
    shown = preview_folder(book, folder)
    (folder / "cuts.csv").write_text(replaced("cuts.csv", "26.99", "29.99"))
    with pytest.raises(PreviewChanged) as caught:
        take_in(book, shown)
    assert held(book) is None
    rump = next(row for row in caught.value.now.new if row.name == "rump")
    assert ("price_per_kg", "29.99") in caught.value.now.cells(rump)
    take_in(book, caught.value.now)
    assert held(book) is not None


def test_a_book_that_changed_is_looked_at_again_and_nothing_is_taken(
    book: Book, tmp_path: Path
) -> None:
    load_folder(book, write_shop(tmp_path / "in"))
    more = write_shop(tmp_path / "more", suppliers=FILES["suppliers.csv"] + "new,New,\n")
    shown = preview_folder(book, more)
    other = tmp_path / "other"
    other.mkdir()
    (other / "suppliers.csv").write_text("supplier,name\nnew,Another one\n")
    load_folder(book, other)
    with pytest.raises(PreviewChanged) as caught:
        take_in(book, shown)
    assert [each.place for each in caught.value.now.refused] == ["suppliers.csv:3"]
    trade = held(book)
    assert trade is not None
    assert [each.name for each in trade.suppliers] == ["A farm", "Another one"]


def test_a_folder_that_went_away_is_refused_and_nothing_is_taken(
    book: Book, tmp_path: Path
) -> None:
    folder = write_shop(tmp_path / "in")
    shown = preview_folder(book, folder)
    folder.rename(tmp_path / "elsewhere")
    with pytest.raises(Refusal, match="There is no folder"):
        take_in(book, shown)
    assert held(book) is None


def test_a_file_that_goes_away_while_it_is_read_is_refused(book: Book, tmp_path: Path) -> None:
    folder = write_shop(tmp_path / "in")

    def vanish(_done: int, _total: int) -> bool:
        (folder / "pieces.csv").unlink(missing_ok=True)
        return True

    shown = preview_folder(book, folder, vanish)
    assert [each.place for each in shown.refused] == ["pieces.csv"]
    assert "cannot be read" in shown.refused[0].message


@pytest.mark.parametrize(
    "error", [PermissionError(13, "Permission denied"), OSError(5, "I/O error")]
)
def test_a_folder_that_cannot_be_read_is_a_sentence(
    book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, error: OSError
) -> None:
    def no(_self: Path) -> None:
        raise error

    monkeypatch.setattr(Path, "iterdir", no)
    with pytest.raises(Refusal, match=rf"cannot be read \({error.strerror}\)"):
        preview_folder(book, tmp_path)


def test_a_path_that_can_be_none_is_a_sentence(book: Book) -> None:
    with pytest.raises(Refusal, match="cannot be read"):
        preview_folder(book, Path("a\0b"))


# --- Progress, and a stop ---


def test_it_tells_how_far_it_is_to_the_last_byte(book: Book, tmp_path: Path) -> None:
    many = "".join(f"s{number},Supplier {number},\n" for number in range(3000))
    folder = write_shop(tmp_path / "in", suppliers=FILES["suppliers.csv"] + many)
    told: list[tuple[int, int]] = []

    def watch(done: int, total: int) -> bool:
        told.append((done, total))
        return True

    preview_folder(book, folder, watch)
    size = sum(path.stat().st_size for path in folder.iterdir())
    assert {total for _, total in told} == {size}
    assert [done for done, _ in told] == sorted(done for done, _ in told)
    assert told[-1] == (size, size)
    assert len(told) > len(FILES) + 5


@pytest.mark.parametrize("looks", [0, 3, 12])
def test_a_stop_leaves_the_book_as_it_was(book: Book, tmp_path: Path, looks: int) -> None:
    folder = write_shop(tmp_path / "in")
    shown = preview_folder(book, folder)
    asked = 0

    def until(_done: int, _total: int) -> bool:
        nonlocal asked
        asked += 1
        return asked <= looks

    with pytest.raises(LoadStopped):
        preview_folder(book, folder, until)
    asked = 0
    with pytest.raises(LoadStopped):
        take_in(book, shown, until)
    assert held(book) is None


def test_a_stop_after_everything_was_written_takes_it_all_back(book: Book, tmp_path: Path) -> None:
    shown = preview_folder(book, write_shop(tmp_path / "in"))
    with pytest.raises(LoadStopped):
        take_in(book, shown, lambda _done, total: total != 1)
    assert held(book) is None
    take_in(book, shown)
    assert held(book) is not None
