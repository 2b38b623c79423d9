"""Backups of the book: made, remembered, reminded of, and put back."""

from __future__ import annotations

import json
import shlex
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from gambrel.domain.bench.shop_limits import BACKUP_DAYS
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.formats import near_day
from gambrel.services.books import Book, default_place
from gambrel.services.settings import Change, change_setting, keep_setting, read_setting
from gambrel.storage.contents import Contents
from gambrel.storage.place import read_place
from gambrel.storage.restore import Restored

if TYPE_CHECKING:
    from gambrel.storage.restore import Standing

__all__ = [
    "Contents",
    "LastBackup",
    "Restored",
    "back_up",
    "backup_folder",
    "choose_folder",
    "file_name",
    "go_back",
    "last_backup",
    "look_at_backup",
    "moment_words",
    "on_the_same_disk",
    "reminder",
    "restore",
    "restore_command",
    "row_words",
    "shown_place",
]

LAST = "backup-last"
"""The setting that says when the book was last backed up, where to, and at which station."""

FOLDER = "backup-folder:"
"""With the station after it, the setting that keeps where its backups go."""


@dataclass(frozen=True, slots=True)
class LastBackup:
    """When (UTC), the file, and the station that made it."""

    at: datetime
    file: str
    station: str


def back_up(
    book: Book, file: Path, now: datetime, station: str, *, replace: bool = False
) -> Contents:
    """Back a book up into one file, and remember when and where.

    Args:
        book: The book; others may be writing to it.
        file: The backup.
        now: This moment (aware).
        station: Who makes it, as the record names machines.
        replace: Also over an earlier backup of the same book.
    Returns:
        What the backup holds.
    Raises:
        Refusal: It cannot be written there; what stood there stays.
    """
    contents = book.back_up(file, replace=replace)
    with suppress(Refusal):  # the backup is made; a book for reading only cannot remember it
        told = {
            "at": now.astimezone(UTC).isoformat(),
            "file": str(file.absolute()),
            "station": station,
        }
        keep_setting(book, LAST, json.dumps(told))
    return contents


def last_backup(book: Book) -> LastBackup | None:
    """When the book was last backed up; None where it never was, or what was kept is no sense."""
    try:
        kept = json.loads(read_setting(book, LAST))
        at = datetime.fromisoformat(kept["at"]).astimezone(UTC)
        return LastBackup(at, str(kept["file"]), str(kept["station"]))
    except (ValueError, TypeError, KeyError):
        return None


def reminder(book: Book, now: datetime) -> str:
    """A sentence when a backup is due; empty when none is, and in a book with no trade in it."""
    days = int(BACKUP_DAYS.read(read_setting(book, BACKUP_DAYS.setting)))
    last, facts = last_backup(book), book.facts()
    since = last.at if last else facts.since
    if since is None or now - since <= timedelta(days=days):
        return ""
    if last is None:
        return "This book has never been backed up. A backup belongs on another disk than the book."
    passed = (now - since).days
    return f"The last backup is {passed} days old. Make a new one, on another disk than the book."


def file_name(book: Book, now: datetime) -> str:
    """What a backup of now is called: the book's name, and the moment by the shop's clock."""
    with book.reading() as work:
        shop = work.shop()
    local = now.astimezone(ZoneInfo(shop.time_zone)) if shop else now
    stem = book.file.stem if book.file else book.where.rpartition("/")[2].partition("?")[0]
    return f"{stem}-{local:%Y-%m-%d-%H%M%S}.gambrel"


def backup_folder(book: Book, station: str) -> Path | None:
    """Where a station's backups go; None where no folder was chosen."""
    kept = read_setting(book, FOLDER + station)
    return Path(kept) if kept else None


def choose_folder(book: Book, station: str, folder: Path) -> Change:
    """Have a station's backups go into a folder from now on.

    Raises:
        Refusal: There is no such folder, or the book may not be written.
    """
    if not folder.is_dir():
        raise Refusal(f"There is no folder {folder}. Choose one that is there.")
    return change_setting(book, FOLDER + station, lambda _before: str(folder.absolute()))


