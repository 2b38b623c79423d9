"""A real PostgreSQL server for tests: our own cluster in a temporary folder, on a Unix socket."""

from __future__ import annotations

import itertools
import os
import pwd
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import quote

USER = "tester"


def missing_server() -> str:
    """Say why no server can be started here; nothing when one can."""
    if programs() is None:
        return (
            "PostgreSQL's server is not installed. On Debian or Ubuntu: "
            "apt-get install -y --no-install-recommends postgresql"
        )
    if os.geteuid() == 0 and not has_user("postgres"):
        return "PostgreSQL refuses to run as root, and there is no user `postgres` to run it as."
    return ""


def programs() -> Path | None:
    """Return the folder of initdb and pg_ctl, of the newest version; Debian keeps it off PATH."""
    debian = [path.parent for path in Path("/usr/lib/postgresql").glob("*/bin/initdb")]
    if debian:
        return max(debian, key=lambda folder: int(folder.parent.name))
    found = shutil.which("initdb")
    return Path(found).resolve().parent if found else None


def has_user(name: str) -> bool:
    """Whether the system has a user of this name."""
    try:
        pwd.getpwnam(name)
    except KeyError:
        return False
    return True


@dataclass
class Cluster:
    """A running server.

    Attributes:
        folder: Holds the data and the socket; short, since a socket's path ends at 107 bytes.
    """

    folder: Path
    numbers: Iterator[int] = field(default_factory=lambda: itertools.count(1))

    @classmethod
    @contextmanager
    def running(cls) -> Iterator[Cluster]:
        """Make a cluster, start it, and take all of it away afterwards."""
        bin_folder = programs()
        assert bin_folder is not None, missing_server()
        folder = Path(tempfile.mkdtemp(prefix="pg-"))
        try:
            if os.geteuid() == 0:
                shutil.chown(folder, "postgres", "postgres")
            data = folder / "data"
            trust = ("--auth=trust", "--encoding=UTF8", "--locale=C.UTF-8", "--no-sync")
            run(bin_folder / "initdb", "-D", data, "-U", USER, *trust)
            # Not durable, and unreachable from outside: the data lives for one run of the tests.
            options = f"-c listen_addresses='' -k {folder} -c fsync=off -c full_page_writes=off"
            control = (bin_folder / "pg_ctl", "-D", data, "-w")
            run(*control, "-l", folder / "log", "-o", options, "start")
            try:
                yield cls(folder)
            finally:
                run(*control, "-m", "immediate", "stop")
        finally:
            shutil.rmtree(folder, ignore_errors=True)

    def url(self, database: str) -> str:
        """Return the SQLAlchemy URL of a database of this server."""
        return f"postgresql+psycopg://{USER}@/{database}?host={quote(str(self.folder), safe='')}"

    @contextmanager
    def fresh_database(self, template: str = "template1") -> Iterator[str]:
        """Make a database, yield its SQLAlchemy URL, and drop it whoever is still connected."""
        name = f"book_{next(self.numbers)}"
        self.execute(f"CREATE DATABASE {name} TEMPLATE {template}")
        try:
            yield self.url(name)
        finally:
            self.execute(f"DROP DATABASE {name} WITH (FORCE)")

    def execute(self, statement: str) -> None:
        """Run one statement for the whole server."""
        import psycopg

        with psycopg.connect(
            host=str(self.folder), user=USER, dbname="postgres", autocommit=True
        ) as connection:
            connection.execute(statement.encode())


def run(*command: object) -> None:
    """Run one of the server's programs, as a user that it accepts and with no pipe to hold open."""
    as_user = ["runuser", "-u", "postgres", "--"] if os.geteuid() == 0 else []
    surroundings = {name: value for name, value in os.environ.items() if not name.startswith("PG")}
    with tempfile.TemporaryFile("w+") as said:
        done = subprocess.run(
            [*as_user, *map(str, command)],
            check=False,
            cwd="/",  # readable by the other user
            env={**surroundings, "LC_ALL": "C.UTF-8"},
            stdin=subprocess.DEVNULL,
            stdout=said,
            stderr=said,
        )
        said.seek(0)
        assert done.returncode == 0, f"{command[0]} failed: {said.read()}"
