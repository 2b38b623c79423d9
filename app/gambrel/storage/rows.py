"""Between a table's rows and the domain's values, one way for each kind of record."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, fields, is_dataclass
from datetime import time
from operator import attrgetter
from typing import Any, Generic, TypeVar

from sqlalchemy import Column, Insert, Select, Table, insert, select

from gambrel.domain.numbers.money import Currency
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
from gambrel.domain.trade.catalogue import Cut, ListLine, Shop, Supplier
from gambrel.domain.trade.records import (
    Body,
    Input,
    Piece,
    PriceChange,
    Reweigh,
    Source,
    Void,
    WriteOff,
)
from gambrel.storage import around, tables

Record = TypeVar("Record")
Row = dict[str, Any]


@dataclass(frozen=True)
class Mapping(Generic[Record]):
    """How one kind of record lies in its table."""

    table: Table
    columns: tuple[Column[Any], ...]
    row: Callable[[Record], Row]
    value: Callable[[Sequence[Any]], Record]
    insert: Insert
    """Made once, so that its SQL is compiled once."""

    def select(self) -> Select[Any]:
        """Every column that a value needs, in its order."""
        return select(*self.columns)

    def values(self, rows: Iterable[Sequence[Any]]) -> list[Record]:
        """Rows of `select` as values."""
        return list(map(self.value, rows))


def _names(record: type) -> tuple[str, ...]:
    if is_dataclass(record):
        return tuple(field.name for field in fields(record))
    return tuple(record._fields)  # type: ignore[attr-defined]  # a named tuple


def _plain(
    record: type[Record],
    table: Table,
    *,
    row: Callable[[Record], Row] | None = None,
    value: Callable[[Sequence[Any]], Record] | None = None,
) -> Mapping[Record]:
    """A record whose fields are the table's columns, by the same names."""
    names = _names(record)
    read = attrgetter(*names)
    return Mapping(
        table,
        tuple(table.c[name] for name in names),
        row or (lambda record: dict(zip(names, read(record), strict=True))),
        value or (lambda row: record(*row)),
        insert(table),
    )


def _body_row(body: Body) -> Row:
    row = {name: getattr(body, name) for name in _names(Body)}
    return row | {"supplier": body.supplier or None}


def _body_value(row: Sequence[Any]) -> Body:
    values = dict(zip(_names(Body), row, strict=True))
    return Body(**values | {"supplier": values["supplier"] or ""})


def _input_row(taken: Input) -> Row:
    return taken._asdict() | {
        "body": taken.key if taken.source is Source.BODY else None,
        "piece": taken.key if taken.source is Source.PIECE else None,
    }


def shop_row(shop: Shop) -> Row:
    """The one row of the table `shop`."""
    row = {name: getattr(shop, name) for name in _names(Shop)}
    return row | {
        "id": 1,
        "currency": shop.currency.code,
        "currency_digits": shop.currency.digits,
        "day_starts": shop.day_starts.strftime("%H:%M"),
        "prices_include_tax": int(shop.prices_include_tax),
    }


def shop_value(row: Row) -> Shop:
    """The shop of that row."""
    values = {name: row[name] for name in _names(Shop)}
    return Shop(
        **values
        | {
            "currency": Currency(row["currency"], row["currency_digits"]),
            "day_starts": time.fromisoformat(row["day_starts"]),
            "prices_include_tax": bool(row["prices_include_tax"]),
        }
    )


def _or_none(record: type[Record], *blank: str) -> dict[str, Any]:
    """For records in which an empty text means that a key of another table is not given."""
    names = _names(record)

    def row(value: Record) -> Row:
        values = {name: getattr(value, name) for name in names}
        return values | {name: values[name] or None for name in blank}

    def value(row: Sequence[Any]) -> Record:
        values = dict(zip(names, row, strict=True))
        return record(**values | {name: values[name] or "" for name in blank})

    return {"row": row, "value": value}


def _person_row(person: Person) -> Row:
    return {"name": person.name, "pin": person.pin, "active": int(person.active)}


def _person_value(row: Sequence[Any]) -> Person:
    name, pin, active = row
    return Person(name, pin, bool(active))


SUPPLIERS = _plain(Supplier, tables.supplier)
CUTS = _plain(Cut, tables.cut)
LISTS = _plain(ListLine, tables.cutting_list_line)
BODIES = _plain(Body, tables.body, row=_body_row, value=_body_value)
REWEIGHS = _plain(Reweigh, tables.reweigh)
PIECES = _plain(Piece, tables.piece, row=Piece._asdict, value=Piece._make)
INPUTS = _plain(Input, tables.stage_input, row=_input_row, value=Input._make)
VOIDS = _plain(Void, tables.void)
PRICES = _plain(PriceChange, tables.price)
WRITEOFFS = _plain(WriteOff, tables.writeoff)
PEOPLE = _plain(Person, around.person, row=_person_row, value=_person_value)
CUT_LABELS = _plain(CutLabel, around.cut_label)
ORIGINS = _plain(Origin, around.origin)
INGREDIENTS = _plain(Ingredient, around.ingredient)
INGREDIENT_LOTS = _plain(IngredientLot, around.ingredient_lot)
CUT_LEANS = _plain(CutLean, around.cut_lean)
PIECE_LEANS = _plain(PieceLean, around.piece_lean)
RECIPES = _plain(Recipe, around.recipe)
RECIPE_LINES = _plain(RecipeLine, around.recipe_line, **_or_none(RecipeLine, "cut", "ingredient"))
PRICES_WITHDRAWN = _plain(PriceWithdrawn, around.price_withdrawn)
WRITEOFFS_WITHDRAWN = _plain(WriteOffWithdrawn, around.writeoff_withdrawn)
PRINT_JOBS = _plain(PrintJob, around.print_job)
PRINT_EVENTS = _plain(PrintEvent, around.print_event)
PRINTED_ITEMS = _plain(PrintedItem, around.printed_item, **_or_none(PrintedItem, "piece"))
