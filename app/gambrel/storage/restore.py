"""Putting a backup in the place of a book, so that no book is ever lost on the way.

The backup is copied beside the book and looked through there. Then the book that stands there is
held, so that nobody else has it open, and kept under a dated name; only after that the backup is
written into it, in one transaction of the database itself. A process that is killed leaves the old
book or the new one, and no journal of the one is ever played into the other.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Mapping
from contextlib import closing, contextmanager
from dataclasses import dataclass, field
from datetime import datetime
from itertools import chain, count
from pathlib import Path
from tempfile import TemporaryDirectory

from sqlalchemy.engine import Connection

from gambrel.domain.refusals import Refusal
from gambrel.storage import history
from gambrel.storage.backup import require_sound, unsound_book, write_whole
from gambrel.storage.contents import Contents, contents_of, rows_beyond
from gambrel.storage.copy import Unsound, beside, copy_into, new_part
from gambrel.storage.engine import sqlite_connect
from gambrel.storage.faults import refusing
from gambrel.storage.files import bring_up, journals_of, looking_mode, require_ours, revision_in
from gambrel.storage.place import FilePlace, Place, read_place
from gambrel.storage.seal import seal_is_broken


@dataclass(frozen=True, slots=True)
class Standing:
    """The book that stands in the place, and what of it the backup does not hold.

    ``beyond`` counts rows of the record by table. Where the book is damaged nobody can tell what it
    holds: ``contents`` is None then.
    """

    contents: Contents | None
    beyond: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Restored:
    """What stands there now, what stood there, and the file in which that is kept, if it was."""

    contents: Contents
    before: Standing | None
    kept: Path | None


def restore_book(where: str, backup: Path, now: datetime, folder: Path) -> Restored:
    """Put a backup in the place of a book, which is kept, or where there is none yet.

    Args:
        where: The path or address of the book.
        backup: The backup's file, which is only read.
        now: Dates the name under which the book that stood there is kept; by the shop's clock.
        folder: Where that is kept for a book on a server; a book in a file has it beside itself.
    Raises:
        Refusal: It cannot be done; all is as it was.
    """
    return restore_place(read_place(where), backup, now, folder)


def restore_place(place: Place, backup: Path, now: datetime, folder: Path) -> Restored:
    """`restore_book` for a place that was read already."""
    with refusing(place), _reaching(place):
        if isinstance(place, FilePlace):
            from gambrel.storage.restore_file import restore_file

            return restore_file(place, backup, now)
        from gambrel.storage.restore_server import restore_server

        return restore_server(place, backup, now, folder)


def look_at(place: Place, reader: Connection, backup: Path) -> tuple[Contents, Standing]:
    """What a backup holds, and what an open book holds beyond it; nothing is changed.

    Args:
        place: Where the book is.
        reader: A connection to it, for one consistent look.
        backup: The backup's file.
    Raises:
        Refusal: The backup cannot be used, or the book cannot be copied to be compared.
    """
    with TemporaryDirectory(prefix="gambrel-") as name:
        near = place.path if isinstance(place, FilePlace) else Path(name) / "book"
        with _reaching(place), fetched(backup, near) as part, new_part(near) as now:
            with unsound_book(place):
                write_whole(place, reader, now)
            return contents_of(part), Standing(contents_of(now), rows_beyond(now, part))


@contextmanager
def _reaching(place: object) -> Iterator[None]:
    """Tell what the system refused to do with a file."""
    try:
        yield
    except OSError as error:
        raise Refusal(
            f"{error.filename or place}: {error.strerror or error}. "
            "Check the place, its rights and its free space, then look at the book."
        ) from error


def kept_beside(folder: Path, stem: str, now: datetime) -> Path:
    """Where the book that stood there is kept: a name that nothing has, not even a journal."""
    dated = f"{stem}.before-restore-{now:%Y%m%d-%H%M%S}"
    names = chain((f"{dated}.gambrel",), (f"{dated}-{number}.gambrel" for number in count(2)))
    places = (folder / name for name in names)
    return next(kept for kept in places if not (kept.exists() or journals_of(kept)))


@contextmanager
def fetched(backup: Path, near: Path) -> Iterator[Path]:
    """A copy of a backup beside the place where it is wanted, sound and of the newest version.

    Raises:
        Refusal: There is no backup, or it cannot be used; it stays as it was.
    """
    if backup.is_dir():
        raise Refusal(f"{backup} is a folder. Name the file of the backup in it.")
    if not backup.exists():
        raise Refusal(f"There is no backup {backup}. Check the name.")
    require_ours(backup)
    _require_finished(backup)
    if seal_is_broken(backup):
        raise _damaged(backup, "it is not what was written, or was changed since")
    behind = history.HISTORY.is_behind(_revision(backup), backup)
    with new_part(near) as part:
        try:
            with closing(sqlite_connect(backup, looking_mode(backup, may_write=False))) as source:
                copy_into(source, part)
            if behind:
                bring_up(part, keep=False)
            require_sound(part)
        except Unsound as unsound:
            raise _damaged(backup, str(unsound)) from unsound
        yield part


def _require_finished(backup: Path) -> None:
    if beside(backup, "-journal").exists():
        raise Refusal(
            f"The backup {backup} was being written when a program was cut off. Open it once as a "
            "book, with --book, or take another backup."
        )


def _revision(backup: Path) -> str:
    try:
        return revision_in(backup, may_write=False)
    except sqlite3.OperationalError as error:
        raise Refusal(f"The backup {backup} cannot be read ({error}). Try a copy of it.") from error
    except sqlite3.DatabaseError as error:
        raise _damaged(backup, str(error)) from error


def _damaged(backup: Path, how: str) -> Refusal:
    return Refusal(f"The backup {backup} is damaged: {how}. Take another one; nothing was changed.")
