"""A named table of plain values, as spreadsheets and programs read it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

Kind = Literal["text", "count", "kg", "money", "share", "date"]
Value = str | int | Decimal | date | None


@dataclass(frozen=True, slots=True)
class Field:
    """A column: the name programs read, the words people read, and what it holds.

    Values are whole grams for kg, minor units for money, parts of one for a share.
    """

    name: str
    title: str
    kind: Kind


@dataclass(frozen=True, slots=True)
class DataTable:
    """A named table of values."""

    name: str
    title: str
    fields: Sequence[Field]
    rows: Sequence[Sequence[Value]]
