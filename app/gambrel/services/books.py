"""Opening the shop's book: the one door through which screens and commands get it."""

from __future__ import annotations

import os
from contextlib import suppress
from datetime import datetime
from pathlib import Path

from gambrel.domain.trade.catalogue import Shop
from gambrel.storage.book import Book, open_book
from gambrel.storage.files import Behind
from gambrel.storage.seal import bears_seal

__all__ = ["Book", "default_place", "latest_moment", "open_book", "open_to_read", "shop_in"]


def default_place() -> Path:
    """Where the user's own book lies when no other is named: the platform's data folder.

    The folder is made if it is missing, so that a first book has a place.
    """
    from platformdirs import user_data_path

    return user_data_path("gambrel", appauthor=False, ensure_exists=True) / "book.gambrel"


def open_to_read(where: str) -> Book:
    """Open a book that is there; for reading only where its file or folder cannot be written.

    A backup is opened for reading only, too: its seal is lost as soon as it is written to. One of
    an older version has to be brought up to date first, and loses it.

    Raises:
        Refusal: It is not there, or cannot be opened.
    """
    path = Path(where)
    is_file = "://" not in where and path.is_file()
    if is_file and not (os.access(path, os.W_OK) and os.access(path.parent, os.W_OK)):
        return open_book(where, create=False, read_only=True)
    if is_file and os.access(path, os.R_OK) and bears_seal(path):
        with suppress(Behind):
            return open_book(where, create=False, read_only=True)
    return open_book(where, create=False)


def shop_in(book: Book) -> Shop:
    """The shop of a book.

    Raises:
        Refusal: The book has none yet.
    """
    with book.reading() as work:
        return work.require_shop()


def latest_moment(book: Book) -> datetime | None:
    """When something last happened in the shop; None in a book without any act.

    An invented shop is looked at as of this moment, so that its bodies have not hung for years.
    """
    with book.reading() as work:
        trade = work.trade()
    moments = [body.received_at for body in trade.bodies]
    moments += [reweigh.at for reweigh in trade.reweighs]
    moments += [piece.weighed_at for piece in trade.pieces]
    moments += [stage.finished_at or stage.started_at for stage in trade.stages]
    return max(moments, default=None)
