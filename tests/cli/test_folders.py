from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from tests.cli.conftest import Gambrel
from tests.small_shop import FILES, replaced, write_shop


def dumped(gambrel: Gambrel, book: Path, folder: Path) -> dict[str, bytes]:
    assert gambrel("dump", folder, "--book", book).status == 0
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_load_tells_what_it_added_and_then_that_nothing_was_new(
    gambrel: Gambrel, tmp_path: Path
) -> None:
    folder, book = write_shop(tmp_path / "in"), tmp_path / "b.gambrel"
    first = gambrel("--book", book, "load", folder)
    assert (first.status, first.err) == (0, "")
    assert first.out.startswith("Added rows: suppliers 1, cuts 4,")
    again = gambrel("load", folder, "--book", book, "--json")
    assert (again.json["added"], again.json["shop"]) == ({}, False)
    assert again.json["same"]["pieces"] == 5


def test_a_shop_alone_is_told_and_so_is_what_such_a_book_cannot_do(
    gambrel: Gambrel, tmp_path: Path
) -> None:
    whole, alone, book = write_shop(tmp_path / "in"), tmp_path / "alone", tmp_path / "b.gambrel"
    alone.mkdir()
    (whole / "shop.toml").rename(alone / "shop.toml")
    assert gambrel("load", alone, "--book", book).out == "The shop's facts are new.\n"
    again = gambrel("load", alone, "--book", book)
    assert again.out == "Nothing was new.\n"
    solved = gambrel("solve", "--species", "beef", "--margin", "35", "--book", book)
    assert (solved.status, solved.out) == (1, "")
    assert "No cut in this book has a species" in solved.err
    gambrel("backup", tmp_path / "copy", "--book", book)
    back = gambrel("restore", tmp_path / "copy", "--book", book)
    assert (back.status, back.err) == (0, "")
    assert "no body and no piece.\nThe book that stood there is kept as" in back.out


def test_a_refused_folder_makes_no_book(gambrel: Gambrel, tmp_path: Path) -> None:
    folder = write_shop(tmp_path / "in", pieces=replaced("pieces.csv", "4.506", "-1"))
    said = gambrel("load", folder, "--book", tmp_path / "b.gambrel")
    assert said.status == 1
    assert said.err.startswith("pieces.csv:2: gross_kg: '-1' is negative")
    assert not (tmp_path / "b.gambrel").exists()


def test_a_refused_folder_leaves_the_book_as_it_was(gambrel: Gambrel, tmp_path: Path) -> None:
    book = tmp_path / "b.gambrel"
    gambrel("load", write_shop(tmp_path / "in"), "--book", book)
    before = dumped(gambrel, book, tmp_path / "before")
    bad = write_shop(
        tmp_path / "bad",
        pieces=FILES["pieces.csv"] + "P6,S1,rump,1,2,2026-11-18T08:40,Ana,1\n",
        suppliers=FILES["suppliers.csv"] + "new,New,\n",
    )
    said = gambrel("load", bad, "--book", book)
    assert (said.status, said.out) == (1, "")
    assert said.err.startswith("pieces.csv:7: tare_kg: ")
    assert dumped(gambrel, book, tmp_path / "after") == before


def test_a_dump_is_the_same_book(gambrel: Gambrel, tmp_path: Path, loaded: Path) -> None:
    first = dumped(gambrel, loaded, tmp_path / "one")
    gambrel("load", tmp_path / "one", "--book", tmp_path / "c.gambrel")
    assert dumped(gambrel, tmp_path / "c.gambrel", tmp_path / "two") == first


@pytest.mark.parametrize("command", [["load", "nowhere"], ["load", "b"]])
def test_what_is_no_folder_is_refused(
    gambrel: Gambrel, tmp_path: Path, command: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "b").touch()
    said = gambrel(*command, "--book", tmp_path / "book")
    assert said.status == 1
    assert said.err.count("\n") == 1


def test_a_file_that_is_no_book_is_refused_and_kept(gambrel: Gambrel, tmp_path: Path) -> None:
    book = tmp_path / "notes.txt"
    book.write_text("not a book" * 100)
    for command in (("load", write_shop(tmp_path / "in")), ("cost",), ("check",)):
        said = gambrel(*command, "--book", book)
        assert said.status == 1
        assert str(book) in said.err
    assert book.read_text() == "not a book" * 100


def test_a_place_that_cannot_be_written_is_refused(
    gambrel: Gambrel, tmp_path: Path, loaded: Path
) -> None:
    (tmp_path / "file").touch()
    said = gambrel("dump", tmp_path / "file" / "out", "--book", loaded)
    assert said.status == 1
    assert str(tmp_path / "file") in said.err
    assert said.err.count("\n") == 1


def test_the_platforms_folder_holds_the_users_own_book(gambrel: Gambrel, tmp_path: Path) -> None:
    from gambrel.services.books import default_place

    assert gambrel("cost").status == 1
    assert gambrel("load", write_shop(tmp_path / "in")).status == 0
    assert default_place().exists()
    assert gambrel("check").status == 0
    default_place().unlink()


