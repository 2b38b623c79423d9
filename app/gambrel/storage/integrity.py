"""Is the book sound? Pages, foreign keys, guards, strictness, tables and revision."""

from __future__ import annotations

from collections.abc import Iterator

from sqlalchemy import inspect, text
from sqlalchemy.engine import Connection

from gambrel.storage.guards import GUARDED, trigger_names
from gambrel.storage.history import HISTORY, revision_of
from gambrel.storage.tables import metadata


def faults_of(connection: Connection) -> list[str]:
    """Sentences of what is wrong; none when the book is sound."""
    return [*_revision(connection), *_tables(connection), *_guards(connection), *_own(connection)]


def _revision(connection: Connection) -> Iterator[str]:
    found = revision_of(connection)
    if found != HISTORY.newest:
        yield f"The book says that its revision is {found}, and {HISTORY.newest} was expected."


def _tables(connection: Connection) -> Iterator[str]:
    look = inspect(connection)
    there = set(look.get_table_names())
    for table in metadata.sorted_tables:
        if table.name not in there:
            yield f"The table {table.name} is missing."
            continue
        missing = set(table.c.keys()) - {column["name"] for column in look.get_columns(table.name)}
        for name in sorted(missing):
            yield f"The column {name} of the table {table.name} is missing."
        indexes = {index["name"] for index in look.get_indexes(table.name)}
        for index in sorted({str(index.name) for index in table.indexes} - indexes):
            yield f"The index {index} of the table {table.name} is missing."


def _guards(connection: Connection) -> Iterator[str]:
    dialect = connection.dialect.name
    there = set(connection.execute(text(_TRIGGERS[dialect])).scalars())
    for table in GUARDED:
        if not there.issuperset(trigger_names(table, dialect)):
            yield f"The guard of the table {table} is missing: its rows could be changed."


_TRIGGERS = {
    "sqlite": "SELECT name FROM sqlite_master WHERE type = 'trigger'",
    "postgresql": "SELECT tgname FROM pg_trigger JOIN pg_class ON pg_class.oid = tgrelid "
    "WHERE relnamespace = current_schema()::regnamespace AND tgenabled IN ('O', 'A')",
}


def _own(connection: Connection) -> Iterator[str]:
    if connection.dialect.name == "sqlite":
        yield from _sqlite(connection)
    else:
        yield from _postgres(connection)


def _sqlite(connection: Connection) -> Iterator[str]:
    for (said,) in connection.exec_driver_sql("PRAGMA integrity_check"):
        if said != "ok":
            yield f"The file is damaged: {said}."
    for table, row, target, _ in connection.exec_driver_sql("PRAGMA foreign_key_check"):
        yield f"Row {row} of the table {table} names a row of {target} that is not there."
    listed = connection.exec_driver_sql("PRAGMA table_list").mappings().all()
    strict = {row["name"] for row in listed if row["strict"]}
    there = {row["name"] for row in listed}
    for name in sorted((set(metadata.tables) & there) - strict):
        yield f"The table {name} takes values of any type (it is not STRICT)."


def _postgres(connection: Connection) -> Iterator[str]:
    """A server keeps every constraint that it has; what can be is one that was never checked."""
    loose = text(
        "SELECT conrelid::regclass::text, conname FROM pg_constraint "
        "WHERE connamespace = current_schema()::regnamespace AND NOT convalidated ORDER BY 1, 2"
    )
    for table, name in connection.execute(loose):
        yield f"The rule {name} of the table {table} was not checked for all rows."
