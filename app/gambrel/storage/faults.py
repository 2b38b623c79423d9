"""Which database errors are the world's fault, and what to say of them.

A full disk, a busy book, a lost server become a `Refusal` for the person in front of the screen. A
broken rule (CHECK, foreign key, a wrong type) is our own bug and stays the exception that it was.
"""

from __future__ import annotations

import sqlite3
import sys
from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy.exc import DBAPIError
from sqlalchemy.exc import TimeoutError as PoolTimeout

from gambrel.domain.refusals import Refusal

_SQLITE = {
    sqlite3.SQLITE_BUSY: "is busy: another program has been writing to it for five seconds. "
    "Close that program or wait for it, and do this again.",
    sqlite3.SQLITE_LOCKED: "is busy with another act of this program. Do this again.",
    sqlite3.SQLITE_PERM: "may not be opened by you. Ask for access to the file and its folder.",
    sqlite3.SQLITE_READONLY: "may not be written to. Ask for write access to the file and its "
    "folder, or open it for reading only.",
    sqlite3.SQLITE_IOERR: "could not be read or written: the disk reported an error. "
    "Check the disk and its free space, then do this again.",
    sqlite3.SQLITE_CORRUPT: "is damaged. Keep the file as it is, and go back to the last backup.",
    sqlite3.SQLITE_FULL: "could not be written: the disk is full. Nothing of this act was kept. "
    "Free some space, then do it again.",
    sqlite3.SQLITE_CANTOPEN: "cannot be opened. Check that its folder is there and may be "
    "written to.",
    sqlite3.SQLITE_PROTOCOL: "is busy: too many programs opened it at once. Do this again.",
    sqlite3.SQLITE_NOTADB: "is not a book: the file is damaged or of another kind. "
    "Choose another file, or go back to the last backup.",
}

_LOST = "could not be reached: the server does not answer. Check the network and the server, then \
do this again."

_POSTGRES = {
    "08": _LOST,
    "57": "could not be reached: the server is shutting down or starting. Wait and do this again.",
    "28": "could not be opened: the server does not accept this user or password. "
    "Correct the address of the book.",
    "3D": "does not exist on the server. Have the database made, or correct the address.",
    "53": "could not be written: the server has no room or no connection left. "
    "Nothing of this act was kept. Ask whoever keeps the server.",
    "58": "could not be read or written: the server's disk reported an error. "
    "Ask whoever keeps the server.",
    "40": "was being changed by another station at the same moment. Do this again.",
    "55P03": "is busy: another station has been writing to it for five seconds. Do this again.",
    "25006": "may not be written to: the server allows reading only.",
    "42501": "may not be used so by this user. Ask whoever keeps the server for the right to "
    "make and change tables in this database.",
    "XX001": "is damaged. Ask whoever keeps the server for the last backup.",
    "XX002": "is damaged. Ask whoever keeps the server for the last backup.",
}

_UNIQUE = {"SQLITE_CONSTRAINT_PRIMARYKEY", "SQLITE_CONSTRAINT_UNIQUE", "23505"}


@contextmanager
def refusing(where: object) -> Iterator[None]:
    """Turn what the world did to a database into a `Refusal`; let every bug pass."""
    try:
        yield
    except _database_errors() as error:
        said = explain(error)
        if said is None:
            raise
        raise Refusal(f"The book {where} {said}") from error


def _database_errors() -> tuple[type[Exception], ...]:
    """What to catch; psycopg's own only where it is in use, since loading it takes its time."""
    errors: tuple[type[Exception], ...] = (DBAPIError, PoolTimeout, sqlite3.Error)
    driver = sys.modules.get("psycopg")
    return (*errors, driver.Error) if driver else errors


def explain(error: Exception) -> str | None:
    """The rest of a sentence that begins with the book's name; None where the fault is ours."""
    if isinstance(error, PoolTimeout):
        return "is busy: too much is being read at once. Do this again."
    cause = error.orig if isinstance(error, DBAPIError) else error
    if isinstance(cause, sqlite3.Error):
        return _of_sqlite(cause)
    state: str | None = getattr(cause, "sqlstate", None)
    if state in _UNIQUE:
        return _taken(cause)
    if state is None:
        # The driver had no answer from a server: there is none, or it went away.
        lost = type(cause).__name__ == "OperationalError"
        return _unreachable(str(cause)) if lost else None
    return _POSTGRES.get(state) or _POSTGRES.get(state[:2])


def _of_sqlite(error: sqlite3.Error) -> str | None:
    name = getattr(error, "sqlite_errorname", "")
    if name in _UNIQUE:
        return _taken(error)
    return _SQLITE.get(getattr(error, "sqlite_errorcode", 0) & 0xFF)


def _taken(error: BaseException | None) -> str:
    return (
        f"already holds such a row ({_first_line(error)}). "
        "Nothing of this act was kept; give the new row a key of its own."
    )


def _unreachable(message: str) -> str:
    """What the driver says before there is a server to give a code."""
    low = message.lower()
    if "password" in low or "authentication" in low or "role" in low:
        return _POSTGRES["28"]
    if "database" in low and "does not exist" in low:
        return _POSTGRES["3D"]
    return _LOST


def _first_line(error: object) -> str:
    return (str(error).splitlines() or [""])[0]
