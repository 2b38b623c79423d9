"""Small texts that a shop or a station keeps in the book: look, chosen things, limits."""

from __future__ import annotations

from gambrel.services.books import Book


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
