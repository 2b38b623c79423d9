"""A backup is the whole book at one moment, and never takes the place of what it may not."""

from __future__ import annotations

import os
import shutil
import signal
import sqlite3
import subprocess
import sys
import time
from contextlib import closing
from pathlib import Path

import pytest

from gambrel.domain.refusals import Refusal
from gambrel.storage import backup as backups
from gambrel.storage import copy as copies
from gambrel.storage import mounts
from gambrel.storage.book import open_book
from gambrel.storage.copy import Unsound
from gambrel.storage.engine import sqlite_private
from tests.storage.backup_help import backed_up, fill, make, parts_in, rows_at
from tests.storage.samples import SHOP
from tests.storage.test_processes import WEIGHER, start
from tests.storage.test_refusals import as_nobody, common

__all__ = ["common"]  # a fixture


def test_it_holds_every_row_of_every_table(place: str, tmp_path: Path) -> None:
    rows = make(place)
    assert [table for table, found in rows.items() if not found] == []  # so nothing is left out
    file = tmp_path / "backup.gambrel"
    with open_book(place) as book:
        contents = book.back_up(file)
    assert rows_at(file) == rows
    assert contents.rows == {table: len(found) for table, found in rows.items()}
    assert contents.shop == SHOP.name
    assert contents.size == file.stat().st_size
    assert parts_in(tmp_path) == []
    assert rows_at(place) == rows


def test_a_server_keeps_nothing_beside_its_tables(pg_database: str) -> None:
    """No sequence counts on, no view, no table but those that are carried."""
    make(pg_database)
    with open_book(pg_database) as book, book.reading() as work:
        found = work._connection.exec_driver_sql(
            "SELECT relkind, relname FROM pg_class WHERE relkind IN ('S', 'v', 'm', 'f', 'p')"
            " AND relnamespace = current_schema()::regnamespace"
        ).all()
        assert found == []


def test_it_is_one_file_that_opens_as_a_book(file: Path, tmp_path: Path) -> None:
    made = backed_up(file, tmp_path / "b")
    assert made.read_bytes()[18:20] == b"\x01\x01"  # no write-ahead log waits for it
    with open_book(str(made), read_only=True) as book:
        assert book.check() == []


def test_it_is_of_one_moment_while_another_station_weighs(place: str, tmp_path: Path) -> None:
    make(place)
    with start(WEIGHER, place, "w") as station:
        assert station.stdout is not None
        told = 0
        for number in range(4):
            for _ in range(15):
                told = int(station.stdout.readline().split("-")[1])
            backed_up(place, tmp_path / f"b{number}.gambrel")
            kept = {row[0] for row in rows_at(tmp_path / f"b{number}.gambrel")["piece"]}
            numbers = sorted(int(key[2:]) for key in kept if key.startswith("w-"))
            assert numbers == list(range(len(numbers)))  # nothing is missing in between
            assert len(numbers) > told  # all that was on the disk when it began
        station.send_signal(signal.SIGKILL)


# --- A world that is in the way ---


