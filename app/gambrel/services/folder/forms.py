"""The columns of every file, what their cells mean, and how a row becomes a record and back."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from operator import attrgetter
from typing import Any, Final

from gambrel.domain.trade.catalogue import Cut, CutKind, ListLine, Supplier
from gambrel.domain.trade.records import (
    Body,
    Input,
    Piece,
    PriceChange,
    PricedOn,
    Reweigh,
    Source,
    Stage,
    StageKind,
    Void,
    WriteOff,
)
from gambrel.domain.trade.rows import AnyRecord
from gambrel.services.folder.cells import (
    DAY,
    KEY,
    KG,
    MOMENT,
    MONEY,
    NUMBER,
    SINCE,
    WHOLE,
    WORDS,
    Cell,
    Terms,
    choice,
)

NEEDED: Final = object()
"""Stands for the value of an empty cell where a cell must not be empty."""


class RowFault(ValueError):
    """The cells of a row do not go together; ``column`` is the one at fault."""

    def __init__(self, column: str, message: str) -> None:
        super().__init__(message)
        self.column = column


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a file; ``empty`` is what an empty cell, or a column left out, stands for."""

    name: str
    cell: Cell
    empty: object = NEEDED

    def value(self, terms: Terms, cell: str) -> Any:  # noqa: ANN401 - a cell may hold anything
        """What a cell's text stands for.

        Raises:
            ValueError: The rest of a sentence: what is wrong, and what was expected.
        """
        text = cell.strip()
        if text or (cell and self.cell.exact and self.empty is not NEEDED):
            return self.cell.read(terms, cell if self.cell.exact else text)
        if self.empty is NEEDED:
            raise ValueError(f"nothing is given, expected {self.cell.example}")
        return self.empty


@dataclass(frozen=True, slots=True)
class Form:
    """A file: its columns in order, and its record in both directions.

    ``make`` takes the columns' values in order and may raise `RowFault`; ``take`` gives them back,
    None for an empty cell.
    """

    table: str
    columns: tuple[Column, ...]
    make: Callable[[Sequence[Any]], AnyRecord]
    take: Callable[[Any], Sequence[Any]]

    @property
    def file(self) -> str:
        """The name of the file."""
        return f"{self.table}.csv"

    @property
    def header(self) -> tuple[str, ...]:
        """The names of the columns."""
        return tuple(column.name for column in self.columns)

    def cells(self, terms: Terms, record: AnyRecord) -> Iterator[str]:
        """A record's cells in the columns' order."""
        for column, value in zip(self.columns, self.take(record), strict=True):
            yield "" if value is None else column.cell.write(terms, value)


def form_of(table: str, record: Callable[..., AnyRecord], *columns: tuple[str, Column]) -> Form:
    """A file whose columns are fields of its record, each named beside its column."""
    fields = tuple(field for field, _ in columns)
    return Form(
        table,
        tuple(column for _, column in columns),
        lambda values: record(**dict(zip(fields, values, strict=True))),
        attrgetter(*fields),
    )


_SUPPLIERS = form_of(
    "suppliers",
    Supplier,
    ("key", Column("supplier", KEY)),
    ("name", Column("name", WORDS)),
    ("contact", Column("contact", WORDS, "")),
)

_CUTS = form_of(
    "cuts",
    Cut,
    ("key", Column("cut", KEY)),
    ("name", Column("name", WORDS)),
    ("species", Column("species", KEY)),
    ("kind", Column("kind", choice(CutKind))),
    ("price", Column("price_per_kg", MONEY, None)),
    ("finish", Column("finish_per_kg", MONEY, 0)),
    ("credit", Column("credit_per_kg", MONEY, 0)),
    ("shelf_life_days", Column("shelf_life_days", WHOLE, None)),
    ("plu", Column("plu", KEY, "")),
    ("unece", Column("unece", KEY, "")),
)

_LISTS = form_of(
    "cutting_lists",
    ListLine,
    ("list", Column("list", KEY)),
    ("species", Column("species", KEY)),
    ("portion", Column("portion", KEY)),
    ("position", Column("position", WHOLE)),
    ("cut", Column("cut", KEY)),
    ("norm_percent", Column("norm_percent", NUMBER, None)),
)

