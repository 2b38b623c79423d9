"""The Cabinet on the demo shop."""

from __future__ import annotations

import pytest
from pytestqt.qtbot import QtBot

from gambrel.services.books import Book
from gambrel.ui.cabinet.place import CabinetPlace
from tests.ui.cabinet.hands import Contexts, made


@pytest.fixture
def book(demo: Book) -> Book:
    return demo


@pytest.fixture
def place(book: Book, context_of: Contexts, qtbot: QtBot) -> CabinetPlace:
    found = made(context_of(book), qtbot)
    found.refresh()
    return found
