"""Backups: a whole book in one file, which the program can open, wherever the book itself is."""

from __future__ import annotations

import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from sqlalchemy.engine import Connection

from gambrel.domain.refusals import Refusal
from gambrel.storage import history
from gambrel.storage.carry import carry_to_file
from gambrel.storage.contents import Contents, contents_of, faults_in, rows_beyond
from gambrel.storage.copy import (
    JOURNALS,
    Unsound,
    beside,
    copy_into,
    flush,
    give_name,
    new_part,
    writing,
)
from gambrel.storage.engine import sqlite_connect
from gambrel.storage.files import journals_of, reading_mode, require_ours, revision_in
from gambrel.storage.place import FilePlace, Place, real_path


def back_up(place: Place, reader: Connection, target: Path, *, replace: bool) -> Contents:
    """Write a backup of a book, which others may be writing to meanwhile.

    Args:
        place: Where the book is.
        reader: A connection to it, for one consistent look.
        target: The backup's file.
        replace: Also where an earlier backup of the same book has that name. Nothing else is ever
            replaced, nor a backup that holds what the book does not.
    Returns:
        What the backup holds.
    Raises:
        Refusal: It cannot be written there, or the book is not sound; what stood there stays.
    """
    with writing(target):
        real = real_path(target)
        _require_free(place, real, target, replace=replace)
    with new_part(real, like=_rights_of(place)) as part:
        with unsound_book(place):
            write_whole(place, reader, part)
            require_sound(part)
        contents = contents_of(part)
        if replace and real.exists():
            _require_nothing_lost(real, part, target)
            part.replace(real)
        elif not give_name(part, real):
            raise Refusal(f"Somebody wrote {target} at the same moment. Give another name.")
        flush(real.parent)
    return contents


@contextmanager
def unsound_book(place: object) -> Iterator[None]:
    """Tell that the book which was copied is damaged."""
    try:
        yield
    except Unsound as unsound:
        raise Refusal(
            f"The book {place} is not sound: {unsound}. So there is no new backup. Keep the book "
            "and earlier backups as they are, and look at it with gambrel check."
        ) from unsound


def require_sound(part: Path) -> None:
    """Look through a copy as a whole.

    Raises:
        Unsound: Something is wrong with it.
    """
    if faults := faults_in(part):
        raise Unsound(faults[0].rstrip("."))


def write_whole(place: Place, reader: Connection, part: Path) -> None:
    """Write all that a book holds at one moment into a file of our own.

    Args:
        place: Where the book is; a file is read through a connection of its own.
        reader: For a book on a server, a connection that sees one moment.
        part: The file.
    Raises:
        Unsound: What was written does not read back the same.
    """
    if isinstance(place, FilePlace):
        with closing(sqlite_connect(place.path, reading_mode(place.path))) as source:
            copy_into(source, part)
        return
    with tempfile.TemporaryDirectory(prefix="gambrel-") as folder:  # a target may lie on any drive
        whole = Path(folder) / "book.gambrel"
        carry_to_file(reader, whole)
        with closing(sqlite_connect(whole, "ro")) as source:
            copy_into(source, part)


def _rights_of(place: Place) -> Path | None:
    return place.path if isinstance(place, FilePlace) else None


def _require_free(place: Place, real: Path, target: Path, *, replace: bool) -> None:
    """Refuse a target that is no place for a backup, before any work is done."""
    if isinstance(place, FilePlace):
        _require_other(place.path, real, target)
    if left := [found for found in journals_of(real) if found.stat().st_size]:
        raise Refusal(
            f"{left[0]} lies beside {target}: that file is open as a book, or was when a window "
            "was cut off. Close it there, or give another name."
        )
    if real.is_dir():
        raise Refusal(
            f"{target} is a folder. Name a file in it, such as {target / 'shop.gambrel'}."
        )
    if not real.parent.is_dir():
        raise Refusal(f"There is no folder {real.parent}. Make it first, or give another place.")
    if not real.exists():
        return
    require_ours(real)
    if not replace:
        raise Refusal(f"{target} is there already. Give another name.")
    with _readable(target):
        history.HISTORY.is_behind(revision_in(real, may_write=False), target)


@contextmanager
def _readable(target: Path) -> Iterator[None]:
    """Tell that an earlier backup cannot be read, so that nobody knows whose it is."""
    try:
        yield
    except sqlite3.DatabaseError as error:
        raise Refusal(
            f"{target} is damaged ({error}), so it cannot be told whether it is of this book. "
            "It stays as it was; give another name."
        ) from error


def _require_other(book: Path, real: Path, target: Path) -> None:
    own = [book, *(beside(book, ending) for ending in JOURNALS)]
    same = real in [real_path(each) for each in own]
    if same or (real.exists() and book.exists() and real.samefile(book)):
        raise Refusal(f"{target} is the book itself. Give the backup another name.")


def _require_nothing_lost(real: Path, part: Path, target: Path) -> None:
    """An earlier backup of the same book holds nothing that the new one does not."""
    with _readable(target):
        old, new = contents_of(real), contents_of(part)
        strange = bool(rows_beyond(real, part)) or (
            old.last_act is None and old.shop not in ("", new.shop)
        )
    if strange:
        raise Refusal(
            f"{target} holds what this book does not: it is of another book, or of a later day. "
            "It stays as it was; give another name."
        )
