"""Several processes on one book, and a process that dies: nothing acknowledged is lost."""

from __future__ import annotations

import signal
import subprocess
import sys
from pathlib import Path

import pytest

from gambrel.storage.book import open_book
from tests.storage.samples import SHOP, TRADE, entries

WEIGHER = """
import sys
from datetime import UTC, datetime
from gambrel.domain.trade.records import Piece
from gambrel.storage.book import open_book
where, name = sys.argv[1:]
with open_book(where) as book:
    for number in range(100_000):
        key = f"{name}-{number}"
        with book.transaction() as work:
            work.add([Piece(key, "S2", "rump", 900, 10, datetime.now(UTC))])
        print(key, flush=True)
"""

COUNTER = """
import sys
from gambrel.storage.book import open_book
with open_book(sys.argv[1]) as book:
    for _ in range(int(sys.argv[2])):
        with book.transaction() as work:
            work.set_setting("count", str(int(work.setting("count") or 0) + 1))
"""


@pytest.fixture
def filled(place: str) -> str:
    with open_book(place) as book, book.transaction() as work:
        work.set_shop(SHOP)
        work.add(entries(TRADE))
    return place


def start(code: str, *arguments: str) -> subprocess.Popen[str]:
    command = [sys.executable, "-c", code, *arguments]
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True)


def test_a_killed_station_loses_nothing_that_it_was_told_is_kept(filled: str) -> None:
    told: list[str] = []
    for life in range(4):
        with start(WEIGHER, filled, f"life{life}") as station:
            assert station.stdout is not None
            told += [station.stdout.readline().strip() for _ in range(25 + 7 * life)]
            station.send_signal(signal.SIGKILL)
            told += [line.strip() for line in station.stdout if line.endswith("\n")]
    with open_book(filled) as book, book.reading() as work:
        kept = {piece.key for piece in work.pieces_of("S2")}
        assert set(told) <= kept
        # At most one weighing a life was on the disk before its station could say so.
        assert len(kept) - 1 <= len(told) + 4
        assert book.check() == []


def test_two_stations_lose_no_step(filled: str) -> None:
    stations = [start(COUNTER, filled, "60") for _ in range(2)]
    for station in stations:
        station.communicate(timeout=50)
    assert [station.returncode for station in stations] == [0, 0]
    with open_book(filled) as book, book.reading() as work:
        assert work.setting("count") == "120"


def test_two_stations_open_a_new_book_at_once(place: str) -> None:
    stations = [start(COUNTER, place, "1") for _ in range(3)]
    for station in stations:
        station.communicate(timeout=50)
    assert [station.returncode for station in stations] == [0, 0, 0]
    with open_book(place) as book:
        with book.reading() as work:
            assert work.setting("count") == "3"
        assert book.check() == []
    if "://" not in place:
        assert not list(Path(place).parent.glob("*.part"))
