"""Whether a folder may give way to a dump: nothing that stands in it may be lost unasked."""

from __future__ import annotations

from pathlib import Path

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.records import Stage, Trade
from gambrel.domain.trade.rows import Record, row_key, rows_of
from gambrel.services.folder.beside_forms import ALL_FILES
from gambrel.services.folder.forms import FORMS, SHOP_FILE
from gambrel.services.folder.read import Rows, read_folder


def require_room(place: Path, trade: Trade, *, replace: bool) -> None:
    """Refuse a place where a dump of a trade would take something away.

    A folder that is not there or empty is free. One that holds an earlier dump of the same book
    is, since all of it will stand in the new one. What else holds our files gives way only when
    ``replace`` says so, and a file of another kind never does.

    Raises:
        Refusal: The place is not free.
    """
    if not place.exists():
        return
    if not place.is_dir():
        raise Refusal(f"{place} is a file; give a folder that is not there yet.")
    names = sorted(child.name for child in place.iterdir())
    strangers = [name for name in names if name not in ALL_FILES]
    if strangers:
        raise Refusal(
            f"The folder {place} holds {', '.join(strangers[:3])}, which a dump would take away; "
            "give a folder that is not there yet."
        )
    if names and not replace and (lost := _first_lost(place, trade)):
        raise Refusal(
            f"The folder {place} is not an earlier dump of this book: {lost}. Give a folder that "
            "is not there yet, load this one first, or have it replaced (--replace)."
        )


def _first_lost(place: Path, trade: Trade) -> str:
    """The first thing in a folder that a trade does not have, as a clause; nothing if it has all.

    A row that cannot be read counts: nobody can say that the book has it.
    """
    folder = read_folder(place, trade.shop)
    if folder.refusals:
        return folder.refusals.first
    if folder.shop is None:
        return f"it has no {SHOP_FILE}"
    if folder.shop != trade.shop:
        name = folder.shop.name
        same = name == trade.shop.name
        return f"its {SHOP_FILE} has other settings" if same else f"it is of the shop {name!r}"
    for table, rows in folder.tables.items():
        held = {row_key(record): record for record in rows_of(trade, table)}
        for record in rows.records:
            if not _stands_in(record, held.get(row_key(record))):
                return _not_in_the_book(table, rows, record)
    return ""


def _stands_in(record: Record, old: Record | None) -> bool:
    """Whether the book has a row. A stage that was open then may have gone on since."""
    if isinstance(record, Stage) and isinstance(old, Stage) and record.is_open:
        return (record.kind, record.started_at) == (old.kind, old.started_at)
    return record == old


def _not_in_the_book(table: str, rows: Rows, record: Record) -> str:
    key = row_key(record)
    return f"{FORMS[table].file}:{rows.lines[key]}: {' '.join(key)!r} is not so in the book"
