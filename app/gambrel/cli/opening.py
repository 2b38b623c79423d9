"""Which book a command works on."""

from __future__ import annotations

from argparse import Namespace

from gambrel.services.books import Book, default_place, open_to_read


def place_of(options: Namespace) -> str:
    """Where the book is: as given, or the user's own."""
    return str(options.book) if options.book is not None else str(default_place())


def open_existing(options: Namespace) -> Book:
    """Open a book that is there, to read it.

    Raises:
        Refusal: It is not there, or cannot be opened.
    """
    return open_to_read(place_of(options))