_BODIES = form_of(
    "bodies",
    Body,
    ("key", Column("body", KEY)),
    ("species", Column("species", KEY)),
    ("portion", Column("portion", KEY)),
    ("supplier", Column("supplier", KEY, "")),
    ("supplier_ref", Column("supplier_ref", WORDS, "")),
    ("killed_on", Column("killed_on", DAY, None)),
    ("received_at", Column("received_at", MOMENT)),
    ("docket_g", Column("docket_kg", KG, None)),
    ("received_g", Column("received_kg", KG)),
    ("price", Column("price_per_kg", MONEY)),
    ("priced_on", Column("priced_on", choice(PricedOn), PricedOn.RECEIVED)),
    ("other_cost", Column("other_cost", MONEY, 0)),
)

_REWEIGHS = form_of(
    "reweighs",
    Reweigh,
    ("body", Column("body", KEY)),
    ("at", Column("weighed_at", MOMENT)),
    ("grams", Column("kg", KG)),
)

_STAGES = form_of(
    "stages",
    Stage,
    ("key", Column("stage", KEY)),
    ("kind", Column("kind", choice(StageKind))),
    ("started_at", Column("started_at", MOMENT)),
    ("finished_at", Column("finished_at", MOMENT, None)),
    ("person", Column("person", WORDS, "")),
    ("minutes", Column("minutes", NUMBER, Decimal(0))),
    ("list", Column("list", KEY, "")),
)


def _make_input(values: Sequence[Any]) -> Input:
    stage, body, piece, ingredient, grams, cost = values
    named = [
        (source, key)
        for source, key in zip(Source, (body, piece, ingredient), strict=True)
        if key is not None
    ]
    if not named:
        raise RowFault("body", "nothing is named, expected one of body, piece and ingredient")
    if len(named) > 1:
        names = " and ".join(source.value for source, _ in named)
        raise RowFault(named[1][0].value, f"{names} are both named, expected only one of them")
    [(source, key)] = named
    if source is Source.INGREDIENT and cost is None:
        message = "nothing is given, expected what the ingredient cost; write 0 if it was free"
        raise RowFault("cost", message)
    return Input(stage, source, key, grams, cost or 0)


def _take_input(row: Input) -> Sequence[Any]:
    named = [row.key if row.source is source else None for source in Source]
    return [row.stage, *named, row.grams, row.cost if row.source is Source.INGREDIENT else None]


_INPUTS = Form(
    "inputs",
    (
        Column("stage", KEY),
        Column("body", KEY, None),
        Column("piece", KEY, None),
        Column("ingredient", KEY, None),
        Column("kg", KG, None),
        Column("cost", MONEY, None),
    ),
    _make_input,
    _take_input,
)

_PIECES = Form(
    "pieces",
    (
        Column("piece", KEY),
        Column("stage", KEY),
        Column("cut", KEY),
        Column("gross_kg", KG),
        Column("tare_kg", KG, 0),
        Column("weighed_at", MOMENT),
        Column("person", WORDS, ""),
        Column("station", WORDS, ""),
    ),
    Piece._make,
    tuple,
)

_VOIDS = form_of(
    "voids",
    Void,
    ("piece", Column("piece", KEY)),
    ("at", Column("voided_at", MOMENT)),
    ("person", Column("person", WORDS, "")),
    ("reason", Column("reason", WORDS, "")),
)

_PRICES = form_of(
    "prices",
    PriceChange,
    ("cut", Column("cut", KEY)),
    ("price", Column("price_per_kg", MONEY)),
    ("since", Column("from", SINCE)),
    ("reason", Column("reason", WORDS, "")),
)

_WRITEOFFS = form_of(
    "writeoffs",
    WriteOff,
    ("piece", Column("piece", KEY)),
    ("grams", Column("kg", KG)),
    ("at", Column("written_off_at", MOMENT)),
    ("reason", Column("reason", WORDS, "")),
)

FORMS: dict[str, Form] = {
    form.table: form
    for form in (
        _SUPPLIERS,
        _CUTS,
        _LISTS,
        _BODIES,
        _REWEIGHS,
        _STAGES,
        _PIECES,
        _INPUTS,
        _VOIDS,
        _PRICES,
        _WRITEOFFS,
    )
}
"""Every file by its table, in the order in which they are read, refused and written."""

SHOP_FILE = "shop.toml"

FILES = (SHOP_FILE, *(form.file for form in FORMS.values()))
