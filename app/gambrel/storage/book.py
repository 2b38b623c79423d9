"""The book of one shop: the door that services come in by."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING

from sqlalchemy.engine import Engine

from gambrel.domain.refusals import Refusal
from gambrel.storage.engine import for_reading, for_writing
from gambrel.storage.faults import refusing
from gambrel.storage.files import open_file
from gambrel.storage.place import FilePlace, Place, read_place, require_local
from gambrel.storage.server import open_server
from gambrel.storage.work import Work

if TYPE_CHECKING:
    from gambrel.storage.contents import Contents
    from gambrel.storage.facts import Facts
    from gambrel.storage.restore import Restored, Standing


class Book:
    """An open book. It may be used from several threads; each transaction belongs to one."""

    def __init__(self, place: Place, engine: Engine, *, read_only: bool) -> None:
        self._place = place
        self._read_only = read_only
        self._engine = engine
        self._reader = for_reading(engine)
        self._writer = for_writing(engine)

    @property
    def where(self) -> str:
        """The book's path, or its address without the password."""
        return str(self._place)

    @property
    def read_only(self) -> bool:
        """Whether it was opened for reading only."""
        return self._read_only

    @contextmanager
    def transaction(self) -> Iterator[Work]:
        """One write transaction: all of it is on the disk at the end, or after an exception none.

        One writer at a time; another waits for up to five seconds.

        Raises:
            Refusal: The book was opened for reading, or the world is in the way.
        """
        if self._read_only:
            raise Refusal(f"The book {self.where} was opened for reading only; nothing is changed.")
        with refusing(self._place), self._writer.begin() as connection:
            yield Work(connection)

    @contextmanager
    def reading(self) -> Iterator[Work]:
        """One look at the book as it is at a single moment, whoever writes meanwhile.

        Raises:
            Refusal: The world is in the way.
        """
        with refusing(self._place), self._reader.connect() as connection:
            yield Work(connection)

    def check(self) -> list[str]:
        """What is wrong with the book, one sentence each; empty when it is sound."""
        from gambrel.storage.integrity import faults_of

        with refusing(self._place), self._reader.connect() as connection:
            return [*self._faults_of_a_copy(), *faults_of(connection)]

    def _faults_of_a_copy(self) -> list[str]:
        """What only the seal of a copy knows: SQLite sees nothing wrong in another digit."""
        from gambrel.storage.seal import seal_is_broken

        if self.file is None or not seal_is_broken(self.file):
            return []
        return ["This copy is not what was written, or was changed since."]

    def facts(self) -> Facts:
        """Its size, and how much has been done in it."""
        from gambrel.storage.facts import facts_of

        with refusing(self._place), self._reader.connect() as connection:
            return facts_of(connection, self.file)

    def back_up(self, target: Path, *, replace: bool = False) -> Contents:
        """Write all of the book into one file that the program can open; others may go on writing.

        Args:
            target: The backup's file.
            replace: Also over an earlier backup of this book; over anything else never.
        Returns:
            What the backup holds.
        Raises:
            Refusal: It cannot be written there, or the book is not sound; what stood there stays.
        """
        from gambrel.storage.backup import back_up

        with refusing(self._place), self._reader.connect() as connection:
            return back_up(self._place, connection, target, replace=replace)

    def look_at_backup(self, backup: Path) -> tuple[Contents, Standing]:
        """What a backup holds, and what this book holds beyond it.

        Raises:
            Refusal: The backup cannot be used.
        """
        from gambrel.storage.restore import look_at

        with refusing(self._place), self._reader.connect() as connection:
            return look_at(self._place, connection, backup)

    def go_back(self, backup: Path, now: datetime, folder: Path) -> Restored:
        """Put a backup in the place of this book, which stays open and holds it from then on.

        Args:
            backup: The backup's file.
            now: Dates the name under which the book of now is kept.
            folder: Where that is for a book on a server.
        Raises:
            Refusal: It cannot be done, or anybody else has the book open; all is as it was.
        """
        from gambrel.storage.restore import restore_place

        if self._read_only:
            raise Refusal(f"The book {self.where} was opened for reading only; nothing is changed.")
        self.close()  # its own connections would be in the way; new ones are made when needed
        return restore_place(self._place, backup, now, folder)

    @property
    def file(self) -> Path | None:
        """The book's file; None where it is on a server."""
        return self._place.path if isinstance(self._place, FilePlace) else None

    def close(self) -> None:
        """Let the book go; what was written stays."""
        self._engine.dispose()

    def __enter__(self) -> Book:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()


def open_book(where: str, *, create: bool = True, read_only: bool = False) -> Book:
    """Open a book, making it if it is missing and bringing it up to date if it is old.

    Args:
        where: A path, or an address such as ``postgresql://user@server/database``.
        create: Make the book if there is none.
        read_only: Open for reading; nothing is made or brought up to date.
    Raises:
        Refusal: It cannot be opened, in a sentence that says why; what is there stays as it was.
    """
    place = read_place(where)
    with refusing(place):
        if isinstance(place, FilePlace):
            if not read_only:
                require_local(place)
            engine = open_file(place.path, create=create, read_only=read_only)
        else:
            engine = open_server(place, create=create, read_only=read_only)
    return Book(place, engine, read_only=read_only)
