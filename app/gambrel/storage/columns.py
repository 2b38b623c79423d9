"""What every table of the book is made of: columns, and the rules that one row keeps by itself.

Weights are grams, money minor units. Every CHECK has a name; every table is STRICT on SQLite.
"""

from __future__ import annotations

from sqlalchemy import CheckConstraint, Column, ForeignKey, MetaData, Table
from sqlalchemy.schema import SchemaItem

from gambrel.storage.types import Moment, Whole, Words

NAMING = {
    "pk": "pk_%(table_name)s",
    "fk": "fk_%(table_name)s_%(column_0_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
}
"""Every constraint has a name from the first day: SQLite cannot drop one that has none."""

metadata = MetaData(naming_convention=NAMING)

HEAVIEST_G = 10_000_000
DEAREST_MINOR = 10_000_000_000_000
_MOMENT = "____-__-__T__:__:__.______Z"


def check(name: str, rule: str) -> CheckConstraint:
    """A named CHECK."""
    return CheckConstraint(rule, name=name)


def money(*columns: str, least: int = -DEAREST_MINOR) -> list[CheckConstraint]:
    """Each column holds a sum that can be, at least ``least`` minor units."""
    return [check(f"{c}_sane", f"{c} BETWEEN {least} AND {DEAREST_MINOR}") for c in columns]


def weight(*columns: str, least: int = 1) -> list[CheckConstraint]:
    """Each column holds grams that can be."""
    return [check(f"{c}_sane", f"{c} BETWEEN {least} AND {HEAVIEST_G}") for c in columns]


def moment(*columns: str) -> list[CheckConstraint]:
    """Each column holds a moment as `Moment` writes it."""
    return [check(f"{c}_written", f"{c} LIKE '{_MOMENT}'") for c in columns]


def named(column: str) -> CheckConstraint:
    """A column that is never empty."""
    return check(f"{column}_given", f"{column} <> ''")


def one_of(column: str, *words: str) -> CheckConstraint:
    """A column that holds one of a few words."""
    return check(f"{column}_known", f"{column} IN ({', '.join(map(repr, words))})")


def table(name: str, *parts: SchemaItem | list[CheckConstraint]) -> Table:
    """A table of the book, STRICT on SQLite."""
    flat: list[SchemaItem] = []
    for part in parts:
        flat.extend(part if isinstance(part, list) else [part])
    return Table(name, metadata, *flat, sqlite_strict=True)


def key(name: str = "key") -> Column[str]:
    """The primary key, a short text."""
    return Column(name, Words, primary_key=True)


def words(name: str) -> Column[str]:
    """A text that is there, if only an empty one."""
    return Column(name, Words, nullable=False)


def whole(name: str, *, nullable: bool = False) -> Column[int]:
    """A whole number."""
    return Column(name, Whole, nullable=nullable)


def at(name: str, *, primary_key: bool = False) -> Column[object]:
    """A moment."""
    return Column(name, Moment, nullable=False, primary_key=primary_key)


def to(name: str, target: str, *, nullable: bool = False) -> Column[str]:
    """The key of a row of another table."""
    return Column(name, Words, ForeignKey(f"{target}.key"), nullable=nullable)
