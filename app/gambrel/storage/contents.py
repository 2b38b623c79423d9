"""What a book in a file holds, and what it holds that another does not."""

from __future__ import annotations

import sqlite3
from collections.abc import Mapping
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from gambrel.storage import around  # noqa: F401 - it fills the metadata
from gambrel.storage.copy import quoted, row_counts
from gambrel.storage.engine import sqlite_connect, sqlite_engine, sqlite_uri
from gambrel.storage.guards import GUARDED
from gambrel.storage.history import VERSION_TABLE
from gambrel.storage.integrity import faults_of
from gambrel.storage.tables import metadata
from gambrel.storage.types import Moment, read_moment

STILL = "ro&immutable=1"
"""How a file is read that nobody writes to: no lock, no companion."""

_ACTS = tuple(
    (name, column.name)
    for name in GUARDED
    for column in metadata.tables[name].c
    if isinstance(column.type, Moment) and column.name != "since"
)
"""Where the record says when something was done; ``since`` is no act, a price may begin later."""


@dataclass(frozen=True, slots=True)
class Contents:
    """The shop, how many rows each table has, and when something was last done.

    ``shop`` and its IANA ``time_zone`` are empty in a book without one, ``last_act`` None where
    nothing was done yet; ``size`` is the file's, in bytes.
    """

    shop: str
    time_zone: str
    rows: Mapping[str, int]
    last_act: datetime | None
    size: int

    @property
    def empty(self) -> bool:
        """Whether there is nothing in it, not even a shop; at most a station's own settings."""
        return not any(count for table, count in self.rows.items() if table != "setting")


def contents_of(path: Path) -> Contents:
    """What a book in a file holds that nobody writes to."""
    with closing(sqlite_connect(path, STILL)) as connection:
        counts = row_counts(connection)
        counts.pop(VERSION_TABLE, None)
        shop = connection.execute("SELECT name, time_zone FROM shop").fetchone()
        acts = [
            connection.execute(f"SELECT max({column}) FROM {table}").fetchone()[0]  # noqa: S608 - names of ours
            for table, column in _ACTS
            if table in counts
        ]
    last = max(filter(None, acts), default=None)
    return Contents(
        shop=shop[0] if shop else "",
        time_zone=shop[1] if shop else "",
        rows=counts,
        last_act=read_moment(last) if last else None,
        size=path.stat().st_size,
    )


def faults_in(path: Path) -> list[str]:
    """What is wrong with a book in a file that nobody writes to; see `Book.check`."""
    engine = sqlite_engine(path, STILL)
    try:
        with engine.connect() as connection:
            return faults_of(connection)
    finally:
        engine.dispose()


def rows_beyond(newer: Path, older: Path) -> dict[str, int]:
    """How many rows of the record one book has that another does not; tables with none left out.

    Only tables whose rows are never changed, by the columns that both know. Nobody may be writing
    to either.
    """
    with closing(sqlite3.connect(sqlite_uri(newer, STILL), uri=True)) as connection:
        connection.execute("ATTACH ? AS older", (sqlite_uri(older, STILL),))
        found = {table: _beyond(connection, table) for table in GUARDED}
    return {table: count for table, count in found.items() if count}


def _beyond(connection: sqlite3.Connection, table: str) -> int:
    here, there = (_columns(connection, schema, table) for schema in ("main", "older"))
    if not here:
        return 0
    both = ", ".join(quoted(name) for name in here if name in there)
    here_only = f"SELECT {both or '*'} FROM main.{table}"  # noqa: S608 - names of ours
    if both:
        here_only += f" EXCEPT SELECT {both} FROM older.{table}"  # noqa: S608
    return int(connection.execute(f"SELECT count(*) FROM ({here_only})").fetchone()[0])  # noqa: S608


def _columns(connection: sqlite3.Connection, schema: str, table: str) -> list[str]:
    rows = connection.execute(f"PRAGMA {schema}.table_info({table})").fetchall()
    return [row[1] for row in rows]
