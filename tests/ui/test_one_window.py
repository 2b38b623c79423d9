"""No part of a screen opens a window of its own: it would flash, and take the keyboard away."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest
from PySide6.QtCore import QEvent, QObject
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from gambrel.services.books import Book
from gambrel.ui.app import PLACES
from gambrel.ui.block.place import BlockPlace
from gambrel.ui.context import Context
from gambrel.ui.rail.place import RailPlace
from gambrel.ui.shell import Shell
from gambrel.ui.theme import Theme


class Watcher(QObject):
    """Writes down every window that is shown, but for the shell's."""

    def __init__(self) -> None:
        super().__init__()
        self.seen: list[str] = []

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        shown = event.type() == QEvent.Type.Show and isinstance(watched, QWidget)
        if shown and watched.isWindow() and not isinstance(watched, Shell):  # type: ignore[attr-defined]
            self.seen.append(f"{type(watched).__name__} {watched.accessibleName()!r}")  # type: ignore[attr-defined]
        return False


@pytest.fixture
def windows(qapp: QApplication) -> Iterator[list[str]]:
    watcher = Watcher()
    qapp.installEventFilter(watcher)
    yield watcher.seen
    qapp.removeEventFilter(watcher)


@pytest.fixture
def shell(
    demo: Book,
    dressed: Theme,
    context_of: Callable[[Book], Context],
    windows: list[str],
    qtbot: QtBot,
) -> Shell:
    made = Shell(dressed, PLACES)
    qtbot.addWidget(made)
    made.show()
    made.activateWindow()
    qtbot.waitActive(made)
    made.show_book(context_of(demo), "The shop", "rail")
    return made


def test_no_place_opens_a_window_of_its_own(shell: Shell, windows: list[str]) -> None:
    for entry in PLACES:
        shell.go(entry.key)
        QApplication.processEvents()
        assert windows == [], entry.key


def test_the_keyboard_goes_along_from_place_to_place(shell: Shell, qtbot: QtBot) -> None:
    rail = shell.place("rail")
    assert isinstance(rail, RailPlace)
    rail.view.grid.cards["LAMB-32"].block.click()
    block = shell.place("block")
    assert isinstance(block, BlockPlace)
    for _ in range(5):
        QApplication.processEvents()
    assert block.look.title == "Lamb 32"
    assert block.view.hasFocus()
    qtbot.keyClicks(QApplication.focusWidget(), "1.5")
    assert block.view.work.column.keypad.text == "1.5"


def test_panels_of_block_and_rail_open_in_their_window(shell: Shell, windows: list[str]) -> None:
    shell.go("block", "LAMB-32")
    block = shell.place("block")
    assert isinstance(block, BlockPlace)
    block.view.top.person_key.click()
    block.view.work.panel.closed.emit()
    block.view.work.grid.list_key.click()
    block.view.work.panel.closed.emit()
    block.view.work.bottom.finish_key.click()
    shell.go("rail")
    rail = shell.place("rail")
    assert isinstance(rail, RailPlace)
    rail.open_reweigh("SIDE-04")
    rail.view.receive_wanted.emit()
    QApplication.processEvents()
    assert windows == []
