from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from gambrel.services.books import Book, open_book


@pytest.fixture(scope="session")
def empty_book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A new book, made once: making its tables takes longer than the tests that need one."""
    path = tmp_path_factory.mktemp("empty") / "empty.gambrel"
    open_book(str(path)).close()
    return path


@pytest.fixture
def new_book(empty_book: Path, tmp_path: Path) -> Iterator[Callable[[str], Book]]:
    """Make an empty book by this name in the test's folder."""
    made: list[Book] = []

    def make(name: str) -> Book:
        path = shutil.copy(empty_book, tmp_path / f"{name}.gambrel")
        made.append(open_book(str(path)))
        return made[-1]

    yield make
    for book in made:
        book.close()


@pytest.fixture
def book(new_book: Callable[[str], Book]) -> Book:
    return new_book("shop")