def on_the_same_disk(book: Book, folder: Path) -> bool:
    """Whether a folder lies on the disk of the book, so that both would be lost together.

    False where nobody can tell: on a server, or where the folder is not at hand.
    """
    try:
        return book.file is not None and book.file.stat().st_dev == folder.stat().st_dev
    except OSError:
        return False


# --- Going back ---


def restore_command(book: Book) -> str:
    """What to type to go back to a backup of this book."""
    where = book.where if book.file is None else shlex.quote(str(book.file))
    return f"gambrel restore FILE --book {where}"


def shown_place(where: str) -> str:
    """A book's path, or its address without the password."""
    return str(read_place(where))


def restore(where: str, backup: Path, now: datetime) -> Restored:
    """Put a backup in the place of a book, which is kept, or where there is none yet.

    Args:
        where: The path or address of the book.
        backup: The backup, which is only read.
        now: Dates the name under which the book that stood there is kept.
    Raises:
        Refusal: It cannot be done; all is as it was.
    """
    from gambrel.storage.restore import restore_book

    return restore_book(where, backup, now.astimezone(), default_place().parent)


def _beyond(standing: Standing, backup: Contents) -> str:
    """What a book holds beyond a backup, as a sentence."""
    found = standing.contents
    assert found is not None
    beyond = row_words(standing.beyond)
    if beyond:
        return (
            f"The book of now holds {beyond} that the backup does not; its last act was "
            f"{_act(found)}, the backup's {_act(backup)}."
        )
    until = f", up to {_act(found)}" if found.last_act else ""
    return (
        f"The backup holds all that was done in the book of now{until}; what was set since would "
        "be lost."
    )


def look_at_backup(book: Book, backup: Path) -> str:
    """What going back to a backup would lose of an open book, as sentences.

    Raises:
        Refusal: The backup cannot be used, or holds no shop.
    """
    contents, standing = book.look_at_backup(backup)
    if not contents.shop:
        raise Refusal(f"The backup {backup} holds no shop. Take another one.")
    return f"The backup is of {contents.shop}. {_beyond(standing, contents)}"


def go_back(book: Book, backup: Path, now: datetime) -> Restored:
    """Put a backup in the place of an open book, which holds it from then on.

    Args:
        book: The book; nothing else may be reading it, and no other window may have it open.
        backup: The backup, which is only read.
        now: Dates the name under which the book of now is kept.
    Raises:
        Refusal: It cannot be done; all is as it was.
    """
    return book.go_back(backup, now.astimezone(), default_place().parent)


def kept_words(before: Standing, kept: str) -> str:
    """Where the book that stood there is kept, and what it holds more, as sentences."""
    if before.contents is None:
        return (
            f"The book that stood there was damaged, and is kept as {kept}. Look whether another "
            "station or a daily copy has more than the backup."
        )
    beyond = row_words(before.beyond)
    more = (
        f"It holds {beyond} that the backup does not." if beyond else "The backup holds all of it."
    )
    return f"The book that stood there is kept as {kept}. {more}"


def _act(contents: Contents) -> str:
    return moment_words(contents.last_act, contents.time_zone) if contents.last_act else "none"


def moment_words(moment: datetime, time_zone: str) -> str:
    """A moment by a clock on the wall, as ``Fri 20 Nov 2026 at 10:42``."""
    local = moment.astimezone(ZoneInfo(time_zone) if time_zone else UTC)
    return f"{near_day(local.date())} {local.year} at {local:%H:%M}"


_CALLED = {
    "body": ("body", "bodies"),
    "piece": ("piece", "pieces"),
    "stage": ("stage", "stages"),
    "price": ("price", "prices"),
}


def row_words(rows: Mapping[str, int]) -> str:
    """Rows of the record by table as ``2 bodies, 12 pieces and 3 other rows``; empty for none."""
    parts = [_counted(rows[table], *names) for table, names in _CALLED.items() if rows.get(table)]
    others = sum(count for table, count in rows.items() if table not in _CALLED)
    if others:
        parts.append(_counted(others, "other row", "other rows"))
    *first, last = parts or [""]
    return f"{', '.join(first)} and {last}" if first else last


def _counted(count: int, one: str, many: str) -> str:
    return f"{count:,} {one if count == 1 else many}"
