from __future__ import annotations

import sqlite3
from dataclasses import replace
from pathlib import Path

import pytest

from gambrel.domain.costing.costing import Costing
from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.trade.records import Trade
from gambrel.services import check
from tests.cli.conftest import Gambrel
from tests.small_shop import replaced, write_shop


@pytest.fixture
def book(gambrel: Gambrel, tmp_path: Path) -> Path:
    assert gambrel("load", write_shop(tmp_path / "in"), "--book", tmp_path / "b").status == 0
    return tmp_path / "b"


def test_a_sound_book_says_what_was_checked(gambrel: Gambrel, book: Path) -> None:
    said = gambrel("check", "--book", book)
    assert (said.status, said.err) == (0, "")
    assert said.out.count("checked  ") == 6
    assert "22 rows" in said.out
    report = gambrel("check", "--book", book, "--json").json
    assert (report["sound"], report["wrong"], report["not_checked"]) == (True, [], [])


def test_a_row_that_cannot_be_is_named(gambrel: Gambrel, book: Path) -> None:
    """The database lets it in (each row by itself is fine); only the whole is not."""
    connection = sqlite3.connect(book)
    connection.execute(
        "INSERT INTO writeoff (piece, grams, at, reason) "
        "VALUES ('P1', 9000, '2026-11-23T00:00:00.000000Z', 'by hand')"
    )
    connection.commit()
    connection.close()
    said = gambrel("check", "--book", book)
    assert said.status == 1
    assert "wrong: writeoffs: P1 2026-11-23" in said.err
    assert "not checked  the money" in said.out


def test_a_missing_guard_is_named(gambrel: Gambrel, book: Path) -> None:
    connection = sqlite3.connect(book)
    [(name,)] = connection.execute(
        "SELECT name FROM sqlite_master WHERE type = 'trigger' AND tbl_name = 'piece' LIMIT 1"
    ).fetchall()
    connection.execute(f'DROP TRIGGER "{name}"')
    connection.commit()
    connection.close()
    assert gambrel("check", "--book", book).status == 1


def test_money_that_is_lost_is_named(
    gambrel: Gambrel, book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def careless(trade: Trade, method: Method) -> Costing:
        costing = roll_up(trade, method)
        totals = replace(costing.totals, end_cost=costing.totals.end_cost - 1)
        return replace(costing, totals=totals)

    monkeypatch.setattr(check, "roll_up", careless)
    said = gambrel("check", "--book", book)
    assert said.status == 1
    assert "shared by weight, 0.01 is lost between the lines" in said.err


def test_what_is_odd_is_a_note_and_the_book_is_sound(gambrel: Gambrel, tmp_path: Path) -> None:
    folder = write_shop(tmp_path / "in", reweighs=replaced("reweighs.csv", "81.2", "88.2"))
    gambrel("load", folder, "--book", tmp_path / "b")
    said = gambrel("check", "--book", tmp_path / "b")
    assert said.status == 0
    assert said.err.startswith("Note: HQ-1 weighed 88.200 kg on Wed 18 Nov 2026 at 07:00 and ")
    assert said.out.endswith("is sound.\n")
    report = gambrel("check", "--book", tmp_path / "b", "--json").json
    assert report["sound"] is True
    assert len(report["notes"]) == 1
