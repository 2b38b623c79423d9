"""Changing the catalogue: cuts, cutting lists, suppliers, and what labels say of them.

Its tables carry no guard, since nothing in them is a weighing or a price. What a change would do
to the record of the trade is the services' to ask (`uses_of_cut`, `bodies_by_supplier`).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sqlalchemy import Column, and_, delete, exists, func, select, update
from sqlalchemy.engine import Connection

from gambrel.domain.trade.around import CutLabel, CutLean, Origin
from gambrel.domain.trade.catalogue import Cut, ListLine, Supplier
from gambrel.storage import around, rows, tables
from gambrel.storage.rows import Mapping, Row

Listed = Cut | CutLabel | CutLean | Supplier | Origin
"""A record that stands by itself and can be changed or dropped."""

_LISTED: dict[type, Mapping[Any]] = {
    Cut: rows.CUTS,
    CutLabel: rows.CUT_LABELS,
    CutLean: rows.CUT_LEANS,
    Supplier: rows.SUPPLIERS,
    Origin: rows.ORIGINS,
}

_NAMES_CUT: dict[str, Column[Any]] = {
    "pieces": tables.piece.c.cut,
    "prices": tables.price.c.cut,
    "lists": tables.cutting_list_line.c.cut,
    "recipes": around.recipe.c.product,
    "recipe lines": around.recipe_line.c.cut,
    "classes of lean": around.cut_lean.c.cut,
    "printed": around.printed_item.c.cut,
}
"""The columns that name a cut; its label is the cut's own."""


def put_row(connection: Connection, mapping: Mapping[Any], row: Row) -> None:
    """Change the row of the same key, or insert it. One writer at a time makes both steps safe."""
    change = update(mapping.table).where(_same(mapping, row)).values(row)
    if not connection.execute(change).rowcount:
        connection.execute(mapping.insert, row)


def keep(connection: Connection, record: Listed) -> None:
    """Insert a record, or change the one of the same key."""
    mapping = _LISTED[type(record)]
    put_row(connection, mapping, mapping.row(record))


def drop(connection: Connection, record: Listed) -> None:
    """Take a record out of the book; what names it has to be gone before."""
    mapping = _LISTED[type(record)]
    connection.execute(delete(mapping.table).where(_same(mapping, mapping.row(record))))


def _same(mapping: Mapping[Any], row: Row) -> Any:  # noqa: ANN401 - a condition of SQLAlchemy's
    return and_(*(column == row[column.name] for column in mapping.table.primary_key))


def put_list(connection: Connection, key: tuple[str, str, str], lines: Sequence[ListLine]) -> None:
    """Let a list have just these lines; none takes it out of the book."""
    line = tables.cutting_list_line
    named = (line.c.list, line.c.species, line.c.portion)
    same = and_(*(column == value for column, value in zip(named, key, strict=True)))
    connection.execute(delete(line).where(same))
    if lines:
        connection.execute(rows.LISTS.insert, [rows.LISTS.row(each) for each in lines])


def uses_of_cut(connection: Connection, key: str) -> dict[str, int]:
    """How many rows name a cut, by what they are; nothing where none does."""
    counts = {
        name: int(connection.scalar(select(func.count()).where(column == key)) or 0)
        for name, column in _NAMES_CUT.items()
    }
    return {name: count for name, count in counts.items() if count}


def cuts_named(connection: Connection) -> set[str]:
    """The cuts that anything in the book names."""
    found: set[str] = set()
    for column in _NAMES_CUT.values():
        found.update(key for key in connection.scalars(select(column).distinct()) if key)
    return found


def pieces_by_cut(connection: Connection) -> dict[str, int]:
    """How many pieces of each cut stand: weighed, and not taken back."""
    piece = tables.piece.c
    gone = exists().where(tables.void.c.piece == piece.key)
    query = select(piece.cut, func.count()).where(~gone).group_by(piece.cut)
    return {cut: int(count) for cut, count in connection.execute(query)}


def bodies_by_supplier(connection: Connection) -> dict[str, int]:
    """How many bodies came of each supplier."""
    supplier = tables.body.c.supplier
    query = select(supplier, func.count()).where(supplier.is_not(None)).group_by(supplier)
    return {key: int(count) for key, count in connection.execute(query)}


def portions_bought(connection: Connection) -> list[tuple[str, str]]:
    """What has been bought, as pairs of species and portion, in their order."""
    body = tables.body.c
    found = connection.execute(select(body.species, body.portion).distinct())
    return sorted((species, portion) for species, portion in found)
