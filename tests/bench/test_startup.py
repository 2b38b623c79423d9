"""Start-up: from the command to the first paint, and to the first piece that can be weighed."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from gambrel.services.books import open_book
from gambrel.services.settings import keep_setting
from gambrel.ui.app import SHOWN, station
from tests.bench.ratio import measure
from tests.demo_book import load_demo

pytestmark = [pytest.mark.bench, pytest.mark.timeout(300)]

BARE = """
import os
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication, QWidget

class Window(QWidget):
    def paintEvent(self, event):
        QTimer.singleShot(0, lambda: os._exit(0))

app = QApplication([])
window = Window()
window.resize(1280, 800)
window.show()
app.exec()
"""

FIRST_PAINT = """
import os, sys
from gambrel.ui import app

app.open_in = lambda *window: os._exit(0)  # the next step after the paint
app.run(sys.argv[1])
"""

FIRST_PIECE = """
import os, sys
from PySide6.QtCore import Qt, QTimer
from gambrel.ui import app

def look(window):
    if window.current != "block":
        QTimer.singleShot(0, lambda: look(window))
        return
    work = window.place("block").view.work
    for digit in "1.5":
        work.column.keypad.press(digit)
    window.repaint()
    os._exit(0 if work.isVisible() and work.column.weigh_key.isEnabled() else 3)

filled = app.fill
def fill(window, where, clock):
    filled(window, where, clock)
    look(window)
app.fill = fill
app.run(sys.argv[1])
"""

LAZY = (
    "PySide6.QtPrintSupport",
    "alembic",
    "babel",
    "highspy",
    "numpy",
    "psycopg",
    "pypdfium2",
    "reportlab",
    "segno",
    "sqlalchemy.orm",
    "xlsxwriter",
)
"""What a window never needs before it is asked for."""

WHAT_IS_LOADED = """
import sys
from PySide6.QtCore import QTimer
from gambrel.ui import app

filled = app.fill
def fill(window, where, clock):
    assert "sqlalchemy" not in sys.modules, "the window is painted before the book's library"
    filled(window, where, clock)
    window.go("block")
    print(*sorted(sys.modules))
    QTimer.singleShot(0, window.close)
app.fill = fill
app.run(sys.argv[1])
"""


@pytest.fixture(scope="module")
def where(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The demo shop; its station had a body on the block when it stopped."""
    path = load_demo(tmp_path_factory.mktemp("startup") / "demo.gambrel")
    with open_book(str(path)) as book:
        keep_setting(book, SHOWN + station(), "block")
    return str(path)


def python(script: str, *arguments: str) -> str:
    """Run a script in a process of its own; what it printed. It must end well."""
    environment = os.environ | {"QT_QPA_PLATFORM": "offscreen"}
    done = subprocess.run(
        [sys.executable, "-c", script, *arguments],
        env=environment,
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_first_paint_beside_a_bare_window(where: str) -> None:
    told = measure(
        "start to first paint / bare window",
        lambda: python(FIRST_PAINT, where),
        lambda: python(BARE),
        rounds=5,
    )
    assert told.ratio < 3  # aim: 2


def test_first_piece_that_can_be_weighed_beside_a_bare_window(where: str) -> None:
    told = measure(
        "start to first piece / bare window",
        lambda: python(FIRST_PIECE, where),
        lambda: python(BARE),
        rounds=5,
    )
    assert told.ratio < 8  # aim: 5


def test_heavy_libraries_wait_until_they_are_needed(where: str) -> None:
    loaded = python(WHAT_IS_LOADED, where).split()
    assert "sqlalchemy" in loaded
    assert [name for name in LAZY if name in loaded] == []
    assert Path(where).exists()
