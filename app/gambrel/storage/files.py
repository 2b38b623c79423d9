"""Opening a book in a SQLite file.

Look before touching, make it whole or not at all, and bring it up to date after a copy.
"""

from __future__ import annotations

import os
import secrets
import sqlite3
from contextlib import closing, suppress
from pathlib import Path

from sqlalchemy.engine import Connection, Engine

from gambrel.domain.refusals import Refusal
from gambrel.storage import history
from gambrel.storage.copy import JOURNALS, beside, copy_book, flush, give_name
from gambrel.storage.engine import (
    sqlite_connect,
    sqlite_engine,
    sqlite_migration_engine,
)

APPLICATION_ID = 0x47_61_6D_62
"""SQLite's mark of whose file it is, in the file's header: the letters "Gamb"."""

OLDEST_SQLITE = (3, 37, 0)
"""The first with STRICT tables."""

_MAGIC = b"SQLite format 3\x00"
_HEADER = 100
_AT_APPLICATION_ID = 68


class Behind(Refusal):
    """A book of an older version was opened for reading only."""


def open_file(path: Path, *, create: bool, read_only: bool) -> Engine:
    """The engine of the book in a file, which is made if it is missing and ``create`` says so.

    Raises:
        Refusal: There is no such book, or what is there cannot be used; it is left as it was.
    """
    _require_sqlite()
    if not _exists(path):
        if read_only or not create:
            raise Refusal(f"There is no book {path}. Check the name, or make a new book.")
        make_book(path)
    require_ours(path)
    if not read_only:
        _require_writable(path)
    if history.HISTORY.is_behind(revision_in(path, may_write=not read_only), path):
        if read_only:
            raise Behind(
                f"The book {path} was made by an older version of this program and must be "
                "brought up to date first: open it once for writing."
            )
        bring_up(path)
    return _sound(path, sqlite_engine(path, reading_mode(path) if read_only else "rw"))


def _require_sqlite() -> None:
    if sqlite3.sqlite_version_info < OLDEST_SQLITE:
        raise Refusal(
            f"The SQLite of this computer is {sqlite3.sqlite_version}, and a book needs "
            f"{'.'.join(map(str, OLDEST_SQLITE))} or newer. Update Python or the system."
        )


def _exists(path: Path) -> bool:
    try:
        if path.is_dir():
            raise Refusal(f"{path} is a folder. Name the file of the book in it.")
        return path.stat() is not None
    except FileNotFoundError:
        return False
    except OSError as error:
        raise Refusal(f"The book {path} cannot be opened: {error.strerror}.") from error


def is_database(path: Path) -> bool:
    """Whether a book, or a database of another program, stands there; it is only looked at."""
    try:
        with path.open("rb") as file:
            return file.read(len(_MAGIC)) == _MAGIC
    except OSError:
        return False  # nothing that can be read, which a write then says


def require_ours(path: Path) -> None:
    """Read the header with no help from SQLite, so that a strange file is not touched at all."""
    if not path.is_file():
        raise Refusal(f"{path} is not a file. Name the file of a book.")
    try:
        with path.open("rb") as file:
            header = file.read(_HEADER)
    except OSError as error:
        raise Refusal(f"The book {path} cannot be read: {error.strerror}.") from error
    if not header:
        raise Refusal(f"{path} is empty and not a book. Take it away, or give another name.")
    mark = int.from_bytes(header[_AT_APPLICATION_ID : _AT_APPLICATION_ID + 4])
    if not header.startswith(_MAGIC):
        raise Refusal(f"{path} is not a book but a file of another kind. Choose another file.")
    if mark != APPLICATION_ID:
        raise Refusal(f"{path} is a database of another program. Choose another file.")


def _require_writable(path: Path) -> None:
    for place, what in ((path, "the file"), (path.parent, "its folder")):
        if not os.access(place, os.W_OK):
            raise Refusal(
                f"The book {path} may not be written to: {what} is read-only for you. "
                "Ask for write access, or open it for reading only."
            )


def reading_mode(path: Path) -> str:
    """How to open for reading.

    Where nobody of our rights can write and nothing waits in a journal, SQLite is told so: it
    would else want to write its own files beside the book.
    """
    still = not os.access(path.parent, os.W_OK) and not journals_of(path)
    return "ro&immutable=1" if still else "ro"


