"""Where a book is: a file, or a database of a PostgreSQL server."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

from sqlalchemy.engine import URL, make_url
from sqlalchemy.exc import ArgumentError

from gambrel.domain.refusals import Refusal
from gambrel.storage.mounts import mounts_now, network_mount


@dataclass(frozen=True, slots=True)
class FilePlace:
    """A book in one SQLite file."""

    path: Path

    def __str__(self) -> str:
        return str(self.path)


@dataclass(frozen=True, slots=True)
class ServerPlace:
    """A book on a PostgreSQL server."""

    url: URL

    def __str__(self) -> str:
        """The address without its password."""
        shown = self.url.set(drivername="postgresql")
        return shown.render_as_string(hide_password=True)


Place = FilePlace | ServerPlace


def require_local(place: FilePlace, mounts: str | None = None) -> None:
    """Refuse to write a book on a network drive, where another computer could damage it.

    Args:
        place: A book in a file, which need not be there yet.
        mounts: What is mounted where, as `network_mount` has it; None for this computer's.
    Raises:
        Refusal: It lies on one.
    """
    real = real_path(place.path)
    mount = network_mount(real, mounts_now() if mounts is None else mounts)
    if mount is not None:
        raise Refusal(
            f"The book {place} lies on a network drive ({mount.kind} at {mount.at}), where a book "
            "in a file can be damaged. Keep it on a disk of this computer, or keep the book of "
            "several stations on a PostgreSQL server."
        )


def real_path(path: Path) -> Path:
    """Where a path leads to; a link that leads to itself stays, for the system to refuse."""
    return Path(os.path.realpath(path))  # `Path.resolve` ends the program there on Python 3.11


def read_place(where: str) -> Place:
    """Read a path, a ``sqlite:///`` or a ``postgresql://`` address.

    Raises:
        Refusal: Neither.
    """
    if "\x00" in where or not where.strip():
        raise Refusal("A book needs the path of a file, such as shop.gambrel, or an address.")
    if "://" not in where:
        return _file(where, where)
    try:
        url = make_url(where)
    except (ArgumentError, ValueError):
        raise Refusal(_unreadable(_without_password(where))) from None
    scheme = url.get_backend_name()
    if scheme == "sqlite":
        return _file(url.database or "", where)
    if scheme in ("postgresql", "postgres"):
        if not url.database:
            raise Refusal(f"The address {ServerPlace(url)} names no database; add it at the end.")
        return ServerPlace(url.set(drivername="postgresql+psycopg"))
    raise Refusal(_unreadable(_without_password(where)))


def _file(path: str, where: str) -> FilePlace:
    if not path or path == ":memory:":
        raise Refusal(
            f"{where} is not a file, and a book that is gone tomorrow is none; "
            "give the path of a file, such as shop.gambrel."
        )
    return FilePlace(Path(path).absolute())


def _without_password(where: str) -> str:
    scheme, _, rest = where.partition("://")
    return f"{scheme}://{rest.rpartition('@')[2]}"


def _unreadable(where: str) -> str:
    return (
        f"{where} is not the address of a book; "
        "expected a path, or postgresql://user@server/database."
    )
