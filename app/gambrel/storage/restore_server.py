"""Restoring a book on a PostgreSQL server: all tables emptied and filled in one transaction."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from sqlalchemy import text
from sqlalchemy.engine import Connection

from gambrel.domain.refusals import Refusal
from gambrel.storage.backup import write_whole
from gambrel.storage.carry import carry
from gambrel.storage.contents import STILL, contents_of, rows_beyond
from gambrel.storage.copy import Unsound, flush, give_name, new_part
from gambrel.storage.engine import for_writing, sqlite_engine
from gambrel.storage.guards import GUARDED, drop_guards, restore_guards
from gambrel.storage.place import ServerPlace
from gambrel.storage.restore import Restored, Standing, fetched, kept_beside
from gambrel.storage.server import open_server
from gambrel.storage.tables import metadata

_OTHERS = text(
    "SELECT count(*) FROM pg_stat_activity WHERE datname = current_database() "
    "AND application_name = 'gambrel' AND pid <> pg_backend_pid()"
)


def restore_server(place: ServerPlace, backup: Path, now: datetime, folder: Path) -> Restored:
    """Put a backup in the place of a book on a server; see `restore_book`."""
    kept = kept_beside(folder, place.url.database or "book", now)
    with fetched(backup, kept) as part:
        engine = open_server(place, create=True, read_only=False)
        try:
            with for_writing(engine).begin() as connection:
                return _over(place, connection, part, kept)
        finally:
            engine.dispose()


def _over(place: ServerPlace, connection: Connection, part: Path, kept: Path) -> Restored:
    _hold(place, connection)
    with new_part(kept) as old:
        try:
            write_whole(place, connection, old)
        except Unsound as unsound:
            raise Refusal(
                f"The book {place} cannot be kept before it is replaced: {unsound}. "
                "Nothing was changed; look at it with gambrel check."
            ) from unsound
        new, found = contents_of(part), contents_of(old)
        standing = Standing(found, rows_beyond(old, part))
        if found.empty:
            _fill(connection, part)
            return Restored(new, None, None)
        if not give_name(old, kept):
            raise Refusal(f"{kept} is there already. Wait a second, and do this again.")
        flush(kept.parent)
        _fill(connection, part)
    return Restored(new, standing, kept)


def _hold(place: ServerPlace, connection: Connection) -> None:
    """Have the book alone until the transaction ends."""
    others = connection.execute(_OTHERS).scalar()
    if others:
        raise Refusal(
            f"The book {place} is open at another station. Close the windows there, then do this "
            "again; nothing was changed."
        )
    names = ", ".join(table.name for table in metadata.sorted_tables)
    connection.exec_driver_sql(f"LOCK TABLE {names} IN ACCESS EXCLUSIVE MODE")


def _fill(connection: Connection, part: Path) -> None:
    """Empty every table and fill it from a file, guards off for as long as that takes."""
    names = ", ".join(table.name for table in metadata.sorted_tables)
    drop_guards(connection, *GUARDED)
    connection.exec_driver_sql(f"TRUNCATE {names}")
    engine = sqlite_engine(part, STILL)
    try:
        with engine.connect() as source:
            carry(source, connection)
    except Unsound as unsound:
        raise Refusal(
            f"The server did not keep what was written: {unsound}. The book is as it was; ask "
            "whoever keeps the server."
        ) from unsound
    finally:
        engine.dispose()
    restore_guards(connection, *GUARDED)
