"""The demo shop as a real book, loaded once a run and handed out as copies."""

from __future__ import annotations

from pathlib import Path

from gambrel.services.books import Book, open_book
from gambrel.services.folder.load import load_folder

DEMO = Path(__file__).parent.parent / "demo_data"


def load_demo(path: Path) -> Path:
    """Make a demo book at a path; the file is closed and whole when this returns."""
    book = open_book(str(path))
    try:
        load_folder(book, DEMO)
    finally:
        book.close()
    return path


def open_demo(path: Path) -> Book:
    """A fresh demo book, open."""
    return open_book(str(load_demo(path)))
