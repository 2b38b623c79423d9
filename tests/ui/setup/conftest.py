"""Setup on the demo shop, shown and active."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest
from pytestqt.qtbot import QtBot

from gambrel.services.books import Book
from gambrel.ui.app import PLACES
from gambrel.ui.context import Context
from gambrel.ui.setup.place import SetupPlace
from gambrel.ui.shell import Shell


@pytest.fixture
def context(demo: Book, context_of: Callable[[Book], Context]) -> Iterator[Context]:
    made = context_of(demo)
    yield made
    made.scale.close()


@pytest.fixture
def place(context: Context, qtbot: QtBot) -> SetupPlace:
    shell = Shell(context.theme, PLACES)
    qtbot.addWidget(shell)
    shell.resize(1280, 800)
    shell.show()
    shell.activateWindow()
    qtbot.waitActive(shell)
    shell.show_book(context, "Test bench", "setup")
    made = shell.place("setup")
    assert isinstance(made, SetupPlace)
    return made
