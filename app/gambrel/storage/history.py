"""The book's revisions, and how a database is brought to the newest."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from sqlalchemy import inspect, text
from sqlalchemy.engine import Connection

from gambrel.domain.refusals import Refusal

VERSION_TABLE = "alembic_version"
SAID_REVISION = f"SELECT version_num FROM {VERSION_TABLE}"  # noqa: S608 - a constant of ours


@dataclass(frozen=True, slots=True)
class History:
    """Every revision that this program knows, oldest first, and the folder of their scripts.

    They are named here once more so that a book at the newest is opened without loading alembic,
    which takes a fifth of a second; a test holds the two together.
    """

    revisions: tuple[str, ...]
    scripts: Path

    @property
    def newest(self) -> str:
        """The revision that this program reads and writes."""
        return self.revisions[-1]

    def is_behind(self, revision: str, where: object) -> bool:
        """Whether a book of this revision must be brought up to date.

        Raises:
            Refusal: The revision is not known: a newer program made it.
        """
        if revision not in self.revisions:
            raise Refusal(
                f"The book {where} was made by a newer version of this program "
                f"(its revision is {revision}, the newest known here is {self.newest}). "
                "Update the program; the book is as it was."
            )
        return revision != self.newest

    def upgrade(self, connection: Connection) -> None:
        """Run the missing migrations inside the transaction that the connection is in."""
        from alembic import command
        from alembic.config import Config

        config = Config()
        config.set_main_option("script_location", str(self.scripts).replace("%", "%%"))
        config.attributes["connection"] = connection
        command.upgrade(config, "head")


HISTORY = History(("0001", "0002", "0003"), Path(__file__).parent / "migrations")


def revision_of(connection: Connection) -> str | None:
    """The revision that a database says it has; None where it says nothing."""
    if not inspect(connection).has_table(VERSION_TABLE):
        return None
    return connection.execute(text(SAID_REVISION)).scalar()
