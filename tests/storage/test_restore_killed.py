"""Killed at any moment of going back, the old book or the new one stands there, whole."""

from __future__ import annotations

import shutil
import signal
import subprocess
import sys
from pathlib import Path
from random import Random
from time import monotonic

import pytest

from gambrel.domain.refusals import Refusal
from gambrel.storage.book import open_book
from tests.storage.backup_help import (
    backed_up,
    make,
    restore,
    rows_at,
    weigh,
)
from tests.storage.test_processes import start

DYING = """
import os, signal, sys
from pathlib import Path
from gambrel.storage import restore_file, restore_server
from tests.storage.backup_help import restore
where, backup, moment = sys.argv[1:]
def die(*_, **__):
    os.kill(os.getpid(), signal.SIGKILL)
def half(book, part):
    import sqlite3
    sqlite3.connect(part).backup(book, pages=20, progress=die)
def after(act):
    def acted(*given):
        act(*given)
        die()
    return acted
if moment == "in the middle":
    restore_file._write_into = half
    restore_server.restore_guards = die
elif moment == "written":
    restore_file._write_into = after(restore_file._write_into)
    restore_server._fill = after(restore_server._fill)
else:
    setattr(restore_file, moment, die)
    setattr(restore_server, moment, die)
restore(where, Path(backup))
"""


@pytest.mark.parametrize("moment", ["give_name", "flush", "in the middle", "written"])
def test_killed_at_any_step_the_old_book_or_the_new_one_stands_there(
    place: str, away: Path, moment: str
) -> None:
    old = make(place)
    backup = backed_up(place, away / "b")
    with open_book(place) as book:
        weigh(book, *(f"n{number}" for number in range(300)))
    new = old
    old = rows_at(place)
    command = [sys.executable, "-c", DYING, place, str(backup), moment]
    assert subprocess.run(command, check=False).returncode == -signal.SIGKILL
    found = rows_at(place)
    # In a file the last write is the end of it; a server throws away what was not committed.
    assert found == (new if moment == "written" and "://" not in place else old)
    folder = away if "://" in place else Path(place).parent
    kept = list(folder.glob("*before-restore*.gambrel"))
    if moment != "give_name":
        assert [rows_at(each) for each in kept] == [old]
    for each in kept:
        each.unlink()
    restore(place, backup)
    assert rows_at(place) == new


RESTORING = """
import sys
from pathlib import Path
from tests.storage.backup_help import restore
print("begun", flush=True)
restore(sys.argv[1], Path(sys.argv[2]))
"""


@pytest.mark.slow  # the check kills it at each step; this one at moments that are drawn
@pytest.mark.timeout(240)  # each process has to begin, which a busy machine makes long
def test_killed_at_any_moment_the_old_book_or_the_new_one_stands_there(
    file: Path, away: Path, tmp_path: Path
) -> None:
    """The moments are drawn from one seed, over the time that an undisturbed one takes."""
    make(file)
    with open_book(str(file)) as book:
        weigh(book, *(f"a{number}" for number in range(2500)))
    backup = backed_up(file, away / "b")
    new = rows_at(backup)
    with open_book(str(file)) as book:
        weigh(book, *(f"b{number}" for number in range(2500)))
    old = rows_at(file)
    shutil.copyfile(file, away / "old")
    draw, seen, longest = Random(20261129), [], 0.0
    for life in range(6):
        with start(RESTORING, str(file), str(backup)) as process:
            assert process.stdout is not None
            assert process.stdout.readline() == "begun\n"
            began = monotonic()
            try:
                process.wait(draw.uniform(0, longest) if life else None)
            except subprocess.TimeoutExpired:
                process.send_signal(signal.SIGKILL)
        longest = longest or monotonic() - began
        found = rows_at(file)
        assert found in (old, new)
        seen.append(found == new)
        for kept in tmp_path.glob("*before-restore*.gambrel"):
            assert rows_at(kept) == old
            kept.unlink()
        for each in tmp_path.glob("shop.gambrel*"):
            each.unlink()
        shutil.copyfile(away / "old", file)
    assert seen[0]
    assert False in seen


def test_a_write_that_was_cut_off_in_a_rollback_journal_is_taken_back(
    file: Path, away: Path
) -> None:
    """A backup that is opened as a book is in that mode until its first window."""
    make(file)
    book = backed_up(file, away / "b.gambrel")
    before = rows_at(shutil.copyfile(book, away / "c"))
    command = [sys.executable, "-c", CUT_OFF, str(book)]
    assert subprocess.run(command, check=False).returncode == -signal.SIGKILL
    assert (away / "b.gambrel-journal").stat().st_size > 0
    with pytest.raises(Refusal, match="was being written when a program was cut off"):
        restore(away / "new", book)
    assert rows_at(book) == before


CUT_OFF = """
import os, signal, sqlite3, sys
book = sqlite3.connect(sys.argv[1], isolation_level=None)
book.execute("PRAGMA cache_size = 1")
book.execute("BEGIN IMMEDIATE")
book.execute("UPDATE alembic_version SET version_num = '0999'")
book.execute("UPDATE setting SET value = 'half'")
book.execute("UPDATE supplier SET name = 'half'")
book.execute("CREATE TABLE much (a)")
book.executemany("INSERT INTO much VALUES (?)", [("x" * 900,) for _ in range(500)])
os.kill(os.getpid(), signal.SIGKILL)
"""
