"""The demo shop's rail."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from pytestqt.qtbot import QtBot

from gambrel.services.books import Book
from gambrel.ui.context import Context
from gambrel.ui.rail.place import RailPlace
from tests.ui.rail.hands import shown


@pytest.fixture
def place(demo: Book, context_of: Callable[[Book], Context], qtbot: QtBot) -> RailPlace:
    return shown(RailPlace(context_of(demo)), qtbot)
