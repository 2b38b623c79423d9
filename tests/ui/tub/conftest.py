"""The Tub on a small shop, as a file that every test copies."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from shutil import copyfile

import pytest
from pytestqt.qtbot import QtBot

from gambrel.services.books import Book, open_book
from gambrel.ui.context import Context
from gambrel.ui.tub.place import TubPlace
from gambrel.ui.tub.shelf import Shelf, read_shelf
from tests import tub_shop
from tests.tub_shop import NOW
from tests.ui.conftest import MovingClock
from tests.ui.tub.hands import shown


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The tub's shop, filled once and closed."""
    path = tmp_path_factory.mktemp("filled") / "tub.gambrel"
    with open_book(str(path)) as opened:
        tub_shop.fill(opened)
    return path


@pytest.fixture
def book(filled: Path, tmp_path: Path) -> Iterator[Book]:
    """A copy of it, this test's own."""
    path = tmp_path / "tub.gambrel"
    copyfile(filled, path)
    with open_book(str(path)) as opened:
        yield opened


@pytest.fixture(scope="module")
def shelf(filled: Path) -> Shelf:
    """What stands free on that morning."""
    with open_book(str(filled)) as opened:
        return read_shelf(opened, NOW)


@pytest.fixture
def at_tub(context_of: Callable[[Book], Context]) -> Callable[[Book], Context]:
    """The context of a book on the morning of the tub's shop."""

    def make(book: Book) -> Context:
        base = context_of(book)
        clock = MovingClock(NOW)
        return Context(book, base.theme, base.formats, clock, base.tasks, base.station)

    return make


@pytest.fixture
def place(book: Book, at_tub: Callable[[Book], Context], qtbot: QtBot) -> TubPlace:
    return shown(TubPlace(at_tub(book)), qtbot)
