from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from gambrel.services.books import Book, open_book
from gambrel.services.folder.load import load_folder
from tests.small_shop import write_shop


@pytest.fixture(scope="session")
def small_book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small shop as a closed book, to be copied."""
    folder = tmp_path_factory.mktemp("small")
    with open_book(str(folder / "shop.gambrel")) as opened:
        load_folder(opened, write_shop(folder / "shop"))
    return folder / "shop.gambrel"


@pytest.fixture
def book(small_book: Path, tmp_path: Path) -> Iterator[Book]:
    copied = shutil.copy(small_book, tmp_path / "shop.gambrel")
    with open_book(str(copied)) as opened:
        yield opened
