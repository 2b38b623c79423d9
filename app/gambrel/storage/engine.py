"""Connections: everything that is set on one, with its reason, in one place."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable
from pathlib import Path

from sqlalchemy import NullPool, Pool, QueuePool, create_engine, event
from sqlalchemy.engine import URL, Connection, Engine
from sqlalchemy.engine.interfaces import DBAPIConnection

BUSY_MS = 5000
"""How long a writer waits for another one before it says that the book is busy."""

WRITES = "gambrel_writes"
"""The execution option of an engine whose transactions write."""

_WRITE_LOCK = 0x67616D6272656C
"""One advisory lock in a PostgreSQL database: one writer at a time, as on SQLite. So what a write
transaction read stays true until it commits, without a retry anywhere."""


def sqlite_uri(path: Path, mode: str) -> str:
    """The address of a file for SQLite; ``mode`` is ro, rw, rwc, or ro&immutable=1."""
    return f"{path.absolute().as_uri()}?mode={mode}"


def sqlite_private(path: Path) -> sqlite3.Connection:
    """Open a file that nobody else knows of, which may lie on any drive.

    No locks are asked for: a network drive may have none that work.
    """
    alone = "&vfs=unix-none" if os.name == "posix" else ""
    connection = sqlite3.connect(
        f"{sqlite_uri(path, 'rwc')}{alone}", uri=True, isolation_level=None
    )
    connection.execute("PRAGMA locking_mode = EXCLUSIVE").close()
    return connection


def sqlite_connect(path: Path, mode: str) -> sqlite3.Connection:
    """Open a file, which must be there, with no hidden transactions of the driver's own."""
    return sqlite3.connect(
        sqlite_uri(path, mode),
        uri=True,
        isolation_level=None,
        timeout=BUSY_MS / 1000,
        check_same_thread=False,  # the pool hands a connection to one thread at a time
    )


def sqlite_engine(path: Path, mode: str = "rw") -> Engine:
    """The engine of a book in a file; ``mode`` as in `sqlite_uri`."""

    def connect() -> sqlite3.Connection:
        connection = sqlite_connect(path, mode)
        try:
            _set_pragmas(connection, writes=mode == "rw")
        except BaseException:
            connection.close()
            raise
        return connection

    return _sqlite(connect, QueuePool)


def sqlite_migration_engine(path: Path) -> Engine:
    """An engine for changing tables: foreign keys off, or a rebuilt parent empties its children.

    The journal mode is left as the file has it.
    """

    def connect() -> sqlite3.Connection:
        connection = sqlite_connect(path, "rw")
        connection.execute("PRAGMA foreign_keys = OFF")
        connection.execute("PRAGMA synchronous = FULL")
        return connection

    engine = _sqlite(connect, NullPool)
    return engine.execution_options(**{WRITES: True})


def _sqlite(connect: Callable[[], sqlite3.Connection], pool: type[Pool]) -> Engine:
    engine = create_engine("sqlite://", creator=connect, poolclass=pool)
    event.listen(engine, "begin", _begin_sqlite)
    return engine


def _set_pragmas(connection: sqlite3.Connection, *, writes: bool) -> None:
    pragmas = ["foreign_keys = ON"]
    if writes:
        pragmas += [
            "journal_mode = WAL",  # readers and the writer do not wait for each other
            "synchronous = FULL",  # a weigh-in is on the disk before the screen says so
            "recursive_triggers = ON",  # else REPLACE would delete behind the guard's back
        ]
    else:
        pragmas += ["query_only = ON"]
    for pragma in pragmas:
        connection.execute(f"PRAGMA {pragma}").close()


def _begin_sqlite(connection: Connection) -> None:
    """Begin by ourselves: the driver would begin at the first write, after what was read."""
    writes = connection.get_execution_options().get(WRITES)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


def postgres_engine(url: URL) -> Engine:
    """The engine of a book on a server."""
    engine = create_engine(
        url,
        pool_pre_ping=True,  # a station that slept over night finds its connection gone
        connect_args={"connect_timeout": BUSY_MS // 1000, "application_name": "gambrel"},
    )
    event.listen(engine, "connect", _set_timeouts)
    event.listen(engine, "begin", _begin_postgres)
    return engine


def _set_timeouts(connection: DBAPIConnection, _record: object) -> None:
    with connection.cursor() as cursor:  # type: ignore[attr-defined]  # the protocol is thin
        cursor.execute(f"SET lock_timeout = {BUSY_MS}")
    connection.commit()


def _begin_postgres(connection: Connection) -> None:
    if connection.get_execution_options().get(WRITES):
        connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({_WRITE_LOCK})")


def for_reading(engine: Engine) -> Engine:
    """The same connections, for one consistent look."""
    if engine.dialect.name == "postgresql":
        return engine.execution_options(isolation_level="REPEATABLE READ", postgresql_readonly=True)
    return engine


def for_writing(engine: Engine) -> Engine:
    """The same connections, for one writer at a time.

    READ COMMITTED on PostgreSQL is meant: the lock is had by the first statement, and each later
    one must see what the writer before us committed.
    """
    if engine.dialect.name == "postgresql":
        return engine.execution_options(isolation_level="READ COMMITTED", **{WRITES: True})
    return engine.execution_options(**{WRITES: True})
