"""What may be told of an open book at a glance: its size, and how much has been done in it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from sqlalchemy import func, select, text
from sqlalchemy.engine import Connection

from gambrel.storage.copy import beside
from gambrel.storage.tables import body, piece


@dataclass(frozen=True, slots=True)
class Facts:
    """Bytes on the disk, how many bodies came in and pieces were weighed, and since when.

    ``since`` is when the first body came in; None where none did. Pieces that were taken back
    count, since they stay in the record.
    """

    size: int
    bodies: int
    pieces: int
    since: datetime | None


def facts_of(connection: Connection, file: Path | None) -> Facts:
    """Look at a book; ``file`` is its file, None on a server."""
    bodies, since = connection.execute(
        select(func.count(), func.min(body.c.received_at)).select_from(body)
    ).one()
    pieces = connection.execute(select(func.count()).select_from(piece)).scalar_one()
    if file is None:
        size = connection.execute(text("SELECT pg_database_size(current_database())")).scalar_one()
    else:
        size = sum(each.stat().st_size for each in (file, beside(file, "-wal")) if each.exists())
    return Facts(size, bodies, pieces, since)
