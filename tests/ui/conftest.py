"""What the tests of the screens share: the look, a clock that moves, a body that hangs."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path
from shutil import copyfile

import pytest
from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication

from gambrel.services.books import Book, open_book
from gambrel.services.words import formats_for
from gambrel.ui.context import Context
from gambrel.ui.tasks import SyncTasks
from gambrel.ui.theme import Theme


@dataclass
class MovingClock:
    """Every look at it is a second later."""

    moment: datetime = field(default_factory=lambda: datetime(2026, 11, 21, 3, tzinfo=UTC))

    def __call__(self) -> datetime:
        self.moment += timedelta(seconds=1)
        return self.moment


@pytest.fixture(autouse=True)
def _gone_is_gone() -> Iterator[None]:
    """Let what a test has closed be deleted before the next one.

    Without an event loop Qt keeps it for ever: its timers go on, and every look is put on it too.
    """
    yield
    if QApplication.instance() is not None:
        QApplication.sendPostedEvents(None, int(QEvent.Type.DeferredDelete))


@pytest.fixture
def dressed(qapp: QApplication) -> Iterator[Theme]:
    """The light look on the test's application."""
    theme = Theme()
    theme.dress(qapp)
    yield theme
    qapp.setStyleSheet("")


@pytest.fixture
def demo(demo_file: Path, tmp_path: Path) -> Iterator[Book]:
    """The demo shop, this test's own."""
    with open_book(str(copyfile(demo_file, tmp_path / "demo.gambrel"))) as opened:
        yield opened


@pytest.fixture
def context_of(dressed: Theme) -> Callable[[Book], Context]:
    """Makes the context of a book, with work done at once."""

    def make(book: Book) -> Context:
        with book.reading() as work:
            shop = work.shop()
        assert shop is not None
        return Context(book, dressed, formats_for(shop), MovingClock(), SyncTasks(), "test station")

    return make
