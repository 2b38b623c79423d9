"""Carrying all rows of a book from one kind of database to the other, and proving them equal."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from itertools import islice, zip_longest
from pathlib import Path

from sqlalchemy import RowMapping, Table, insert, select
from sqlalchemy.engine import Connection

from gambrel.storage import around  # noqa: F401 - it fills the metadata
from gambrel.storage.copy import Unsound
from gambrel.storage.engine import sqlite_migration_engine
from gambrel.storage.files import make_book
from gambrel.storage.tables import metadata

AT_ONCE = 2000
"""So many rows are in memory at a time."""


def carry(source: Connection, target: Connection) -> None:
    """Insert every row of a book into one of the same version that has no rows, and compare them.

    Both transactions are the caller's; the source must see one moment throughout.

    Raises:
        Unsound: A table does not read back the same.
    """
    for table in metadata.sorted_tables:  # what is named comes before what names it
        with _rows(source, table) as rows:
            while part := list(islice(rows, AT_ONCE)):
                target.execute(insert(table), [dict(row) for row in part])
    for table in metadata.sorted_tables:
        if not same_rows(source, target, table):
            raise Unsound(f"the rows of {table.name} do not read back the same")


def same_rows(one: Connection, other: Connection, table: Table) -> bool:
    """Whether both have the same rows in a table, value by value."""
    with _rows(one, table) as here, _rows(other, table) as there:
        return all(a == b for a, b in zip_longest(here, there))


@contextmanager
def _rows(connection: Connection, table: Table) -> Iterator[Iterator[RowMapping]]:
    """All rows in the order of their keys, which is the same on both databases."""
    query = select(table).order_by(*table.primary_key)
    with connection.execute(query, execution_options={"yield_per": AT_ONCE}) as found:
        yield iter(found.mappings())


def carry_to_file(source: Connection, path: Path) -> None:
    """Make a new book in a file of what a connection to a server sees.

    Raises:
        Refusal: The file cannot be made.
        Unsound: It does not read back the same.
    """
    make_book(path)
    engine = sqlite_migration_engine(path)
    with engine.begin() as target:
        carry(source, target)
