"""Pictures of every place, drawn without a screen: for the demo, the README and our own eyes."""

from __future__ import annotations

import os
import platform
from collections.abc import Iterator, Sequence
from datetime import timedelta
from pathlib import Path

from PySide6.QtCore import QEvent, Qt
from PySide6.QtWidgets import QApplication

from gambrel.domain.refusals import Refusal
from gambrel.services.books import latest_moment, open_book
from gambrel.services.words import formats_for
from gambrel.ui.app import PLACES, application, now
from gambrel.ui.context import Context
from gambrel.ui.shell import Shell
from gambrel.ui.tasks import SyncTasks
from gambrel.ui.theme import Theme

SIZES = ((1280, 800), (1024, 600), (1920, 1080))
A_WHILE = timedelta(minutes=20)
QUICK_PNG = 70
"""How hard the files are packed: nearly as small as can be, in a third of the time."""


def save_pictures(where: str, folder: Path, sizes: Sequence[tuple[int, int]] = SIZES) -> list[Path]:
    """Draw every place at each size, light and dark, as the book was at its last act.

    Args:
        where: The book's path or URL; it is opened for reading only.
        folder: Where the files go, named like ``block-1280x800-dark.png``; it must exist.
        sizes: Widths and heights of the window.
    Returns:
        The files, in the order in which they were written.
    Raises:
        Refusal: The book cannot be read, has no shop, or a file cannot be written.
    """
    if QApplication.instance() is None and not _has_screen():
        os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    app = application()
    theme = Theme()
    theme.dress(app)
    with open_book(where, create=False, read_only=True) as book:
        with book.reading() as work:
            shop = work.shop()
        if shop is None:
            raise Refusal(f"{where} has no shop in it yet, so there is nothing to picture.")
        moment = (latest_moment(book) or now()) + A_WHILE
        context = Context(book, theme, formats_for(shop), lambda: moment, SyncTasks(), "pictures")
        shell = Shell(theme, PLACES)
        shell.setAttribute(Qt.WidgetAttribute.WA_DontShowOnScreen)
        shell.show()
        shell.show_book(context, shop.name)
        saved = [path for size in sizes for path in _looks(app, shell, size, folder)]
        shell.close()
        return saved


def _looks(app: QApplication, shell: Shell, size: tuple[int, int], folder: Path) -> Iterator[Path]:
    """Draw every place in one size, first light, then dark."""
    width, height = size
    shell.resize(width, height)
    for look in ("light", "dark"):
        shell.theme.set_dark(look == "dark")
        for entry in PLACES:
            shell.go(entry.key)
            _settle(app)
            path = folder / f"{entry.key}-{width}x{height}-{look}.png"
            if not shell.grab().save(str(path), quality=QUICK_PNG):
                raise Refusal(f"{path} could not be written; look at the folder's free space.")
            yield path


def _settle(app: QApplication) -> None:
    """Let layouts and repaints that were put off happen now."""
    for _ in range(2):  # wrapped words know their height only once they know their width
        app.sendPostedEvents(None, int(QEvent.Type.LayoutRequest))
        app.processEvents()


def _has_screen() -> bool:
    if os.environ.get("QT_QPA_PLATFORM") or platform.system() != "Linux":
        return True  # whoever named a platform knows best
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))
