"""What every test stands on: no window on a real screen, no network, no book of the user's own."""

from __future__ import annotations

import os
import shutil
import socket
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from tests.postgres import Cluster, missing_server

# Before Qt loads: with no display it would end the whole run.
os.environ["QT_QPA_PLATFORM"] = "offscreen"
# A desktop's own theme would change colours and sizes.
for _name in ("QT_STYLE_OVERRIDE", "QT_QPA_PLATFORMTHEME"):
    os.environ.pop(_name, None)

CHECKING = any(os.environ.get(name) for name in ("GAMBREL_CHECK", "CI"))

# At the desk examples are new each time and failures are remembered. The check repeats the same
# ones, so that it gives two people the same answer; `--long` looks much further.
settings.register_profile("desk", deadline=None)
settings.register_profile(
    "check",
    deadline=None,
    max_examples=60,  # the check ends within a quarter of an hour; `--long` looks at 2000
    derandomize=True,
    database=None,
    print_blob=True,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile("long", deadline=None, max_examples=2_000, print_blob=True)
settings.load_profile(os.environ.get("GAMBREL_HYPOTHESIS") or ("check" if CHECKING else "desk"))


class NetworkRefused(Exception):
    """A test reached for the network."""


@pytest.fixture(scope="session", autouse=True)
def _no_network() -> Iterator[None]:
    """Refuse every connection but those inside the machine's own kernel."""
    connect = socket.socket.connect

    def guarded(self: socket.socket, address: object) -> None:
        if self.family in (socket.AF_INET, socket.AF_INET6):
            raise NetworkRefused(f"Tests use no network, and this one asked for {address!r}.")
        connect(self, address)  # type: ignore[arg-type]  # whatever the caller gave

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(socket.socket, "connect", guarded)
        yield


@pytest.fixture(scope="session")
def demo_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo shop in a book that is closed, loaded once a run: for tests to copy."""
    from tests.demo_book import load_demo

    return load_demo(tmp_path_factory.mktemp("demo") / "demo.gambrel")


@pytest.fixture(scope="session")
def empty_book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book as the program makes it, closed, and without anything in it."""
    from gambrel.storage.files import make_book

    path = tmp_path_factory.mktemp("empty") / "book.gambrel"
    make_book(path)
    return path


@pytest.fixture(autouse=True)
def _new_books_are_copies(empty_book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Copy the empty book instead of making each anew, which takes 45 ms; not in tests/storage."""
    from gambrel.storage import files, history

    make, known = files.make_book, history.HISTORY

    def copied(path: Path) -> None:
        files.require_no_journals(path)
        try:
            if history.HISTORY is known:
                shutil.copyfile(empty_book, path)
                return
        except OSError:
            pass  # the program itself says what is wrong
        make(path)

    monkeypatch.setattr(files, "make_book", copied)


@pytest.fixture(scope="session", autouse=True)
def _own_folders(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Point the platform's data and settings folders away from the user's own."""
    home = tmp_path_factory.mktemp("home")
    with pytest.MonkeyPatch.context() as patch:
        for name in ("HOME", "USERPROFILE", "APPDATA", "LOCALAPPDATA"):
            patch.setenv(name, str(home))
        for name in ("DATA", "CONFIG", "STATE"):
            patch.setenv(f"XDG_{name}_HOME", str(home / name.lower()))
        yield


@pytest.fixture(scope="session")
def pg_cluster() -> Iterator[Cluster]:
    """A PostgreSQL server of our own, started when the first test asks for it."""
    why = missing_server()
    if why and CHECKING:
        pytest.fail(why)
    if why:
        pytest.skip(why)
    with Cluster.running() as cluster:
        yield cluster


@pytest.fixture
def pg_database(pg_cluster: Cluster) -> Iterator[str]:
    """The SQLAlchemy URL of a new, empty PostgreSQL database, gone after the test."""
    with pg_cluster.fresh_database() as url:
        yield url


@pytest.fixture(scope="session")
def _pg_empty(pg_cluster: Cluster) -> Iterator[str]:
    """The name of a database that holds an empty book, for others to be copied from."""
    from gambrel.storage.book import open_book

    with pg_cluster.fresh_database() as url:
        open_book(url).close()
        yield url.partition("@/")[2].partition("?")[0]


@pytest.fixture
def pg_book(pg_cluster: Cluster, _pg_empty: str) -> Iterator[str]:
    """The URL of an empty book on the server, gone after the test."""
    with pg_cluster.fresh_database(_pg_empty) as url:
        yield url
