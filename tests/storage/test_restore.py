"""Going back to a backup: the right rows, on both databases, and no book is lost on the way."""

from __future__ import annotations

import shutil
import signal
import sqlite3
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import pytest

from gambrel.domain.refusals import Refusal
from gambrel.storage import engine, mounts
from gambrel.storage.book import open_book
from tests.storage.backup_help import (
    NOW,
    backed_up,
    cut_short,
    make,
    nothing,
    parts_in,
    picture,
    restore,
    rows_at,
    rows_of,
    text,
    weigh,
)
from tests.storage.samples import SHOP, at
from tests.storage.test_migrations import KEPT
from tests.storage.test_processes import WEIGHER, start
from tests.storage.test_refusals import damaged, foreign_database, newer


@pytest.fixture(params=["sqlite", "postgresql"])
def other(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """A second place, empty, on either database."""
    if request.param == "sqlite":
        (tmp_path / "other").mkdir()
        yield str(tmp_path / "other" / "book.gambrel")
        return
    cluster = request.getfixturevalue("pg_cluster")
    with cluster.fresh_database() as url:
        yield url


def test_a_backup_of_either_database_is_restored_to_either(
    place: str, other: str, away: Path
) -> None:
    rows = make(place)
    assert all(rows.values())
    backup = backed_up(place, away / "b.gambrel")
    before = backup.read_bytes()
    done = restore(other, backup)
    assert rows_at(other) == rows
    assert (done.before, done.kept) == (None, None)
    assert done.contents.rows == {table: len(found) for table, found in rows.items()}
    assert backup.read_bytes() == before
    assert [each.name for each in away.iterdir()] == ["b.gambrel"]
    with open_book(other) as book:  # and it is a book like any other
        weigh(book, "after")
        assert book.check() == []
        with pytest.raises(Exception, match="append-only"), book.transaction() as work:
            work._connection.exec_driver_sql("UPDATE piece SET gross_g = 1")


def test_a_book_that_has_rows_is_kept_and_told_of(place: str, away: Path) -> None:
    before = make(place)
    backup = backed_up(place, away / "b.gambrel")
    with open_book(place) as book:
        weigh(book, "new-1", "new-2")
        with book.transaction() as work:
            work.set_setting("hook", "two")
    after = rows_at(place)
    done = restore(place, backup)
    assert done.before is not None
    assert done.before.beyond == {"piece": 2}
    assert done.before.contents is not None
    assert done.before.contents.last_act == at(101)
    assert done.contents.last_act == at(95)
    assert rows_at(place) == before
    assert done.kept is not None
    assert done.kept.name.endswith(".before-restore-20261129-151233.gambrel")
    assert rows_at(done.kept) == after
    assert parts_in(done.kept.parent) == []
    with open_book(place) as book:
        weigh(book, "after")
        assert book.check() == []
    again = restore(place, backup)  # in the same second: what was kept is never written over
    assert again.kept is not None
    assert again.kept.name == done.kept.name.replace("151233", "151233-2")
    assert len(rows_at(again.kept)["piece"]) == len(before["piece"]) + 1
    there = done.kept.rename(away / "kept.gambrel")
    restore(place, there)
    assert rows_at(place) == after


def test_an_open_book_goes_back_and_is_used_on(
    place: str, away: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(engine, "BUSY_MS", 300)
    before = make(place)
    backup = backed_up(place, away / "b.gambrel")
    with open_book(place) as book:
        weigh(book, "new")
        held, standing = book.look_at_backup(backup)
        assert held.rows["piece"] == len(before["piece"])
        assert standing.beyond == {"piece": 1}
        after = rows_of(book)
        with open_book(place), pytest.raises(Refusal, match="is open"):
            book.go_back(backup, NOW, away)
        assert rows_of(book) == after
        done = book.go_back(backup, NOW, away)
        assert rows_of(book) == before
        weigh(book, "after")
        assert book.check() == []
    assert done.kept is not None
    assert rows_at(done.kept) == after
    assert parts_in(done.kept.parent) == []


def test_an_empty_book_is_replaced_unasked(place: str, other: str, away: Path) -> None:
    rows = make(place)
    open_book(other).close()
    restore(other, backed_up(place, away / "b"))
    assert rows_at(other) == rows


@pytest.mark.parametrize("kept", KEPT, ids=lambda path: path.stem)
def test_a_backup_of_an_older_version_is_brought_up_to_date(
    place: str, away: Path, kept: Path
) -> None:
    backup = away / "old.gambrel"
    shutil.copyfile(kept, backup)
    with closing(sqlite3.connect(kept)) as raw:
        pieces = raw.execute("SELECT count(*) FROM piece").fetchone()[0]
    before = backup.read_bytes()
    restore(place, backup)
    assert len(rows_at(place)["piece"]) == pieces
    assert backup.read_bytes() == before


# --- What stands in the way ---


def test_a_foreign_file_in_the_books_place_stays(file: Path, away: Path, tmp_path: Path) -> None:
    make(file)
    backup = backed_up(file, away / "b.gambrel")
    for make_it in (text, nothing, picture, foreign_database):
        place = tmp_path / make_it.__name__
        make_it(place)
        before = place.read_bytes()
        with pytest.raises(Refusal):
            restore(place, backup)
        assert place.read_bytes() == before


def test_a_book_of_a_newer_program_stays(file: Path, away: Path, tmp_path: Path) -> None:
    make(file)
    place = tmp_path / "newer.gambrel"
    newer(place)
    before = place.read_bytes()
    with pytest.raises(Refusal, match="newer version"):
        restore(place, backed_up(file, away / "b"))
    assert place.read_bytes() == before


def test_the_book_itself_is_no_backup_of_it(file: Path, tmp_path: Path) -> None:
    make(file)
    (tmp_path / "link").symlink_to(file)
    for name in (file, tmp_path / "link"):
        with pytest.raises(Refusal, match="is the book itself"):
            restore(file, name)


def test_a_place_that_is_none_is_refused(
    file: Path, away: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    backup = backed_up(file, away / "b")
    with pytest.raises(Refusal, match="There is no folder"):
        restore(tmp_path / "none" / "b", backup)
    with pytest.raises(Refusal, match="is not a file"):
        restore(away, backup)
    with pytest.raises(Refusal, match="File name too long"):
        restore(tmp_path / ("x" * 300), backup)
    table = tmp_path / "mounts"
    table.write_text(f"//server/share {away} cifs rw 0 0\n")
    monkeypatch.setattr(mounts, "MOUNTS", table)
    with pytest.raises(Refusal, match="network drive"):
        restore(away / "book", backup)
    assert restore(tmp_path / "book", backup).kept is None  # from one is fine


def test_a_window_that_has_the_book_open_is_not_pulled_from_under(
    place: str, away: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(engine, "BUSY_MS", 300)
    make(place)
    backup = backed_up(place, away / "b")
    with start(WEIGHER, place, "w") as station:
        assert station.stdout is not None
        station.stdout.readline()
        with pytest.raises(Refusal, match="is open"):
            restore(place, backup)
        told = [station.stdout.readline().strip() for _ in range(5)]
        station.send_signal(signal.SIGKILL)
        told += [line.strip() for line in station.stdout if line.endswith("\n")]
    with open_book(place) as book:  # a window that only stands there
        assert set(told) <= {row[0] for row in rows_of(book)["piece"]}
        with pytest.raises(Refusal, match="is open"):
            restore(place, backup)
    restore(place, backup)


def test_the_journal_of_the_old_book_is_not_played_into_the_new_one(file: Path, away: Path) -> None:
    """A station was killed: what it had weighed lies in the journal alone."""
    before = make(file)
    backup = backed_up(file, away / "b")
    with start(WEIGHER, str(file), "w") as station:
        assert station.stdout is not None
        told = [station.stdout.readline().strip() for _ in range(30)]
        station.send_signal(signal.SIGKILL)
    assert file.with_name("shop.gambrel-wal").stat().st_size > 0
    done = restore(file, backup)
    assert done.kept is not None
    assert set(told) <= {row[0] for row in rows_at(done.kept)["piece"]}
    assert rows_at(file) == before


def test_a_journal_that_was_left_behind_is_not_played_into_the_new_book(
    file: Path, away: Path
) -> None:
    """The file was moved away, its journal was not: SQLite would play it into what comes next."""
    before = make(file)
    backup = backed_up(file, away / "b")
    with start(WEIGHER, str(file), "w") as station:
        assert station.stdout is not None
        for _ in range(30):
            station.stdout.readline()
        station.send_signal(signal.SIGKILL)
    journal = file.with_name("shop.gambrel-wal")
    played = journal.read_bytes()
    shutil.move(file, away / "moved")
    with pytest.raises(Refusal, match=r"belongs to a book .* that is gone"):
        open_book(str(file))
    done = restore(file, backup)
    assert rows_at(file) == before
    assert done.kept is not None
    assert done.kept.with_name(f"{done.kept.name}-wal").read_bytes() == played
    assert not done.kept.exists()


@pytest.mark.parametrize("break_it", [damaged, cut_short])
def test_a_damaged_book_is_kept_as_it_is_and_replaced(
    file: Path, away: Path, tmp_path: Path, break_it: Callable[[Path], None]
) -> None:
    rows = make(file)
    backup = backed_up(file, away / "b")
    place = tmp_path / "broken.gambrel"
    break_it(place)
    broken = place.read_bytes()
    done = restore(place, backup)
    assert done.before is not None
    assert done.before.contents is None
    assert rows_at(place) == rows
    assert done.kept is not None
    assert done.kept.read_bytes() == broken
    assert parts_in(tmp_path) == []


def test_a_book_of_other_pages_keeps_them(file: Path, away: Path, tmp_path: Path) -> None:
    rows = make(file)
    backup = backed_up(file, away / "b")
    place = tmp_path / "large.gambrel"
    make(place)
    with closing(sqlite3.connect(place, isolation_level=None)) as raw:
        raw.execute("PRAGMA journal_mode = DELETE")
        raw.execute("PRAGMA page_size = 8192")
        raw.execute("VACUUM")
    restore(place, backup)
    assert rows_at(place) == rows


@pytest.mark.parametrize("full", ["fetched", "kept", "written"])
def test_a_full_disk_leaves_the_old_book(file: Path, away: Path, tmp_path: Path, full: str) -> None:
    """The system lets no file grow past a limit, which stops the one step or the other."""
    make(file)
    small = backed_up(file, away / "small")
    with open_book(str(file)) as book:
        weigh(book, *(f"n{number}" for number in range(400)))
    large = backed_up(file, away / "large")
    backup = large if full == "written" else small
    if full == "written":
        shutil.copyfile(small, file)
    rows = rows_at(file)
    # What is written has a frame's head with every page, so it is larger than the backup.
    limit = {"fetched": 50_000, "kept": small.stat().st_size, "written": large.stat().st_size}
    command = [sys.executable, "-c", LIMITED, str(file), str(backup), str(limit[full])]
    said = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    assert said.startswith("refused: ")
    assert "disk" in said
    kept = list(tmp_path.glob("*before-restore*"))
    assert [rows_at(each) for each in kept] == ([rows] if full == "written" else [])
    assert rows_at(file) == rows
    assert parts_in(tmp_path) == []


LIMITED = """
import resource, sys
from pathlib import Path
from gambrel.domain.refusals import Refusal
from tests.storage.backup_help import restore
limit = int(sys.argv[3])
resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
try:
    restore(sys.argv[1], Path(sys.argv[2]))
except Refusal as refusal:
    print("refused:", refusal)
"""


def test_what_it_is_called_is_dated(file: Path, away: Path) -> None:
    make(file)
    done = restore(file, backed_up(file, away / "b"))
    assert done.kept is not None
    assert f"{NOW:%Y%m%d}" in done.kept.name
    assert SHOP.name == done.contents.shop
