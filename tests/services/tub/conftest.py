from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from gambrel.storage.book import Book, open_book
from tests.blend_shop import Pieces, fill_tub
from tests.block_shop import Hand


@pytest.fixture(params=["sqlite", "postgresql"])
def book(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Book]:
    place = str(tmp_path / "book.gambrel")
    if request.param == "postgresql":
        place = request.getfixturevalue("pg_book")
    with open_book(place) as opened:
        yield opened


@pytest.fixture
def hand() -> Hand:
    return Hand()


@pytest.fixture
def pieces(book: Book, hand: Hand) -> Pieces:
    """What stands free in the book."""
    return fill_tub(book, hand)
