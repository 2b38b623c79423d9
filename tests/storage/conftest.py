"""One book on each database, so that every promise is asked of both."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from gambrel.storage.book import Book, open_book


@pytest.fixture(autouse=True)
def _new_books_are_copies() -> None:
    """Here every book is made as the program makes it."""


@pytest.fixture(params=["sqlite", "postgresql"])
def place(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """Where a book can be made: a file that is not there yet, or an empty database."""
    if request.param == "sqlite":
        return str(tmp_path / "shop.gambrel")
    return str(request.getfixturevalue("pg_database"))


@pytest.fixture
def book(place: str) -> Iterator[Book]:
    """A new book."""
    with open_book(place) as made:
        yield made


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A new book in a file, closed."""
    path = tmp_path / "shop.gambrel"
    open_book(str(path)).close()
    return path


@pytest.fixture
def away(tmp_path: Path) -> Path:
    """Where backups are: not beside the book."""
    folder = tmp_path / "away"
    folder.mkdir()
    return folder
