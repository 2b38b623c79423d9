"""The print desk on the small shop's book, with printers that keep what they are sent."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from gambrel.services.books import Book, open_book
from gambrel.ui.context import Context
from gambrel.ui.printing.desk import PrintDesk
from tests.services.printing.shop import FRIDAY, Clock, KeepingPrinters, load_small


@pytest.fixture(scope="session")
def small_book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small shop as a closed book, to be copied."""
    return load_small(tmp_path_factory.mktemp("small"))


@pytest.fixture
def book(small_book: Path, tmp_path: Path) -> Iterator[Book]:
    copied = shutil.copy(small_book, tmp_path / "shop.gambrel")
    with open_book(str(copied)) as opened:
        yield opened


@pytest.fixture
def context(book: Book, context_of: Callable[[Book], Context]) -> Context:
    return replace(context_of(book), clock=Clock(FRIDAY))


@pytest.fixture
def printers() -> KeepingPrinters:
    return KeepingPrinters()


@pytest.fixture
def desk(context: Context, printers: KeepingPrinters, qtbot: QtBot) -> Iterator[PrintDesk]:
    made = PrintDesk(context, printers)
    context.changes.changed.connect(lambda _kinds: made.refresh())
    qtbot.addWidget(made)
    made.resize(1280, 736)
    made.show()
    yield made
    made.hide()  # closes the pages
