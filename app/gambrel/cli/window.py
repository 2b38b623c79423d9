"""The one door from the command line to the window; Qt is loaded only behind it."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from gambrel.cli.display import need_display


def run(options: Namespace) -> int:
    """``gambrel`` without a command: the window on a book."""
    return open_window(options.book)


def open_window(where: str | None, clock: Callable[[], datetime] | None = None) -> int:
    """Open the window and stay until it is closed.

    Args:
        where: The book's path or URL; None for the user's own.
        clock: What the program takes for now; None for the machine's clock.
    Raises:
        Refusal: There is no display.
    """
    need_display()
    from gambrel.ui import app

    return app.run(where, clock=clock)


def draw_pictures(where: str, folder: Path) -> list[Path]:
    """Draw every place of the window without a screen, into a folder that is made if missing."""
    from gambrel.ui.pictures import save_pictures

    folder.mkdir(parents=True, exist_ok=True)
    return save_pictures(where, folder)
