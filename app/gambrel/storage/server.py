"""Opening a book on a PostgreSQL server. It is copied like any other (see `backup`)."""

from __future__ import annotations

from sqlalchemy import inspect
from sqlalchemy.engine import Engine

from gambrel.domain.refusals import Refusal
from gambrel.storage import history
from gambrel.storage.engine import for_reading, for_writing, postgres_engine
from gambrel.storage.place import ServerPlace


def open_server(place: ServerPlace, *, create: bool, read_only: bool) -> Engine:
    """The engine of the book in a database, whose tables are made if there are none at all.

    Raises:
        Refusal: The database holds something else, or a book that cannot be used.
    """
    engine = postgres_engine(place.url)
    try:
        if _is_behind(engine, place, create=create and not read_only):
            if read_only:
                raise Refusal(
                    f"The book {place} was made by an older version of this program and must be "
                    "brought up to date first: open it once for writing."
                )
            _bring_up(engine, place)
    except BaseException:
        engine.dispose()
        raise
    return engine


def _is_behind(engine: Engine, place: ServerPlace, *, create: bool) -> bool:
    with for_reading(engine).connect() as connection:
        found = history.revision_of(connection)
        present = set(inspect(connection).get_table_names())
        encoding = connection.exec_driver_sql("SHOW server_encoding").scalar()
    if found is not None and "stage_event" in present:
        return history.HISTORY.is_behind(found, place)
    if present:
        raise Refusal(
            f"The database {place} holds the tables of another program. "
            "Have an empty database made for the book."
        )
    if not create:
        raise Refusal(f"There is no book in {place}. Check the address, or make a new book.")
    if encoding != "UTF8":
        raise Refusal(
            f"The database {place} keeps its text as {encoding}. "
            "Have a database made with the encoding UTF8."
        )
    return True


def _bring_up(engine: Engine, place: ServerPlace) -> None:
    with for_writing(engine).begin() as connection:  # its lock lets one station migrate at a time
        found = history.revision_of(connection)
        if found is None or history.HISTORY.is_behind(found, place):
            history.HISTORY.upgrade(connection)