def test_a_full_disk_says_so_and_leaves_the_earlier_backup(
    file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = backed_up(file, tmp_path / "b.gambrel")
    before = target.read_bytes()

    def small(path: Path) -> sqlite3.Connection:
        connection = sqlite_private(path)
        connection.execute("PRAGMA max_page_count = 20").close()
        return connection

    monkeypatch.setattr(copies, "sqlite_private", small)
    with open_book(str(file)) as book, pytest.raises(Refusal, match="the disk is full"):
        book.back_up(target, replace=True)
    assert target.read_bytes() == before
    assert parts_in(tmp_path) == []


LIMITED = """
import resource, sys
from pathlib import Path
from gambrel.domain.refusals import Refusal
from gambrel.storage.book import open_book
with open_book(sys.argv[1]) as book:
    resource.setrlimit(resource.RLIMIT_FSIZE, (100_000, 100_000))
    try:
        book.back_up(Path(sys.argv[2]))
    except Refusal as refusal:
        print(refusal)
"""


def test_a_write_that_the_system_refuses_says_so(file: Path, tmp_path: Path) -> None:
    command = [sys.executable, "-c", LIMITED, str(file), str(tmp_path / "b.gambrel")]
    said = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    assert "cannot be written: the disk" in said
    assert {each.name for each in tmp_path.iterdir()} == {"shop.gambrel"}


def test_a_folder_without_rights_says_so(common: Path) -> None:
    book = common / "shop.gambrel"
    make(book)
    book.chmod(0o666)
    (common / "closed").mkdir(mode=0o555)

    def act() -> str:
        with open_book(str(book), read_only=True) as opened:
            opened.back_up(common / "closed" / "b.gambrel")
        return "made"

    said = as_nobody(act)
    assert said.startswith("refused:")
    assert "Permission denied" in said


def test_a_book_that_may_only_be_read_is_backed_up(common: Path) -> None:
    book = common / "shop.gambrel"
    rows = make(book)
    (common / "out").mkdir()
    (common / "out").chmod(0o777)
    book.chmod(0o444)
    common.chmod(0o555)

    def act() -> str:
        with open_book(str(book), read_only=True) as opened:
            opened.back_up(common / "out" / "b.gambrel")
        return "made"

    assert as_nobody(act) == "made"
    copy = common / "out" / "mine.gambrel"
    shutil.copyfile(common / "out" / "b.gambrel", copy)
    assert rows_at(copy) == rows


def test_a_damaged_book_makes_no_backup(file: Path, tmp_path: Path) -> None:
    with open_book(str(file)) as book:
        fill(book)
        book.back_up(tmp_path / "good")
    with open_book(str(file)) as book:
        with closing(sqlite3.connect(file, isolation_level=None)) as raw:
            raw.execute("PRAGMA foreign_keys = OFF")
            raw.execute("INSERT INTO void VALUES ('nobody', '2026-11-20T10:42:00.000000Z', '', '')")
        with pytest.raises(Refusal, match=r"is not sound: Row .* of the table void"):
            book.back_up(tmp_path / "good", replace=True)
        with pytest.raises(Refusal, match="So there is no new backup"):
            book.back_up(tmp_path / "new")
    assert rows_at(tmp_path / "good")["void"]
    assert not (tmp_path / "new").exists()


def test_a_copy_that_differs_is_found(
    file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As if the disk had kept something else than what was written."""
    found = copies.row_counts
    answers = iter([1])

    def miscounted(connection: sqlite3.Connection) -> dict[str, int]:
        return found(connection) | {"piece": next(answers, 2)}

    monkeypatch.setattr(copies, "row_counts", miscounted)
    with open_book(str(file)) as book, pytest.raises(Refusal, match="holds something else"):
        book.back_up(tmp_path / "b")
    assert not (tmp_path / "b").exists()


def test_a_row_that_is_carried_wrong_is_found(
    pg_database: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from gambrel.storage import carry

    make(pg_database)
    same = carry.same_rows

    def spoilt(one: object, other: object, table: object) -> bool:
        if str(table) == "piece":
            other.exec_driver_sql("DROP TRIGGER piece_no_update")  # type: ignore[attr-defined]
            other.exec_driver_sql("UPDATE piece SET gross_g = 4507 WHERE key = 'P1'")  # type: ignore[attr-defined]
        return same(one, other, table)  # type: ignore[arg-type]

    monkeypatch.setattr(carry, "same_rows", spoilt)
    with open_book(pg_database) as book, pytest.raises(Refusal, match="rows of piece do not read"):
        book.back_up(tmp_path / "b")
    assert not (tmp_path / "b").exists()


def test_a_network_drive_may_hold_a_backup(
    file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A drive that knows no locks: another process holds them all, and nobody asks."""
    table = tmp_path / "mounts"
    table.write_text(f"//server/share {tmp_path}/out cifs rw 0 0\n")
    monkeypatch.setattr(mounts, "MOUNTS", table)
    (tmp_path / "out").mkdir()
    assert backed_up(file, tmp_path / "out" / "b.gambrel").exists()
    part = tmp_path / "out" / "part"
    with closing(sqlite_private(part)) as one, closing(sqlite_private(part)) as two:
        one.execute("BEGIN EXCLUSIVE").close()
        two.execute("BEGIN EXCLUSIVE").close()  # would wait where locks were asked for


def test_it_may_be_read_by_those_who_may_read_the_book(file: Path, tmp_path: Path) -> None:
    for mode in (0o600, 0o664):
        file.chmod(mode)
        made = backed_up(file, tmp_path / f"b{mode}")
        assert made.stat().st_mode & 0o777 == mode


# --- A process that dies ---

DYING = """
import os, signal, sys
from pathlib import Path
from gambrel.storage import backup
from gambrel.storage.book import open_book
def die(*_):
    os.kill(os.getpid(), signal.SIGKILL)
setattr(backup, sys.argv[3], die)
with open_book(sys.argv[1]) as book:
    book.back_up(Path(sys.argv[2]), replace=True)
"""


@pytest.mark.parametrize("moment", ["require_sound", "rows_beyond", "flush"])
def test_killed_at_any_moment_a_whole_backup_stands_there(
    file: Path, tmp_path: Path, moment: str
) -> None:
    out = tmp_path / "out"
    out.mkdir()
    target = backed_up(file, out / "b.gambrel")
    before = rows_at(target)
    with open_book(str(file)) as book:
        fill(book)
    after = rows_at(file)
    command = [sys.executable, "-c", DYING, str(file), str(target), moment]
    assert subprocess.run(command, check=False).returncode == -signal.SIGKILL
    assert rows_at(target) == (after if moment == "flush" else before)
    assert len(parts_in(out)) == (0 if moment == "flush" else 1)
    with open_book(str(file)) as book:
        book.back_up(target, replace=True)
    assert rows_at(target) == after


def test_what_a_killed_process_left_goes_after_a_day(file: Path, tmp_path: Path) -> None:
    old, young = tmp_path / "b.0123abcd.part", tmp_path / "b.4567abcd.part"
    others = tmp_path / "c.0123abcd.part"
    for each in (old, young, others):
        each.touch()
    day_ago = time.time() - copies.LEFT_BEHIND_S - 60
    for each in (old, others):
        os.utime(each, (day_ago, day_ago))
    backed_up(file, tmp_path / "b")
    assert not old.exists()
    assert young.exists()
    assert others.exists()


def test_unsound_is_a_word_of_ours() -> None:
    with pytest.raises(Refusal, match="is not sound: torn"), backups.unsound_book("here"):
        raise Unsound("torn")
