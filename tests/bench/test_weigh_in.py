"""A weigh-in that is on the disk, beside what SQLite itself needs for one row."""

from __future__ import annotations

import itertools
import sqlite3
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from gambrel.domain.trade.records import Piece
from gambrel.storage.book import open_book
from tests.bench.ratio import measure
from tests.storage.samples import SHOP, TRADE, entries

ROUNDS = 9
CALLS = 50
CEILING = 4.0
"""Aim for 1.5; a machine with something else to do may show more, a mistake of ours shows more
than this."""
NOW = datetime(2026, 11, 20, 10, tzinfo=UTC)


def piece(number: int) -> Piece:
    at = NOW + timedelta(seconds=number)
    return Piece(f"N{number}", "S2", "rump", 900, 10, at, "Ana", "block-1")


@pytest.mark.bench
def test_a_weigh_in_beside_a_bare_insert(tmp_path: Path) -> None:
    """The same row into the same tables with the same pragmas, without our code around it."""
    ours, bare = tmp_path / "ours.gambrel", tmp_path / "bare.gambrel"
    for path in (ours, bare):
        with open_book(str(path)) as book, book.transaction() as work:
            work.set_shop(SHOP)
            work.add(entries(TRADE))
    numbers = itertools.count()
    insert = "INSERT INTO piece VALUES (?, ?, ?, ?, ?, ?, ?, ?)"
    with open_book(str(ours)) as book, closing(sqlite3.connect(bare, isolation_level=None)) as raw:
        for pragma in ("journal_mode = WAL", "synchronous = FULL", "foreign_keys = ON"):
            raw.execute(f"PRAGMA {pragma}")

        def weigh_in() -> None:
            for _ in range(CALLS):
                with book.transaction() as work:
                    work.add([piece(next(numbers))])

        def bare_insert() -> None:
            for _ in range(CALLS):
                number = next(numbers)
                at = f"2026-11-20T10:{number // 60 % 60:02}:{number % 60:02}.000000Z"
                row = (f"N{number}", "S2", "rump", 900, 10, at, "Ana", "block-1")
                raw.execute("BEGIN IMMEDIATE")
                raw.execute(insert, row)
                raw.execute("COMMIT")

        told = measure("weigh-in commit / bare insert", weigh_in, bare_insert, rounds=ROUNDS)
        assert told.ratio < CEILING
        with book.reading() as work:
            assert len(work.pieces_of("S2")) == 1 + (1 + ROUNDS) * CALLS
