"""``gambrel demo``."""

from __future__ import annotations

import tempfile
from argparse import Namespace
from datetime import UTC, datetime
from pathlib import Path

from gambrel.cli import output
from gambrel.cli.display import has_display
from gambrel.cli.window import draw_pictures, open_window
from gambrel.domain.refusals import Refusal
from gambrel.services.books import Book, latest_moment
from gambrel.services.demo import A_WHILE, going_on, make_demo_book, write_demo_papers


def run(options: Namespace) -> int:
    """A fresh demo book; its window where there is a display, its papers and pictures if asked.

    With no display and no ``--out`` the papers go to a temporary folder, which is named.
    """
    with tempfile.TemporaryDirectory(prefix="gambrel-demo-") as place:
        with make_demo_book(Path(place)) as book:
            where = book.where
            last = latest_moment(book) or datetime.now(UTC)
            if options.out is not None or not has_display():
                _write_out(options.out, book, last + A_WHILE)
        if not has_display():
            return 0
        return _open_window(where, last)


def _write_out(out: Path | None, book: Book, last: datetime) -> None:
    folder = _folder(out)
    if not has_display():
        output.say("There is no display to open a window on, so the demo's papers are written.")
    papers = write_demo_papers(book, folder, last)
    for path in [*papers, *draw_pictures(book.where, folder / "pictures")]:
        output.say(f"Wrote {path}")
    output.say(f"The demo's papers and pictures are in {folder}.")


def _folder(out: Path | None) -> Path:
    if out is None:
        return Path(tempfile.mkdtemp(prefix="gambrel-demo-papers-"))
    if out.exists() and not out.is_dir():
        raise Refusal(f"{out} is a file; give a folder for the demo's papers.")
    return out


def _open_window(where: str, last: datetime) -> int:
    """The window on the demo, whose clock goes on from where its trade ends."""
    return open_window(where, going_on(last, lambda: datetime.now(UTC)))
