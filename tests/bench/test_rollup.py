"""The roll-up of a large book against only reading the same rows."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.trade.catalogue import Supplier
from gambrel.domain.trade.records import Source, StageKind, Trade
from gambrel.services.books import Book, open_book
from tests.bench.ratio import measure, seconds
from tests.trades import CUTS, Bench

BODIES, PIECES_A_BODY = 5_000, 50
FARM = Supplier("farm", "A farm")
pytestmark = [pytest.mark.bench, pytest.mark.timeout(600)]


def large_trade(bodies: int) -> Trade:
    """Every body in 50 pieces; every tenth body the trim of ten goes into one blend."""
    chance, bench, trim = random.Random(3), Bench(), []
    for number in range(bodies):
        stage = bench.stage((Source.BODY, bench.body(80_000, 967), None), minutes=22)
        for index in range(PIECES_A_BODY):
            bench.now += timedelta(seconds=20)
            cut = ("rump", "shin", "mince-trim", "fat", "bone")[index % 5]
            key = bench.piece(stage, cut, chance.randint(500, 2700))
            if cut == "mince-trim":
                trim.append(key)
        if number % 10 == 9:
            blend = bench.stage(
                *((Source.PIECE, key, None) for key in trim), kind=StageKind.BLEND, minutes=40
            )
            bench.piece(blend, "mince", 100_000)
            trim.clear()
    return bench.trade()


@pytest.fixture(scope="module")
def large_book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    place: Path = tmp_path_factory.mktemp("large") / "large.gambrel"
    trade = large_trade(BODIES)
    with open_book(str(place)) as book:
        with book.transaction() as work:
            work.set_shop(trade.shop)
            work.add([FARM, *CUTS, *trade.bodies, *trade.stages, *trade.inputs, *trade.pieces])
        yield book


def test_roll_up_against_reading(large_book: Book) -> None:
    def read() -> Trade:
        with large_book.reading() as work:
            return work.trade()

    def read_and_roll_up() -> None:
        assert roll_up(read()).totals.difference == 0

    told = measure("roll-up of 250 000 pieces / reading them", read_and_roll_up, read, rounds=3)
    assert told.ratio < 3.5


def test_roll_up_grows_with_the_pieces() -> None:
    small, large = large_trade(500), large_trade(2_000)
    quick = min(seconds(lambda: roll_up(small)) for _ in range(3))
    slow = min(seconds(lambda: roll_up(large)) for _ in range(3))
    print(f"four times the pieces take {slow / quick:.1f} times as long")
    assert slow / quick < 8, "four times the pieces, at most twice the time for each"
