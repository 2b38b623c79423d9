"""Writing a book as a folder: whole or not at all."""

from __future__ import annotations

import os
import re
import secrets
import shutil
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.records import Trade
from gambrel.domain.trade.rows import rows_of
from gambrel.services.books import Book
from gambrel.services.folder.beside import Held, of_what_stands
from gambrel.services.folder.beside_forms import BESIDE
from gambrel.services.folder.cells import Terms
from gambrel.services.folder.forms import FORMS, SHOP_FILE, Form
from gambrel.services.folder.replacing import InBook, require_room
from gambrel.services.folder.shop_file import shop_text
from gambrel.storage.copy import flush
from gambrel.storage.place import real_path

_QUOTED = re.compile(r'[",\r\n]|^\s|\s$')


def dump_folder(book: Book, folder: Path, *, replace: bool = False) -> dict[str, int]:
    """Write all that a book holds as a folder in the plain-file form.

    The folder must not be there, be empty, or hold an earlier dump of this book, which is
    replaced. It is made beside its place and moved there when it is whole.

    Args:
        book: With a shop.
        folder: Where to.
        replace: Whether other files of this form may be taken away for it.
    Returns:
        How many rows each table has.
    Raises:
        Refusal: The book has no shop yet, or the folder holds something else.
        OSError: The disk says no; what was there before is still there.
    """
    with book.reading() as work:
        if work.shop() is None:
            raise Refusal("The book has no shop yet, so there is nothing to write; load a folder.")
        known = InBook.of(work)
    trade, beside = known.trade, of_what_stands(known.beside, known.trade)
    place = real_path(folder)
    require_room(place, known, replace=replace)
    place.parent.mkdir(parents=True, exist_ok=True)
    fresh = place.with_name(f".{place.name}.{secrets.token_hex(4)}.part")
    fresh.mkdir()
    try:
        write_trade(trade, fresh)
        write_beside(trade, beside, fresh)
        _move(fresh, place)
    finally:
        shutil.rmtree(fresh, ignore_errors=True)
    rows = {table: len(rows_of(trade, table)) for table in FORMS}
    return rows | {BESIDE[kind].table: len(found) for kind, found in beside.items() if found}


def write_trade(trade: Trade, folder: Path) -> None:
    """Write every file of a trade into a folder that is there."""
    _write(folder / SHOP_FILE, [shop_text(trade.shop)])
    terms = Terms(trade.shop)
    for form in FORMS.values():
        _write(folder / form.file, _lines(form, rows_of(trade, form.table), terms))


def write_beside(trade: Trade, held: Held, folder: Path) -> None:
    """Write the files beside the trade that have rows into a folder that is there."""
    terms = Terms(trade.shop)
    for kind, form in BESIDE.items():
        if held[kind]:
            _write(folder / form.file, _lines(form, held[kind], terms))


def _lines(form: Form, records: Iterable[Any], terms: Terms) -> Iterable[str]:
    yield ",".join(form.header) + "\n"
    for record in records:
        yield ",".join(map(_cell, form.cells(terms, record))) + "\n"


def _cell(text: str) -> str:
    """A cell as CSV. Every line end inside is quoted; Python's own writer leaves CR bare."""
    if _QUOTED.search(text) is None:
        return text
    doubled = text.replace('"', '""')
    return f'"{doubled}"'


def _write(path: Path, lines: Iterable[str]) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        file.writelines(lines)
        file.flush()
        os.fsync(file.fileno())


def _move(fresh: Path, place: Path) -> None:
    """Put the new folder in its place; an earlier dump steps aside first and is then removed.

    It is removed only when the new one is on the disk under its name.
    """
    flush(fresh)
    if not place.exists():
        fresh.rename(place)
        flush(place.parent)
        return
    aside = fresh.with_suffix(".old")
    place.rename(aside)
    try:
        fresh.rename(place)
        flush(place.parent)
    except BaseException:
        if not place.exists():
            aside.rename(place)
        raise
    shutil.rmtree(aside)