def journals_of(path: Path) -> list[Path]:
    """The companions that lie beside a file: somebody has it open, or was killed while writing."""
    return [found for ending in JOURNALS if (found := beside(path, ending)).exists()]


def looking_mode(path: Path, *, may_write: bool) -> str:
    """How to look into a file and leave nothing beside it, where that can be.

    A write that was cut off in a rollback journal is taken back first, which only a connection
    that may write can do; without that a half-written file would be read.
    """
    if may_write and beside(path, "-journal").exists():
        return "rw"
    return "ro" if journals_of(path) else "ro&immutable=1"


def revision_in(path: Path, *, may_write: bool) -> str:
    """What the book in a file says of its version.

    Raises:
        Refusal: It says nothing.
    """
    try:
        with closing(sqlite_connect(path, looking_mode(path, may_write=may_write))) as connection:
            row = connection.execute(history.SAID_REVISION).fetchone()
    except sqlite3.OperationalError as error:
        if "no such table" not in str(error):
            raise
        row = None
    if row is None:
        raise Refusal(
            f"The book {path} does not say of which version it is, so it is damaged. "
            "Keep the file as it is, and go back to the last backup."
        )
    return str(row[0])


def _sound(path: Path, engine: Engine) -> Engine:
    """Look through the pages once: writing on into a damaged book would lose more of it."""
    try:
        with engine.connect() as connection:
            said = connection.exec_driver_sql("PRAGMA quick_check(1)").scalar()
        if said != "ok":
            raise Refusal(
                f"The book {path} is damaged ({' '.join(str(said).split())}). "
                "Keep the file as it is, and go back to the last backup."
            )
    except BaseException:
        engine.dispose()
        raise
    return engine


def make_book(path: Path) -> None:
    """Make an empty book beside its place and move it there whole; never over another file.

    Raises:
        Refusal: The folder is missing or may not be written to, or another book left its journal.
    """
    require_no_journals(path)
    part = path.with_name(f"{path.name}.{secrets.token_hex(4)}.part")
    try:
        part.touch(exist_ok=False)
        engine = sqlite_migration_engine(part)
        with engine.begin() as connection:
            connection.exec_driver_sql(f"PRAGMA application_id = {APPLICATION_ID}")
            history.HISTORY.upgrade(connection)
        flush(part)
        give_name(part, path)  # if somebody made one meanwhile, theirs stays
        flush(path.parent)
    except OSError as error:
        raise Refusal(
            f"The book {path} cannot be made: {error.strerror}. "
            "Make its folder first, or choose another place."
        ) from error
    finally:
        with suppress(OSError):
            part.unlink(missing_ok=True)


def require_no_journals(path: Path) -> None:
    """Refuse a place where a book that is gone left its journal: it would be played into ours."""
    left = [found for found in journals_of(path) if not found.name.endswith("-shm")]
    if left and not path.exists():
        raise Refusal(
            f"{left[0]} belongs to a book {path.name} that is gone, and would damage a new one of "
            "that name. Put that book back, or move this file away."
        )


def bring_up(path: Path, *, keep: bool = True) -> None:
    """Bring a book to the newest revision; all migrations or none of them.

    Args:
        path: The book.
        keep: Copy it first as it is. A file that is a copy already needs none.
    Raises:
        Refusal: The copy cannot be made, or the book is damaged; the book is as it was.
    """
    newest = history.HISTORY.newest
    engine = sqlite_migration_engine(path)
    with engine.begin() as connection:  # nobody writes from here on
        found = history.revision_of(connection)
        if found is None or not history.HISTORY.is_behind(found, path):
            return  # another window was quicker
        if keep:
            copy_book(path, path.with_name(f"{path.stem}.before-{newest}.gambrel"))
        history.HISTORY.upgrade(connection)
        connection.exec_driver_sql("PRAGMA user_version = 0")  # a copy's seal was of what it was
        _require_whole(connection, path)


def _require_whole(connection: Connection, path: Path) -> None:
    orphans = connection.exec_driver_sql("PRAGMA foreign_key_check").fetchall()
    if orphans:
        names = ", ".join(sorted({str(row[0]) for row in orphans}))
        raise Refusal(
            f"The book {path} cannot be brought up to date: rows of {names} name what is not "
            "there. The book is as it was; go back to the last backup."
        )
