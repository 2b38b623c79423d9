from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from gambrel.services.books import open_book
from gambrel.storage.seal import seal
from tests.cli.conftest import Gambrel, Said
from tests.small_shop import write_shop
from tests.storage.test_migrations import KEPT


@pytest.fixture
def book(gambrel: Gambrel, tmp_path: Path) -> Path:
    assert gambrel("load", write_shop(tmp_path / "in"), "--book", tmp_path / "b").status == 0
    return tmp_path / "b"


def dumped(gambrel: Gambrel, book: object, folder: Path) -> dict[str, str]:
    assert gambrel("dump", folder, "--book", book).status == 0
    return {each.name: each.read_text() for each in folder.iterdir()}


def kept_of(said: Said) -> str:
    """The file in which the book that stood there is kept."""
    return said.out.partition(" is kept as ")[2].partition(". ")[0]


def test_backup_and_restore_give_the_same_book(
    gambrel: Gambrel, book: Path, tmp_path: Path
) -> None:
    said = gambrel("backup", tmp_path / "out.gambrel", "--book", book)
    assert (said.status, said.err) == (0, "")
    assert said.out.startswith(f"The book {book} is backed up in {tmp_path / 'out.gambrel'}.\n")
    said = gambrel("restore", tmp_path / "out.gambrel", "--book", tmp_path / "new")
    assert (said.status, said.err) == (0, "")
    assert "is what the backup" in said.out
    assert dumped(gambrel, tmp_path / "new", tmp_path / "d1") == dumped(
        gambrel, book, tmp_path / "d2"
    )
    assert gambrel("check", "--book", tmp_path / "new").status == 0


def test_both_speak_json(gambrel: Gambrel, book: Path, tmp_path: Path) -> None:
    file = tmp_path / "out.gambrel"
    made = gambrel("backup", file, "--book", book, "--json").json
    assert (made["book"], made["file"], made["replaced"]) == (str(book), str(file), False)
    assert made["rows"]["body"] == 1
    assert made["bytes"] == file.stat().st_size
    assert made["last_act"].endswith("+00:00")
    again = gambrel("backup", file, "--book", book, "--json").json
    assert again["replaced"] is True
    done = gambrel("restore", file, "--book", book, "--json").json
    assert done["rows"] == made["rows"] | {"setting": made["rows"]["setting"] + 1}
    assert Path(done["kept"]).name.startswith("b.before-restore-")
    assert (done["beyond"], done["was_damaged"]) == ({}, False)


def test_what_is_refused_gives_status_1_and_a_sentence(
    gambrel: Gambrel, book: Path, tmp_path: Path
) -> None:
    file = tmp_path / "out.gambrel"
    assert gambrel("backup", file, "--book", book).status == 0
    for arguments, says in [
        (("backup", tmp_path, "--book", book), "is a folder"),
        (("backup", book, "--book", book), "is the book itself"),
        (("backup", tmp_path / "x", "--book", tmp_path / "none"), "There is no book"),
        (("restore", tmp_path / "none", "--book", book), "There is no backup"),
        (("restore", tmp_path / "in" / "cuts.csv", "--book", book), "a file of another kind"),
    ]:
        said = gambrel(*arguments)
        assert (said.status, said.out) == (1, "")
        assert says in said.err
        assert said.err.endswith(".\n")
    assert gambrel("backup").status == 2
    assert gambrel("restore", file, file).status == 2


def test_going_back_tells_what_the_backup_does_not_hold_and_keeps_it(
    gambrel: Gambrel, book: Path, tmp_path: Path
) -> None:
    file, before = tmp_path / "out.gambrel", dumped(gambrel, book, tmp_path / "d1")
    assert gambrel("backup", file, "--book", book).status == 0
    with open_book(str(book)) as opened, opened.transaction() as work:
        piece = work.trade().pieces[0]
        work.add([piece._replace(key="P-late")])
    after = dumped(gambrel, book, tmp_path / "d2")
    said = gambrel("restore", file, "--book", book)
    assert (said.status, said.err) == (0, "")
    assert "It holds 1 piece that the backup does not." in said.out
    assert dumped(gambrel, book, tmp_path / "d3") == before
    assert dumped(gambrel, kept_of(said), tmp_path / "d4") == after
    assert "The backup holds all of it." in gambrel("restore", file, "--book", book).out


