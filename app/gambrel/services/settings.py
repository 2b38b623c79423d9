"""Small texts that a shop or a station keeps in the book: look, chosen things, limits."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from gambrel.domain.refusals import Refusal
from gambrel.services.books import Book

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.work import Work

CHANGED_SINCE = (
    "Another station has changed it since, so Undo would undo that. Look at what stands there now."
)
"""Why an act is not taken back."""


def read_setting(book: Book, name: str, default: str = "") -> str:
    """A kept text, or the default where none was kept."""
    with book.reading() as work:
        kept = work.setting(name)
    return default if kept is None else kept


def keep_setting(book: Book, name: str, value: str) -> None:
    """Keep a text under a name.

    Raises:
        Refusal: The book may not be written.
    """
    with book.transaction() as work:
        work.set_setting(name, value)


@dataclass(frozen=True, slots=True)
class Change:
    """What was kept under a name before an act and after it; empty for nothing."""

    name: str
    before: str
    after: str


def change_setting(book: Book, name: str, edit: Callable[[str], str]) -> Change:
    """Make another text of the one that is kept, so that two stations do not write over each other.

    Raises:
        Refusal: The book may not be written, or ``edit`` refuses.
    """
    with book.transaction() as work:
        return change_in(work, name, edit)


def change_in(work: Work, name: str, edit: Callable[[str], str]) -> Change:
    """The same as a part of a larger act."""
    before = work.setting(name) or ""
    after = edit(before)
    if after != before:
        work.set_setting(name, after)
    return Change(name, before, after)


def take_back(book: Book, change: Change) -> None:
    """Keep again what was kept before a change.

    Raises:
        Refusal: Somebody has changed it since.
    """

    def back(now: str) -> str:
        if now != change.after:
            raise Refusal(CHANGED_SINCE)
        return change.before

    change_setting(book, change.name, back)
