"""Opening the shop's book: the one door through which screens and commands get it."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from gambrel.storage.book import Book, open_book

__all__ = ["Book", "default_place", "latest_moment", "open_book"]


def default_place() -> Path:
    """Where the user's own book lies when no other is named: the platform's data folder.

    The folder is made if it is missing, so that a first book has a place.
    """
    from platformdirs import user_data_path

    return user_data_path("gambrel", appauthor=False, ensure_exists=True) / "book.gambrel"


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
