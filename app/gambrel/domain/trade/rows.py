"""The rows of a trade by the tables of its plain files, and the key by which each row is known."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from gambrel.domain.trade.around import (
    Beside,
    CutLabel,
    CutLean,
    Ingredient,
    IngredientLot,
    Origin,
    Person,
    PieceLean,
    Recipe,
    RecipeLine,
    Setting,
)
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

AnyRecord = Record | Beside
"""A row of any file of the plain-file form."""

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
    Person: lambda row: (row.name,),
    Ingredient: lambda row: (row.key,),
    IngredientLot: lambda row: (row.stage, row.key),
    CutLean: lambda row: (row.cut,),
    PieceLean: lambda row: (row.piece, row.at.isoformat()),
    Recipe: lambda row: (row.key,),
    RecipeLine: lambda row: (row.recipe, str(row.position)),
    CutLabel: lambda row: (row.cut,),
    Origin: lambda row: (row.kind.value, row.key),
    Setting: lambda row: (row.name,),
}


def row_key(record: AnyRecord) -> RowKey:
    """What makes a row of its table the only one: two rows of one key say the same thing twice."""
    return _KEYS[type(record)](record)


def rows_of(trade: Trade, table: str) -> Sequence[Record]:
    """The rows of one table, in the trade's order."""
    rows: Sequence[Record] = getattr(trade, TABLES[table][1])
    return rows
