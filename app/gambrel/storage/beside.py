"""What stands beside the trade: kept, changed, and read back whole or by its key.

Records of the catalogue (people, labels, origins, ingredients, classes of lean, recipes) are put
and put again; what was done (lots used, leans measured, prices and write-offs taken back, prints)
is added only.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, TypeVar

from sqlalchemy import delete, insert, select
from sqlalchemy.engine import Connection

from gambrel.domain.trade.around import (
    CutLabel,
    CutLean,
    Ingredient,
    IngredientLot,
    Origin,
    Person,
    PieceLean,
    PriceWithdrawn,
    PrintedItem,
    PrintEvent,
    PrintJob,
    Recipe,
    RecipeLine,
    WriteOffWithdrawn,
)
from gambrel.storage import around, rows
from gambrel.storage.catalogue import put_row
from gambrel.storage.rows import Mapping

Kept = Person | CutLabel | Origin | Ingredient | CutLean
"""A record of the catalogue that can be put again."""
Done = (
    IngredientLot
    | PieceLean
    | PriceWithdrawn
    | WriteOffWithdrawn
    | PrintJob
    | PrintEvent
    | PrintedItem
)
"""A record of what was done; never changed."""
Record = TypeVar("Record", bound=Kept | Done | Recipe | RecipeLine)

_KEPT: dict[type, Mapping[Any]] = {
    Person: rows.PEOPLE,
    CutLabel: rows.CUT_LABELS,
    Origin: rows.ORIGINS,
    Ingredient: rows.INGREDIENTS,
    CutLean: rows.CUT_LEANS,
}
_DONE: dict[type, Mapping[Any]] = {
    IngredientLot: rows.INGREDIENT_LOTS,
    PieceLean: rows.PIECE_LEANS,
    PriceWithdrawn: rows.PRICES_WITHDRAWN,
    WriteOffWithdrawn: rows.WRITEOFFS_WITHDRAWN,
    PrintJob: rows.PRINT_JOBS,
    PrintEvent: rows.PRINT_EVENTS,
    PrintedItem: rows.PRINTED_ITEMS,
}
_ALL = _KEPT | _DONE | {Recipe: rows.RECIPES, RecipeLine: rows.RECIPE_LINES}


def put(connection: Connection, record: Kept | Recipe) -> None:
    """Insert a record of the catalogue, or change the one of the same key."""
    mapping = _ALL[type(record)]
    put_row(connection, mapping, mapping.row(record))


def put_recipe(connection: Connection, recipe: Recipe, lines: Sequence[RecipeLine]) -> None:
    """Keep a recipe with just these lines."""
    put(connection, recipe)
    _drop_lines(connection, recipe.key)
    if lines:
        values = [rows.RECIPE_LINES.row(line) for line in lines]
        connection.execute(insert(around.recipe_line), values)


def drop_recipe(connection: Connection, key: str) -> None:
    """Forget a recipe. What was made by it stays."""
    _drop_lines(connection, key)
    connection.execute(delete(around.recipe).where(around.recipe.c.key == key))


def _drop_lines(connection: Connection, recipe: str) -> None:
    connection.execute(delete(around.recipe_line).where(around.recipe_line.c.recipe == recipe))


def add_done(connection: Connection, records: Sequence[Done]) -> None:
    """Write down what was done; the order of kinds is theirs who call."""
    for kind, mapping in _DONE.items():
        if values := [mapping.row(record) for record in records if type(record) is kind]:
            connection.execute(mapping.insert, values)


def every(connection: Connection, kind: type[Record], **where: object) -> list[Record]:
    """All records of a kind, or those whose fields have these values, by their primary keys.

    Raises:
        TypeError: No such kind is kept here.
    """
    mapping = _ALL.get(kind)
    if mapping is None:
        raise TypeError(f"{kind.__name__} is no record beside the trade")
    table = mapping.table
    query = select(*mapping.columns).order_by(*table.primary_key)
    query = query.where(*(table.c[name] == value for name, value in where.items()))
    return mapping.values(connection.execute(query))
