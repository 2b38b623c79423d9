"""What the Book section shows. Pure: no Qt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from gambrel.domain.trade.formats import near_day
from gambrel.services.backup import Contents, LastBackup, Restored, moment_words, row_words
from gambrel.services.check import CheckReport
from gambrel.services.daily_copy import DailyCopy

ANOTHER_DISK = "A backup belongs on another disk than the book: a stick, or a drive elsewhere."
SAME_DISK = "This folder is on the disk of the book itself; both would be lost together."
MAY_BREAK = "\N{ZERO WIDTH SPACE}"
_UNITS = ("bytes", "kB", "MB", "GB", "TB")


@dataclass(frozen=True, slots=True)
class BookFacts:
    """What was read of the book and of its backups; ``size`` in bytes, ``time_zone`` the shop's.

    ``folder`` is where this station's backups go, empty where none was chosen.
    """

    where: str
    size: int
    bodies: int
    pieces: int
    time_zone: str
    last: LastBackup | None
    due: str
    copies: Sequence[DailyCopy]
    on_server: bool
    folder: str
    same_disk: bool
    command: str


@dataclass(frozen=True, slots=True)
class BookState:
    """All of the section as texts and flags; the buttons say what is being done."""

    where: str
    size: tuple[str, str]
    bodies: str
    pieces: str
    last: str
    last_file: str
    due: str
    copies: str
    folder: str
    hint: str
    watch: bool
    back_up: str
    check: str
    go_back: str
    can_act: bool
    command: str


class Busy(StrEnum):
    """What is being done."""

    NOTHING = ""
    BACKUP = "backup"
    CHECK = "check"
    LOOK = "look"
    GO_BACK = "go back"


_GOING_BACK = {Busy.LOOK: "Looking at it …", Busy.GO_BACK: "Going back …"}


def describe(facts: BookFacts, busy: Busy) -> BookState:
    """The section's texts."""
    last = facts.last
    return BookState(
        where=breakable(facts.where),
        size=size_words(facts.size),
        bodies=f"{facts.bodies:,}",
        pieces=f"{facts.pieces:,}",
        last=_last(last, facts.time_zone) if last else "never",
        last_file=breakable(last.file) if last else "",
        due=facts.due,
        copies=_copies(facts),
        folder=breakable(facts.folder) or "no folder chosen yet",
        hint=SAME_DISK if facts.same_disk else ANOTHER_DISK,
        watch=facts.same_disk,
        back_up="Backing up …" if busy is Busy.BACKUP else "Back up now",
        check="Checking …" if busy is Busy.CHECK else "Check the book",
        go_back=_GOING_BACK.get(busy, "Choose a backup"),
        can_act=busy is Busy.NOTHING,
        command=breakable(facts.command),
    )


def _last(last: LastBackup, time_zone: str) -> str:
    return f"{moment_words(last.at, time_zone)}, at {last.station}"


def _copies(facts: BookFacts) -> str:
    if facts.on_server:
        return "Daily copies: none here. Whoever keeps the server makes its own."
    if not facts.copies:
        return "Daily copies beside the book: none yet."
    newest = facts.copies[0].day
    return (
        f"Daily copies beside the book: {len(facts.copies)}, the last of {near_day(newest)} "
        f"{newest.year}."
    )


def breakable(path: str) -> str:
    """A path that a line may break in, after a sign that parts its words."""
    return "".join(f"{sign}{MAY_BREAK}" if sign in "/\\-._" else sign for sign in path)


def size_words(size: int) -> tuple[str, str]:
    """Bytes as a number and its unit, in steps of a thousand."""
    number, step = float(size), 0
    while number >= 1000 and step + 1 < len(_UNITS):
        number, step = number / 1000, step + 1
    return (f"{number:.1f}" if step and number < 99.95 else f"{number:.0f}"), _UNITS[step]


def backup_told(contents: Contents, file: str) -> str:
    """What was done, as a sentence."""
    rows = {table: contents.rows.get(table, 0) for table in ("body", "piece")}
    return f"Backed up {row_words(rows) or 'an empty book'} in {file}."


def back_told(done: Restored) -> str:
    """What stands there now, and where the book that stood there is, as sentences."""
    rows = {table: done.contents.rows.get(table, 0) for table in ("body", "piece")}
    kept = f" The book that stood there is kept as {done.kept}." if done.kept else ""
    return f"The book is what the backup holds: {row_words(rows) or 'no body yet'}.{kept}"


def check_told(report: CheckReport) -> tuple[str, ...]:
    """What a check found, as sentences, what is wrong first."""
    wrong = [f"Wrong: {each}" for each in report.wrong]
    unseen = [f"Not checked: {each}" for each in report.not_checked]
    notes = [f"Note: {each}" for each in dict.fromkeys(report.notes)]
    seen = [f"Checked: {each}" for each in report.checked]
    return tuple(f"{each.rstrip('.')}." for each in (*wrong, *unseen, *notes, *seen))


def sound_told(report: CheckReport) -> str:
    """Whether the book is sound, and what to do."""
    if report.sound:
        return "The book is sound."
    return "The book is not sound. Keep it as it is, and go back to a backup."
