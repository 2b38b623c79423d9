"""What the tests of backup and restore share: a full book, and every row of any book."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from sqlalchemy import select

from gambrel.domain.trade.records import Piece
from gambrel.storage import around  # noqa: F401 - it fills the metadata
from gambrel.storage.book import Book, open_book
from gambrel.storage.restore import Restored, restore_book
from gambrel.storage.tables import metadata
from tests.storage import beside_samples
from tests.storage.samples import SHOP, TRADE, at, entries

NOW = datetime(2026, 11, 29, 15, 12, 33, tzinfo=UTC)

Rows = dict[str, list[tuple[Any, ...]]]


def fill(book: Book) -> None:
    """Rows in every table: the trade, PINs, the print log, settings, and what is beside."""
    with book.transaction() as work:
        work.set_shop(SHOP)
        work.add(entries(TRADE))
        work.set_setting("hook", "one\u00a0é")
        beside_samples.fill(work)


def weigh(book: Book, *keys: str) -> None:
    with book.transaction() as work:
        work.add([Piece(key, "S2", "rump", 900, 10, at(100 + n)) for n, key in enumerate(keys)])


def rows_of(book: Book) -> Rows:
    """Every row of every table, as values of ours, in the order of the keys."""
    with book.reading() as work:
        connection = work._connection
        return {
            table.name: [
                tuple(row) for row in connection.execute(select(table).order_by(*table.primary_key))
            ]
            for table in metadata.sorted_tables
        }


def rows_at(where: object) -> Rows:
    with open_book(str(where), create=False) as book:
        assert book.check() == []
        return rows_of(book)


def make(where: object, *, empty: bool = False) -> Rows:
    with open_book(str(where)) as book:
        if not empty:
            fill(book)
        return rows_of(book)


def backed_up(where: object, file: Path) -> Path:
    with open_book(str(where), create=False) as book:
        book.back_up(file)
    return file


def restore(where: object, backup: Path) -> Restored:
    kept_in = backup.parent  # only for a book on a server
    return restore_book(str(where), backup, NOW, kept_in)


def parts_in(folder: Path) -> list[str]:
    """What was left half done in a folder."""
    return [each.name for each in folder.iterdir() if ".part" in each.name]


def text(path: Path) -> None:
    path.write_text("cut,name\nrump,Rump\n" * 20, encoding="utf-8")


def picture(path: Path) -> None:
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 8)


def nothing(path: Path) -> None:
    path.touch()


def cut_short(path: Path) -> None:
    make(path)
    with path.open("r+b") as file:
        file.truncate(path.stat().st_size // 2)
