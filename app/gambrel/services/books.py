"""Opening the shop's book: the one door through which screens and commands get it."""

from __future__ import annotations

from pathlib import Path

from gambrel.storage.book import Book, open_book

__all__ = ["Book", "default_place", "open_book"]


def default_place() -> Path:
    """Where the user's own book lies when no other is named: the platform's data folder."""
    from platformdirs import user_data_path

    return user_data_path("gambrel", appauthor=False) / "book.gambrel"
