"""What is no sound backup of ours is refused with a sentence, and changes nothing."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from random import Random

import pytest

from gambrel.domain.refusals import Refusal
from gambrel.storage.book import open_book
from gambrel.storage.files import APPLICATION_ID
from gambrel.storage.history import HISTORY
from tests.storage.backup_help import (
    backed_up,
    cut_short,
    make,
    nothing,
    parts_in,
    picture,
    restore,
    rows_at,
    text,
    weigh,
)
from tests.storage.test_migrations import KEPT
from tests.storage.test_refusals import damaged, foreign_database, nameless, newer


def orphaned(path: Path) -> None:
    """A row that names what is not there; no page is torn."""
    make(path)
    with closing(sqlite3.connect(path, isolation_level=None)) as raw:
        raw.execute("PRAGMA foreign_keys = OFF")
        raw.execute("DROP TRIGGER piece_no_update")
        raw.execute("UPDATE piece SET stage = 'S0' WHERE key = 'P1'")
        raw.execute("PRAGMA wal_checkpoint(TRUNCATE)")


def crafted(path: Path) -> None:
    """Our mark and our version, and none of our tables."""
    with closing(sqlite3.connect(path, isolation_level=None)) as raw:
        raw.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        raw.execute("CREATE TABLE alembic_version (version_num TEXT)")
        raw.execute("INSERT INTO alembic_version VALUES (?)", (HISTORY.newest,))


def missing(path: Path) -> None:
    path.unlink(missing_ok=True)


def folder(path: Path) -> None:
    path.mkdir()


@pytest.mark.parametrize(
    ("make_it", "says"),
    [
        (text, "a file of another kind"),
        (picture, "a file of another kind"),
        (nothing, "is empty"),
        (foreign_database, "a database of another program"),
        (newer, "made by a newer version"),
        (nameless, "does not say of which version"),
        (damaged, "is damaged"),
        (cut_short, "is damaged"),
        (orphaned, "is damaged"),
        (crafted, "is damaged: The table"),
        (missing, "There is no backup"),
        (folder, "is a folder"),
    ],
)
def test_what_is_no_backup_changes_nothing(
    place: str, away: Path, make_it: Callable[[Path], None], says: str
) -> None:
    rows = make(place)
    backup = away / "b.gambrel"
    make_it(backup)
    there = sorted(each.name for each in away.iterdir())
    with pytest.raises(Refusal, match=says) as told:
        restore(place, backup)
    assert str(backup) in str(told.value)
    assert "\n" not in str(told.value)
    assert rows_at(place) == rows
    assert sorted(each.name for each in away.iterdir()) == there
    if "://" not in place:
        assert list(Path(place).parent.glob("*before-restore*")) == []
        assert parts_in(Path(place).parent) == []


def test_any_bit_of_a_backup_that_is_turned_round_is_found(file: Path, away: Path) -> None:
    """In a name or a weight too, where SQLite itself would see nothing wrong."""
    make(file)
    backup = backed_up(file, away / "b.gambrel")
    whole = backup.read_bytes()
    at_a_name = whole.index(b"Hill")
    draw = Random(20261129)
    places = [at_a_name, *(draw.randrange(len(whole)) for _ in range(60))]
    for place in places:
        spoilt = bytearray(whole)
        spoilt[place] ^= 1 << draw.randrange(8)
        backup.write_bytes(spoilt)
        with pytest.raises(Refusal):
            restore(away / "new.gambrel", backup)
    backup.write_bytes(whole)
    assert [each.name for each in away.iterdir()] == ["b.gambrel"]
    restore(away / "new.gambrel", backup)


def test_a_backup_that_was_used_as_a_book_has_no_seal_and_is_restored(
    file: Path, away: Path
) -> None:
    make(file)
    backup = backed_up(file, away / "b.gambrel")
    with open_book(str(backup)) as book:
        weigh(book, "new")
    rows = rows_at(backup)
    restore(away / "new.gambrel", backup)
    assert rows_at(away / "new.gambrel") == rows
    again = backed_up(away / "new.gambrel", away / "again.gambrel")  # and is sealed anew
    spoilt = bytearray(again.read_bytes())
    spoilt[spoilt.index(b"Hill")] ^= 1
    again.write_bytes(spoilt)
    with pytest.raises(Refusal, match="not what was written"):
        restore(away / "third.gambrel", again)


@pytest.mark.parametrize("kept", KEPT, ids=lambda path: path.stem)
def test_an_old_backup_that_was_brought_up_bears_no_stale_seal(away: Path, kept: Path) -> None:
    """Restored and never opened, it is a lone file like a backup."""
    shutil.copyfile(kept, away / "old.gambrel")
    restore(away / "new.gambrel", away / "old.gambrel")
    restore(away / "third.gambrel", away / "new.gambrel")
    assert rows_at(away / "third.gambrel") == rows_at(away / "new.gambrel")
