from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.records import PriceChange
from gambrel.services.bench import Look, Weighing, look, start_break, weigh_in
from gambrel.services.bench.choices import WayAsked, choice_between, choices_for, whole_as
from gambrel.services.books import Book, open_book
from tests.block_shop import NOW, Hand, fill


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with open_book(str(tmp_path / "book.gambrel")) as opened:
        fill(opened)
        yield opened


@pytest.fixture
def hand() -> Hand:
    return Hand()


@pytest.fixture
def stage(book: Book, hand: Hand) -> str:
    return start_break(book, "HQ-17", "Round whole", hand.act()).key


def weighed(book: Book, hand: Hand, stage: str, cut: str, gross_g: int) -> Look:
    weigh_in(book, stage, cut, Weighing(gross_g), hand.act())
    return look(book, stage)


def test_before_the_first_piece_there_is_no_choice(book: Book, stage: str) -> None:
    assert choices_for(look(book, stage), NOW) == []


def test_the_last_piece_against_every_trim_the_dearest_first(
    book: Book, hand: Hand, stage: str
) -> None:
    """By hand: rump fetches 27.69 a kilo finished, the trims 11.50 and 8.00."""
    weighed(book, hand, stage, "flank", 2_000)
    seen = weighed(book, hand, stage, "rump", 4_386)
    lean, fat = choices_for(seen, NOW, Decimal(3))
    assert [choice.other.name for choice in (lean, fat)] == ["Beef trim 90", "Beef trim 70"]
    assert (lean.way.name, lean.grams) == ("Rump", 4_386)
    assert lean.earns == 12145 - 5044 - 188
    assert fat.earns == 12145 - 3509 - 188


def test_a_piece_of_trim_is_set_against_the_other_trims(book: Book, hand: Hand, stage: str) -> None:
    seen = weighed(book, hand, stage, "trim-70", 1_000)
    assert [(c.other.name, c.earns) for c in choices_for(seen, NOW)] == [("Beef trim 90", -350)]


def test_trim_without_a_price_is_left_out(book: Book, hand: Hand, stage: str) -> None:
    seen = weighed(book, hand, stage, "rump", 4_386)
    bare = tuple(replace(c, price=None) if c.key == "trim-90" else c for c in seen.trade.cuts)
    seen = replace(seen, trade=replace(seen.trade, cuts=bare))
    assert [choice.other.name for choice in choices_for(seen, NOW)] == ["Beef trim 70"]


def test_a_cut_without_a_price_is_a_sentence(book: Book, hand: Hand, stage: str) -> None:
    seen = weighed(book, hand, stage, "rump", 4_386)
    bare = tuple(replace(c, price=None) if c.key == "rump" else c for c in seen.trade.cuts)
    with pytest.raises(Refusal, match="Rump has no price yet"):
        choices_for(replace(seen, trade=replace(seen.trade, cuts=bare)), NOW)


def test_any_two_ways_at_the_prices_in_force(book: Book, stage: str) -> None:
    trade = look(book, stage).trade
    dearer = PriceChange("topside", 2699, NOW + timedelta(hours=1), "special over")
    trade = replace(trade, prices=(dearer,))
    mince = WayAsked({"diced": Decimal("0.9"), "fat": Decimal("0.1")}, Decimal(12), "diced")
    today = choice_between(trade, 10_000, mince, whole_as("topside"), NOW)
    later = choice_between(trade, 10_000, mince, whole_as("topside"), NOW + timedelta(hours=2))
    assert today.earns == (9 * 2244 + 25) - 21690 - 750
    assert later.earns == today.earns - 5000
    assert later.way.name == "diced"


def test_a_cut_that_is_not_there_is_refused_with_a_guess(book: Book, stage: str) -> None:
    trade = look(book, stage).trade
    with pytest.raises(Refusal, match="no cut 'rmup' in the book; did you mean 'rump'"):
        choice_between(trade, 1_000, whole_as("rmup"), whole_as("shin"), NOW)
