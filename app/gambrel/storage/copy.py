"""A copy of a book in a file, whole even while somebody writes to it.

A copy is made beside its place under a name of its own, looked through and compared, and gets its
name only then; whatever stops it, what stood there stays.
"""

from __future__ import annotations

import glob
import os
import secrets
import sqlite3
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path

from gambrel.domain.refusals import Refusal
from gambrel.storage.engine import sqlite_connect, sqlite_private
from gambrel.storage.seal import seal

JOURNALS = ("-wal", "-shm", "-journal")
"""What SQLite keeps beside a file. Left beside another file of that name they would be played into
it, so they go wherever their file goes."""

LEFT_BEHIND_S = 24 * 3600
"""A part that is older was left behind by a process that was killed."""

_OF_THE_TARGET = {
    sqlite3.SQLITE_FULL: "the disk is full",
    sqlite3.SQLITE_IOERR: "the disk reported an error",
    sqlite3.SQLITE_READONLY: "the file may not be written to",
    sqlite3.SQLITE_CANTOPEN: "the file cannot be made",
    sqlite3.SQLITE_PERM: "the file may not be written to",
}
"""Errors of writing a copy. Others are those of the book that is read."""


class Unsound(Exception):
    """What was read is damaged; the message says how, as a part of a sentence."""


def copy_book(book: Path, target: Path) -> None:
    """Copy a book as it stands after its last commit, over an earlier copy of that name.

    Raises:
        Refusal: The copy cannot be written, or the book is damaged.
    """
    try:
        with closing(sqlite_connect(book, "ro")) as source, new_part(target, like=book) as part:
            copy_into(source, part)
            part.replace(target)
            flush(target.parent)
    except Unsound as unsound:
        raise Refusal(
            f"The book {book} is damaged ({unsound}), so it cannot be copied. "
            "Keep the file as it is, and go back to the last backup."
        ) from unsound


@contextmanager
def new_part(target: Path, *, like: Path | None = None) -> Iterator[Path]:
    """An empty file of our own beside a target; gone at the end unless it has got its name.

    Args:
        target: What it becomes.
        like: A file that the same people may read and write; None for the user alone, since a book
            holds the hashes of PINs and what everything cost.
    Raises:
        Refusal: What is written to it inside cannot be written.
    """
    part = target.with_name(f"{target.name}.{secrets.token_hex(4)}.part")
    _sweep(target)
    try:
        with writing(target):
            part.touch(mode=0o600, exist_ok=False)
            if like is not None:
                with suppress(OSError):  # a stick or a network drive may know no rights
                    part.chmod(like.stat().st_mode & 0o777 | 0o600)
            yield part
    finally:
        for ending in ("", *JOURNALS):
            with suppress(OSError):
                beside(part, ending).unlink(missing_ok=True)


@contextmanager
def writing(target: Path) -> Iterator[None]:
    """Tell what the world did to a file that is being written, as a refusal about that file."""
    try:
        yield
    except OSError as error:
        raise _unwritten(target, error.strerror or str(error)) from error
    except sqlite3.Error as error:
        said = _OF_THE_TARGET.get(getattr(error, "sqlite_errorcode", 0) & 0xFF)
        if said is None:
            raise
        raise _unwritten(target, said) from error


def _unwritten(target: Path, why: str) -> Refusal:
    return Refusal(
        f"The copy {target} cannot be written: {why}. Free some space, give access to its folder, "
        "or choose another place; the book is as it was."
    )


def _sweep(target: Path) -> None:
    """Take away parts that killed processes left behind; a young one may be in the making."""
    with suppress(OSError):
        for part in target.parent.glob(f"{glob.escape(target.name)}.????????.part*"):
            if time.time() - part.stat().st_mtime > LEFT_BEHIND_S:
                part.unlink(missing_ok=True)


def copy_into(source: sqlite3.Connection, part: Path) -> None:
    """Copy all that a connection reads into a file of our own, sealed and on the disk.

    The copy and what it is compared with are of one moment, whoever writes meanwhile.

    Raises:
        Unsound: The copy does not read back as the same sound book.
    """
    try:
        with closing(sqlite_private(part)) as copy:
            source.execute("BEGIN").close()
            try:
                expected = _fingerprint(source)  # from here on the connection sees one moment
                source.backup(copy, pages=-1)  # in one step: steps begin again at every commit
            finally:
                if source.in_transaction:  # an error may have ended it
                    source.execute("ROLLBACK").close()
            copy.execute("PRAGMA journal_mode = DELETE").close()  # one file, without companions
            said = copy.execute("PRAGMA quick_check(1)").fetchone()[0]
            if said != "ok":
                raise Unsound(" ".join(str(said).split()))
            if _fingerprint(copy) != expected:
                raise Unsound("its copy holds something else")
    except sqlite3.DatabaseError as error:
        if getattr(error, "sqlite_errorcode", 0) & 0xFF in _BROKEN:
            raise Unsound(str(error)) from error
        raise
    seal(part)
    flush(part)


_BROKEN = (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB)


def _fingerprint(connection: sqlite3.Connection) -> tuple[object, ...]:
    """Whose file it is, every table, index and guard as it was made, and how many rows it has."""
    made = "SELECT type, name, sql FROM sqlite_schema ORDER BY type, name"
    schema = connection.execute(made).fetchall()
    mark = connection.execute("PRAGMA application_id").fetchone()
    return (mark, schema, row_counts(connection))


def row_counts(connection: sqlite3.Connection) -> dict[str, int]:
    """How many rows every table has, by its name."""
    names = connection.execute(
        "SELECT name FROM sqlite_schema "
        "WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name"
    ).fetchall()
    return {
        name: connection.execute(f"SELECT count(*) FROM {quoted(name)}").fetchone()[0]  # noqa: S608 - quoted
        for (name,) in names
    }


def quoted(name: str) -> str:
    """A name for SQL."""
    return '"' + name.replace('"', '""') + '"'


def beside(path: Path, ending: str) -> Path:
    """A companion of a file, by its ending (see `JOURNALS`)."""
    return path.with_name(f"{path.name}{ending}")


def give_name(part: Path, path: Path) -> bool:
    """Give a file its name; False where somebody else has that name, which then stays theirs."""
    try:
        path.hardlink_to(part)
    except FileExistsError:
        return False
    except OSError:  # a file system without links
        if path.exists():
            return False
        part.rename(path)
    return True


def flush(path: Path) -> None:
    """Have a file, or the names in a folder, on the disk before going on."""
    if path.is_dir() and os.name == "nt":
        return  # Windows has no handle for a folder, and needs none
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
