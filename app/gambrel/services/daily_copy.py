"""A copy of the book beside it for every day on which somebody worked, the last few kept.

It helps after a slip of the hand, not after the loss of a disk: that is what backups are for.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from gambrel.domain.bench.shop_limits import COPIES_KEPT
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.clock import business_day
from gambrel.services.books import Book
from gambrel.services.settings import read_setting


@dataclass(frozen=True, slots=True)
class DailyCopy:
    """A copy: the business day before whose work it was made, and its file."""

    day: date
    file: Path


def make_daily_copy(book: Book, now: datetime) -> DailyCopy | None:
    """Copy the book once a business day, and take the oldest copies away.

    A book on a server is not copied so: nothing is beside it.

    Args:
        book: The book; somebody may be weighing in meanwhile.
        now: This moment (aware).
    Returns:
        The copy; None where there is one of today, none is wanted, or none can be made.
    Raises:
        Refusal: It cannot be written, or the book is not sound.
    """
    kept = int(COPIES_KEPT.read(read_setting(book, COPIES_KEPT.setting)))
    with book.reading() as work:
        shop = work.shop()
    if book.file is None or book.read_only or shop is None or not kept:
        return None
    day = business_day(now, shop)
    file = book.file.with_name(f"{book.file.stem}.day-{day}.gambrel")
    if file.exists():
        return None
    try:
        book.back_up(file)
    except Refusal:
        if file.exists():  # another window was quicker
            return None
        raise
    for old in daily_copies(book)[kept:]:
        old.file.unlink(missing_ok=True)
    return DailyCopy(day, file)


def daily_copies(book: Book) -> list[DailyCopy]:
    """The copies that are there, newest first; files of other names are none."""
    if book.file is None:
        return []
    name = re.compile(rf"{re.escape(book.file.stem)}\.day-(\d{{4}}-\d\d-\d\d)\.gambrel")
    found = []
    for file in book.file.parent.iterdir():
        match = name.fullmatch(file.name)
        if match and (day := _day(match[1])) and file.is_file():
            found.append(DailyCopy(day, file))
    return sorted(found, key=lambda copy: copy.day, reverse=True)


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None
