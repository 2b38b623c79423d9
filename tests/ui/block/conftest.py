"""A block over a small book, with a clock that moves and a scale that says what it is told."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from gambrel.services.words import formats_for
from gambrel.storage.book import Book, open_book
from gambrel.ui.block.place import BlockPlace
from gambrel.ui.context import Context
from gambrel.ui.tasks import SyncTasks
from gambrel.ui.theme import Theme
from tests.block_shop import NOW, fill
from tests.trades import a_shop
from tests.ui.block.fingers import Make, ToldScale


class Clock:
    def __init__(self) -> None:
        self.now = NOW
        self.step = timedelta(seconds=20)

    def __call__(self) -> datetime:
        self.now += self.step
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with open_book(str(tmp_path / "book.gambrel")) as opened:
        fill(opened)
        yield opened


@pytest.fixture
def scale() -> ToldScale:
    return ToldScale()


@pytest.fixture
def make(qtbot: QtBot, qapp: QApplication, book: Book, clock: Clock, scale: ToldScale) -> Make:
    """Opens the block of a station, as the window does."""
    theme = Theme()
    theme.dress(qapp)
    formats = formats_for(a_shop())
    context = Context(book, theme, formats, clock, SyncTasks(), "block-1", scale=scale)

    def made() -> BlockPlace:
        place = BlockPlace(context)
        qtbot.addWidget(place)
        place.resize(1280, 800)
        with qtbot.waitExposed(place):
            place.show()
        place.refresh()
        place.setFocus()
        return place

    return made


@pytest.fixture
def place(make: Make) -> BlockPlace:
    made = make()
    made.open_item("HQ-17")
    return made
