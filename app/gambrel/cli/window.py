"""``gambrel`` without a command: the window."""

from __future__ import annotations

from argparse import Namespace


def run(options: Namespace) -> int:
    """Open the window on a book; Qt is loaded only here."""
    from gambrel.cli.display import need_display
    from gambrel.ui import app

    need_display()
    return app.run(options.book)
