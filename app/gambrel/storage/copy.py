"""A copy of a book in a file, whole even while somebody writes to it."""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing, suppress
from pathlib import Path

from gambrel.domain.refusals import Refusal
from gambrel.storage.engine import sqlite_connect


def copy_book(book: Path, target: Path) -> None:
    """Copy a book as it stands after its last commit; the target appears whole or not at all.

    Raises:
        Refusal: The copy cannot be written, or does not read back sound.
    """
    part = target.with_name(f"{target.name}.part")
    try:
        part.unlink(missing_ok=True)
        with closing(sqlite_connect(book, "ro")) as source, closing(sqlite3.connect(part)) as copy:
            source.backup(copy, pages=-1)  # in one step: steps begin again at every commit
            copy.execute("PRAGMA journal_mode = DELETE")
            sound = copy.execute("PRAGMA quick_check(1)").fetchone() == ("ok",)
        if not sound:
            raise Refusal(f"The book {book} is damaged; its copy does not read back sound.")
        flush(part)
        part.replace(target)
        flush(target.parent)
    except (OSError, sqlite3.OperationalError) as error:
        raise Refusal(
            f"The copy {target} cannot be written ({error}). "
            "Free some space or give access to the folder; the book is as it was."
        ) from error
    finally:
        with suppress(OSError):
            part.unlink(missing_ok=True)


def flush(path: Path) -> None:
    """Have a file, or the names in a folder, on the disk before going on."""
    if path.is_dir() and os.name == "nt":
        return  # Windows has no handle for a folder, and needs none
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
