"""Keeping a paper as a file: whole, or not at all."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

from gambrel.domain.refusals import Refusal

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book


def save_whole(path: Path, data: bytes) -> None:
    """Write a file so that a stop half way leaves what was there before.

    Raises:
        Refusal: The place cannot be written to, or a book stands there.
    """
    _require_no_book(path)
    part = path.with_name(f".{path.name}.part")
    try:
        with part.open("wb") as out:
            out.write(data)
            out.flush()
            os.fsync(out.fileno())
        part.replace(path)
    except OSError as error:
        part.unlink(missing_ok=True)
        why = error.strerror or str(error)
        raise Refusal(f"{path} cannot be written ({why}). Choose another place.") from error


def _require_no_book(path: Path) -> None:
    """A name that was mistyped must not cost the book, nor a device of the system."""
    from gambrel.storage.files import is_database

    if path.exists() and not path.is_file():
        raise Refusal(f"{path} is not a file. Choose another place.")
    if is_database(path):
        raise Refusal(
            f"{path} is a book or another database, and no paper takes its place. "
            "Choose another name."
        )


def save_week(book: Book, week: str, kind: str, path: Path) -> None:
    """Keep a week's sheet: ``kind`` is "pdf", "xlsx" or "csv" (then ``path`` is a folder).

    Raises:
        Refusal: No such week, a price is missing, or the place cannot be written to.
    """
    from gambrel.services.week import week_csv, week_pdf, week_xlsx

    if kind == "csv":
        path.mkdir(parents=True, exist_ok=True)
        for name, text in week_csv(book, week).items():
            save_whole(path / name, text.encode("utf-8"))
    elif kind == "xlsx":
        save_whole(path, week_xlsx(book, week))
    else:
        save_whole(path, week_pdf(book, week))
