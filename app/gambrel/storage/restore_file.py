"""Restoring a book in a file: into the book that stands there, or where there is none."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import datetime
from pathlib import Path

from gambrel.domain.refusals import Refusal
from gambrel.storage import history
from gambrel.storage.contents import contents_of, rows_beyond
from gambrel.storage.copy import Unsound, beside, copy_into, flush, give_name, new_part
from gambrel.storage.engine import sqlite_connect
from gambrel.storage.files import journals_of, require_ours
from gambrel.storage.place import FilePlace, require_local
from gambrel.storage.restore import Restored, Standing, fetched, kept_beside


def restore_file(place: FilePlace, backup: Path, now: datetime) -> Restored:
    """Put a backup in the place of a book in a file.

    Args:
        place: Where the book is, or shall be.
        backup: The backup's file, which is only read.
        now: Dates the name of what stood there.
    Raises:
        Refusal: It cannot be done; all is as it was.
    """
    require_local(place)
    path = place.path
    if backup.exists() and path.exists() and backup.samefile(path):
        raise Refusal(f"{backup} is the book itself. Name a backup of it.")
    if not path.parent.is_dir():
        raise Refusal(f"There is no folder {path.parent}. Make it first, or give another place.")
    kept = kept_beside(path.parent, path.stem, now)
    with fetched(backup, path) as part:
        if not path.exists():
            return _in_a_new_place(path, part, kept)
        require_ours(path)
        try:
            return _over(path, part, kept)
        except Unsound:
            return _over_damaged(path, part, kept)


def _in_a_new_place(path: Path, part: Path, kept: Path) -> Restored:
    """Where no book is; journals of one that is gone are kept, and moved out of the way."""
    new, left = contents_of(part), set_aside(path, kept)
    if not give_name(part, path):
        raise Refusal(f"Somebody made a book {path} at the same moment. Look at it, and try again.")
    flush(path.parent)
    return Restored(new, None, kept if left else None)


def _over(path: Path, part: Path, kept: Path) -> Restored:
    with held(path) as book, new_part(kept, like=path) as old:
        history.HISTORY.is_behind(_revision(book), path)
        copy_into(book, old)
        new, standing = contents_of(part), Standing(contents_of(old), rows_beyond(old, part))
        if not give_name(old, kept):
            raise Refusal(f"{kept} is there already. Wait a second, and do this again.")
        flush(kept.parent)
        _write_into(book, part)
    return Restored(new, standing, kept)


def _revision(book: sqlite3.Connection) -> str:
    try:
        row = book.execute(history.SAID_REVISION).fetchone()
    except sqlite3.DatabaseError as error:
        raise Unsound(str(error)) from error
    if row is None:
        raise Unsound("it does not say of which version it is")
    return str(row[0])


@contextmanager
def held(path: Path) -> Iterator[sqlite3.Connection]:
    """Hold a book that is there, so that nobody else has it open or opens it until the end.

    Raises:
        Refusal: A window or another program has it open.
        Unsound: It is too damaged to be held.
    """
    with closing(sqlite_connect(path, "rw")) as book:
        try:
            # In this mode SQLite keeps the whole file locked, and its first look needs it alone:
            # whoever has the book open holds a shared lock on it for as long as that is.
            book.execute("PRAGMA locking_mode = EXCLUSIVE").close()
            book.execute("PRAGMA journal_mode = WAL").close()
            book.execute("PRAGMA synchronous = FULL").close()
            book.execute("BEGIN EXCLUSIVE").close()
            book.execute("COMMIT").close()
        except sqlite3.DatabaseError as error:
            code = getattr(error, "sqlite_errorcode", 0) & 0xFF
            if code in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
                raise Refusal(
                    f"The book {path} is open in a window or in another program. Close it there, "
                    "then do this again; nothing was changed."
                ) from error
            if code in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB):
                raise Unsound(str(error)) from error
            raise
        yield book


def _write_into(book: sqlite3.Connection, part: Path) -> None:
    """Write a backup over a book that is held, in one transaction."""
    with closing(sqlite3.connect(part, isolation_level=None)) as source:
        size = book.execute("PRAGMA page_size").fetchone()[0]
        if source.execute("PRAGMA page_size").fetchone()[0] != size:
            source.execute(f"PRAGMA page_size = {size}").close()
            source.execute("VACUUM").close()  # a book keeps its size of pages
        source.backup(book, pages=-1)
    said = book.execute("PRAGMA quick_check(1)").fetchone()[0]
    if said != "ok":
        raise Refusal(
            f"The disk did not keep what was written ({said}). The book that stood there is kept "
            "beside it; restore to another disk."
        )


# --- A book that is damaged ---


def _over_damaged(path: Path, part: Path, kept: Path) -> Restored:
    """Take the place of a book that SQLite cannot read any more; its bytes are kept as they are."""
    new, standing = contents_of(part), Standing(None)
    set_aside(path, kept)
    part.replace(path)
    flush(path.parent)
    return Restored(new, standing, kept)


def set_aside(path: Path, kept: Path) -> bool:
    """Keep a file and its journals under another name; False where there was nothing to keep.

    The file itself stays in its place as well, so that no moment is without it. Its journals go, or
    SQLite would play them into the file that comes after.
    """
    journals = journals_of(path)
    there = [path] if path.exists() else []
    for each in (*there, *journals):
        _link(each, beside(kept, each.name.removeprefix(path.name)))
    flush(kept.parent)
    for each in journals:
        each.unlink()
    flush(path.parent)
    return bool(there or journals)


def _link(one: Path, other: Path) -> None:
    try:
        other.hardlink_to(one)
    except FileExistsError:
        raise Refusal(f"{other} is there already. Wait a second, and do this again.") from None
    except OSError:  # a file system without links
        shutil.copyfile(one, other)
        flush(other)
