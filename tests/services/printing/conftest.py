from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from gambrel.services.books import Book, open_book
from tests.services.printing.shop import load_small


@pytest.fixture(scope="session")
def small_book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small shop as a closed book, to be copied."""
    return load_small(tmp_path_factory.mktemp("small"))


@pytest.fixture
def book(small_book: Path, tmp_path: Path) -> Iterator[Book]:
    copied = shutil.copy(small_book, tmp_path / "shop.gambrel")
    with open_book(str(copied)) as opened:
        yield opened