def test_a_book_of_a_newer_program_is_refused_and_kept(
    gambrel: Gambrel, tmp_path: Path, loaded: Path
) -> None:
    book = tmp_path / "newer.gambrel"
    with sqlite3.connect(loaded) as source, sqlite3.connect(book) as copy:
        source.backup(copy)
        copy.execute("UPDATE alembic_version SET version_num = '9999'")
    before = book.read_bytes()
    for command in (("load", write_shop(tmp_path / "in")), ("cost",), ("check",)):
        said = gambrel(*command, "--book", book)
        assert said.status == 1
        assert "newer" in said.err
    assert book.read_bytes() == before


def test_a_book_on_postgresql_loads_and_dumps_the_same(
    gambrel: Gambrel, tmp_path: Path, loaded: Path, pg_database: str
) -> None:
    folder = write_shop(tmp_path / "in")
    assert gambrel("load", folder, "--book", pg_database).status == 0
    assert gambrel("load", folder, "--book", pg_database, "--json").json["added"] == {}
    first = gambrel("dump", tmp_path / "pg", "--book", pg_database)
    assert first.status == 0, first.err
    files = {path.name: path.read_bytes() for path in (tmp_path / "pg").iterdir()}
    assert files == dumped(gambrel, loaded, tmp_path / "lite")
    bad = write_shop(tmp_path / "bad", pieces=FILES["pieces.csv"].replace("S1,bone", "S9,bone"))
    assert gambrel("load", bad, "--book", pg_database).status == 1


def test_a_folder_of_another_book_is_replaced_only_when_asked(
    gambrel: Gambrel, tmp_path: Path, loaded: Path
) -> None:
    changed = replaced("pieces.csv", "4.506,0.120,2026-11-18T08:10", "4.600,0.120,2026-11-18T08:10")
    folder = write_shop(tmp_path / "spreadsheet", pieces=changed)
    said = gambrel("dump", folder, "--book", loaded)
    assert (said.status, said.out) == (1, "")
    assert "pieces.csv:2: 'P1' is not so in the book" in said.err
    assert "4.600" in (folder / "pieces.csv").read_text()
    assert gambrel("dump", folder, "--replace", "--book", loaded).status == 0
    assert "4.600" not in (folder / "pieces.csv").read_text()
    assert gambrel("dump", folder, "--book", loaded).status == 0


def test_a_dry_run_says_what_would_change_and_makes_no_book(
    gambrel: Gambrel, tmp_path: Path
) -> None:
    folder, book = write_shop(tmp_path / "in"), tmp_path / "b.gambrel"
    said = gambrel("load", folder, "--dry-run", "--book", book)
    assert (said.status, said.err) == (0, "")
    assert "cuts.csv: rump, trim, mince, bone" in said.out
    assert said.out.endswith("23 rows are new.\n")
    told = gambrel("load", folder, "--dry-run", "--json", "--book", book).json
    assert told["can_be_taken"] is True
    assert len(told["new"]) == 23
    assert not book.exists()


def test_a_dry_run_refuses_in_a_loads_words_and_changes_nothing(
    gambrel: Gambrel, tmp_path: Path
) -> None:
    book = tmp_path / "b.gambrel"
    gambrel("load", write_shop(tmp_path / "in"), "--book", book)
    before = dumped(gambrel, book, tmp_path / "before")
    bad = write_shop(
        tmp_path / "bad",
        pieces=replaced("pieces.csv", "4.506", "-1"),
        suppliers=FILES["suppliers.csv"] + "new,New,\n",
    )
    load = gambrel("load", bad, "--book", book)
    dry = gambrel("load", bad, "--dry-run", "--book", book)
    assert (dry.status, dry.err) == (1, load.err)
    assert "suppliers.csv: new" in dry.out
    told = gambrel("load", bad, "--dry-run", "--json", "--book", book)
    assert told.status == 1
    assert "".join(f"{each['text']}\n" for each in told.json["refused"]) == load.err
    assert dumped(gambrel, book, tmp_path / "after") == before


def test_one_file_of_a_folder_is_loaded_alone(gambrel: Gambrel, tmp_path: Path) -> None:
    book, folder = tmp_path / "b.gambrel", write_shop(tmp_path / "in")
    gambrel("load", folder, "--book", book)
    (folder / "suppliers.csv").write_text(FILES["suppliers.csv"] + "new,New,\n")
    (folder / "cuts.csv").write_text("spoilt")
    said = gambrel("load", folder / "suppliers.csv", "--book", book)
    assert (said.status, said.out) == (0, "Added rows: suppliers 1. 1 row was there already.\n")


def test_a_dry_run_on_postgresql_writes_nothing(
    gambrel: Gambrel, tmp_path: Path, pg_database: str
) -> None:
    folder = write_shop(tmp_path / "in")
    gambrel("load", folder, "--book", pg_database)
    (folder / "suppliers.csv").write_text(FILES["suppliers.csv"] + "new,New,\n")
    for _ in range(2):
        told = gambrel("load", folder, "--dry-run", "--json", "--book", pg_database).json
        assert [each["key"] for each in told["new"]] == ["new"]
