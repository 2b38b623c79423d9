"""A small invented shop with trim of two bodies at its tub, for tests of blends."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import timedelta
from decimal import Decimal

from gambrel.domain.trade.around import Ingredient
from gambrel.services import bench, tub
from gambrel.storage.book import Book
from tests.block_shop import CUTS, Hand, fill
from tests.trades import HOUR

DAY = timedelta(days=1)
LIVES = {"trim-90": 4, "trim-70": 4, "diced": 3, "rump": 5, "topside": 5}
"""Shelf lives in days of the block shop's cuts, which have none of their own."""


@dataclass(frozen=True, slots=True)
class Pieces:
    """The keys of what stands: trim of two days, and two trays for sale."""

    old_70: str
    new_70: str
    lean_90: str
    diced: str
    rump: str


def fill_tub(book: Book, hand: Hand) -> Pieces:
    """Break two bodies a day apart; the clock ends on the day after the second."""
    fill(book, [replace(cut, shelf_life_days=LIVES.get(cut.key)) for cut in CUTS])
    for cut, percent in (("trim-90", 90), ("trim-70", 70)):
        tub.set_lean(book, cut, Decimal(percent))
    tub.save_ingredient(book, Ingredient("", "Rusk", 320, "wheat"))
    tub.save_ingredient(book, Ingredient("", "Ice", 100))
    first = bench.start_break(book, "HQ-17", "", hand.act()).key
    old_70 = weigh(book, hand, first, "trim-70", 8000)
    rump = weigh(book, hand, first, "rump", 5000)
    finish(book, hand, first)
    hand.now += DAY
    second = bench.start_break(book, "FQ-09", "", hand.act()).key
    new_70 = weigh(book, hand, second, "trim-70", 6000)
    lean_90 = weigh(book, hand, second, "trim-90", 5003)
    diced = weigh(book, hand, second, "diced", 3000)
    finish(book, hand, second)
    hand.now += HOUR
    return Pieces(old_70, new_70, lean_90, diced, rump)


def weigh(book: Book, hand: Hand, stage: str, cut: str, grams: int) -> str:
    """Weigh a piece in."""
    return bench.weigh_in(book, stage, cut, bench.Weighing(grams), hand.act()).key


def finish(book: Book, hand: Hand, stage: str, minutes: int = 20) -> None:
    """Finish a stage."""
    bench.finish(book, stage, Decimal(minutes), hand.act())
