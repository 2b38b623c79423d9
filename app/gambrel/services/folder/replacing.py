"""Whether a folder may give way to a dump: nothing that stands in it may be lost unasked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import Person, Recipe, RecipeLine
from gambrel.domain.trade.records import Input, Piece, PriceChange, Stage, Trade, WriteOff
from gambrel.domain.trade.rows import AnyRecord, RowKey, row_key, rows_of
from gambrel.services.folder.beside import Held, held_beside
from gambrel.services.folder.beside_forms import ALL_FILES, BESIDE
from gambrel.services.folder.forms import FORMS, SHOP_FILE, Form
from gambrel.services.folder.gone import withdrawn_prices, withdrawn_writeoffs
from gambrel.services.folder.read import Folder, Rows, read_folder

if TYPE_CHECKING:
    from gambrel.storage.work import Work


@dataclass(frozen=True, slots=True)
class InBook:
    """All that a book knows, also what it tells of no more: what was cancelled or taken back."""

    trade: Trade
    beside: Held
    cancelled: frozenset[str]
    withdrawn: frozenset[RowKey]

    @classmethod
    def of(cls, work: Work) -> InBook:
        """What a book knows now."""
        gone = frozenset((*withdrawn_prices(work), *withdrawn_writeoffs(work)))
        return cls(work.trade(), held_beside(work), frozenset(work.cancelled_stages()), gone)

    def knows(self, record: AnyRecord, old: AnyRecord | None) -> bool:
        """Whether a row of a file is in the book, where ``old`` has its key.

        A stage that was open then may have gone on since.
        """
        if isinstance(record, Stage) and isinstance(old, Stage) and record.is_open:
            return (record.kind, record.started_at) == (old.kind, old.started_at)
        if isinstance(record, Stage) and record.key in self.cancelled:
            return True
        if isinstance(record, Input | Piece) and record.stage in self.cancelled:
            return True
        if isinstance(record, PriceChange | WriteOff) and row_key(record) in self.withdrawn:
            return True
        return record == old


def require_room(place: Path, book: InBook, *, replace: bool) -> None:
    """Refuse a place where a dump of a trade would take something away.

    A folder that is not there or empty is free. One that holds an earlier dump of the same book
    is, since all of it will stand in the new one. What else holds our files gives way only when
    ``replace`` says so, and a file of another kind never does.

    Args:
        place: The folder, with no links left in its path.
        book: What will be written, and what else the book knows.
        replace: Whether files of ours give way whatever they say.
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
    if names and not replace and (lost := _first_lost(place, book)):
        raise Refusal(
            f"The folder {place} is not an earlier dump of this book: {lost}. Give a folder that "
            "is not there yet, load this one first, or have it replaced (--replace)."
        )


def _first_lost(place: Path, book: InBook) -> str:
    """The first thing in a folder that the book does not have, as a clause; nothing if it has all.

    A row that cannot be read counts: nobody can say that the book has it.
    """
    shop = book.trade.shop
    folder = read_folder(place, shop)
    if folder.refusals:
        return folder.refusals.first
    if folder.shop is None:
        return f"it has no {SHOP_FILE}"
    if folder.shop != shop:
        name = folder.shop.name
        same = name == shop.name
        return f"its {SHOP_FILE} has other settings" if same else f"it is of the shop {name!r}"
    return _first_unknown(folder, book) or _first_unknown_beside(folder, book)


def _first_unknown(folder: Folder, book: InBook) -> str:
    for table, rows in folder.tables.items():
        there = {row_key(record): record for record in rows_of(book.trade, table)}
        for record in rows.records:
            if not book.knows(record, there.get(row_key(record))):
                return _not_in_the_book(FORMS[table], rows, record)
    return ""


def _first_unknown_beside(folder: Folder, book: InBook) -> str:
    """What stands beside the trade is changed in the book, so only its keys are looked for.

    People who left are told of in no dump, and their names alone are no loss.
    """
    for kind, rows in folder.beside.items():
        known = {_known_by(record) for record in _all_of(kind, book.beside)}
        for record in rows.records:
            if kind is not Person and _known_by(record) not in known:
                return _not_in_the_book(BESIDE[kind], rows, record)
    return ""


def _all_of(kind: type, held: Held) -> Sequence[AnyRecord]:
    return held.get(Recipe if kind is RecipeLine else kind, ())


def _known_by(record: AnyRecord) -> RowKey:
    """A row's key; a line is known by its recipe, since recipes are changed whole."""
    return (record.recipe,) if isinstance(record, RecipeLine) else row_key(record)


def _not_in_the_book(form: Form, rows: Rows, record: AnyRecord) -> str:
    key = row_key(record)
    return f"{form.file}:{rows.lines[key]}: {' '.join(key)!r} is not so in the book"
