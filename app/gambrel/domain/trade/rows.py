"""The rows of a trade by the tables of its plain files, and the key by which each row is known."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from gambrel.domain.trade.catalogue import Cut, ListLine, Supplier
from gambrel.domain.trade.records import (
    Body,
    Input,
    Piece,
    PriceChange,
    Reweigh,
    Stage,
    Trade,
    Void,
    WriteOff,
)

Record = (
    Supplier
    | Cut
    | ListLine
    | Body
    | Reweigh
    | Stage
    | Input
    | Piece
    | Void
    | PriceChange
    | WriteOff
)

RowKey = tuple[str, ...]

TABLES: dict[str, tuple[type, str]] = {
    "suppliers": (Supplier, "suppliers"),
    "cuts": (Cut, "cuts"),
    "cutting_lists": (ListLine, "lists"),
    "bodies": (Body, "bodies"),
    "reweighs": (Reweigh, "reweighs"),
    "stages": (Stage, "stages"),
    "pieces": (Piece, "pieces"),
    "inputs": (Input, "inputs"),
    "voids": (Void, "voids"),
    "prices": (PriceChange, "prices"),
    "writeoffs": (WriteOff, "writeoffs"),
}
"""Each table's record and the field of `Trade` that holds it, what is referred to first."""

_KEYS: dict[type, Callable[[Any], RowKey]] = {
    Supplier: lambda row: (row.key,),
    Cut: lambda row: (row.key,),
    ListLine: lambda row: (row.list, row.species, row.portion, row.cut),
    Body: lambda row: (row.key,),
    Reweigh: lambda row: (row.body, row.at.isoformat()),
    Stage: lambda row: (row.key,),
    Piece: lambda row: (row.key,),
    Input: lambda row: (row.stage, row.source.value, row.key),
    Void: lambda row: (row.piece,),
    PriceChange: lambda row: (row.cut, row.since.isoformat()),
    WriteOff: lambda row: (row.piece, row.at.isoformat(), row.reason),
}


def row_key(record: Record) -> RowKey:
    """What makes a row of its table the only one: two rows of one key say the same thing twice."""
    return _KEYS[type(record)](record)


def rows_of(trade: Trade, table: str) -> Sequence[Record]:
    """The rows of one table, in the trade's order."""
    rows: Sequence[Record] = getattr(trade, TABLES[table][1])
    return rows