def test_a_backup_takes_the_place_of_an_earlier_one_and_of_nothing_else(
    gambrel: Gambrel, book: Path, tmp_path: Path
) -> None:
    file = tmp_path / "out.gambrel"
    for _ in range(2):
        assert gambrel("backup", file, "--book", book).status == 0
    whole = file.read_bytes()
    assert gambrel("load", write_shop(tmp_path / "else"), "--book", tmp_path / "c").status == 0
    with open_book(str(tmp_path / "c")) as other, other.transaction() as work:
        work.add([work.trade().pieces[0]._replace(key="P-other")])
    assert gambrel("backup", file, "--book", tmp_path / "c").status == 0
    said = gambrel("backup", file, "--book", book)
    assert said.status == 1
    assert "holds what this book does not" in said.err
    assert file.read_bytes() != whole


def test_a_backup_of_a_server_becomes_a_file_and_back(
    gambrel: Gambrel, book: Path, tmp_path: Path, pg_database: str
) -> None:
    url = pg_database.replace("postgresql+psycopg", "postgresql")
    assert gambrel("backup", tmp_path / "one", "--book", book).status == 0
    assert gambrel("restore", tmp_path / "one", "--book", url).status == 0
    assert gambrel("backup", tmp_path / "two", "--book", url).status == 0
    assert gambrel("restore", tmp_path / "two", "--book", tmp_path / "new").status == 0
    assert dumped(gambrel, tmp_path / "new", tmp_path / "d1") == dumped(
        gambrel, book, tmp_path / "d2"
    )
    said = gambrel("restore", tmp_path / "two", "--book", url)
    assert said.status == 0
    with open_book(kept_of(said), create=False) as there:
        assert there.check() == []


def test_no_password_is_shown(gambrel: Gambrel, tmp_path: Path, pg_database: str) -> None:
    url = pg_database.replace("tester@", "tester:secret@")
    assert gambrel("backup", tmp_path / "b", "--book", url).status == 1  # no book there yet
    open_book(pg_database).close()
    said = [
        gambrel("backup", tmp_path / "b", "--book", url),
        gambrel("restore", tmp_path / "b", "--book", url),
        gambrel("restore", tmp_path / "b", "--book", url, "--json"),
    ]
    assert [each.status for each in said] == [0, 0, 0]
    assert all("secret" not in each.out + each.err for each in said)


def test_a_backup_that_is_looked_at_keeps_its_seal(
    gambrel: Gambrel, book: Path, tmp_path: Path
) -> None:
    backup = tmp_path / "b.gambrel"
    gambrel("backup", backup, "--book", book)
    whole = backup.read_bytes()
    looks: list[list[object]] = [
        ["check"], ["cost"], ["trace", "HQ-1"], ["dump", tmp_path / "out"],
        ["backup", tmp_path / "again.gambrel"],
    ]  # fmt: skip
    for look in looks:
        assert gambrel(*look, "--book", backup).status == 0
    assert backup.read_bytes() == whole
    assert sorted(path.name for path in tmp_path.glob("b.gambrel*")) == ["b.gambrel"]


def test_a_backup_with_a_bit_turned_round_is_not_sound(
    gambrel: Gambrel, book: Path, tmp_path: Path
) -> None:
    backup = tmp_path / "b.gambrel"
    gambrel("backup", backup, "--book", book)
    spoilt = bytearray(backup.read_bytes())
    spoilt[spoilt.index(b"Rump")] ^= 1
    backup.write_bytes(spoilt)
    said = gambrel("check", "--book", backup)
    assert said.status == 1
    assert "not what was written" in said.err
    assert gambrel("restore", backup, "--book", tmp_path / "new.gambrel").status == 1


def test_a_restored_book_is_sound_before_and_after_it_is_opened(
    gambrel: Gambrel, book: Path, tmp_path: Path
) -> None:
    backup, new = tmp_path / "b.gambrel", tmp_path / "new.gambrel"
    gambrel("backup", backup, "--book", book)
    for _ in range(2):
        assert gambrel("restore", backup, "--book", new).status == 0
        assert gambrel("check", "--book", new).status == 0
    with open_book(str(new)):
        assert gambrel("check", "--book", new).status == 0


@pytest.mark.parametrize("old", KEPT, ids=lambda path: path.stem)
def test_an_old_backup_is_brought_up_to_be_looked_at(
    gambrel: Gambrel, tmp_path: Path, old: Path
) -> None:
    shutil.copyfile(old, tmp_path / "old.gambrel")
    seal(tmp_path / "old.gambrel")
    said = gambrel("check", "--book", tmp_path / "old.gambrel")
    assert (said.status, said.err) == (0, "")
