"""The rail on a real book."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from gambrel.domain.bench.rail import hang_days_setting
from gambrel.domain.bench.receiving import WARMEST_SETTING, Delivery
from gambrel.domain.numbers.mass import HEAVIEST_G
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.formats import Formats
from gambrel.domain.trade.records import PricedOn, Trade
from gambrel.services.books import Book, latest_moment
from gambrel.services.rail import CLAIM, add_supplier, door, rail, receive, reweigh
from gambrel.services.settings import keep_setting, read_setting
from tests.demo_book import open_demo
from tests.trades import AUD

NOW = datetime(2026, 11, 21, 3, tzinfo=UTC)
FORMATS = Formats(AUD, "$")
DELIVERY = Delivery(
    "HQ-18", "beef", "hindquarter", "northfold", 80_000, 1020, PricedOn.DOCKET, 83_000
)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with open_demo(tmp_path / "demo.gambrel") as opened:
        yield opened


def held(book: Book) -> Trade:
    with book.reading() as work:
        return work.trade()


def test_what_hangs_in_the_demo_shop(book: Book) -> None:
    found = {row.body.key: row for row in rail(book, NOW).bodies}
    assert {"LAMB-32", "LAMB-33", "SIDE-04", "FQ-09"} <= set(found)
    assert next(iter(found)) == "HQ-17"  # on the block, so it stands first
    assert found["SIDE-04"].weight_g == 138_600
    assert found["SIDE-04"].supplier == "Northfold Farm"


def test_a_body_comes_in_and_what_is_off_is_kept(book: Book) -> None:
    made = receive(book, DELIVERY, FORMATS, NOW)
    assert made.body in held(book).bodies
    assert [claim.money for claim in made.claims] == [3_060]
    kept = rail(book, NOW)
    assert kept.claims["HQ-18"] == made.claims[0].sentence
    assert any(row.body.key == "HQ-18" for row in kept.bodies)


def test_a_body_without_a_claim_keeps_no_note(book: Book) -> None:
    receive(book, replace(DELIVERY, docket_g=80_100), FORMATS, NOW)
    assert "HQ-18" not in rail(book, NOW).claims
    assert read_setting(book, f"{CLAIM}HQ-18") == ""


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"body": "HQ-17"}, "There is a body HQ-17 already"),
        ({"supplier": "nobody"}, "supplier is not in the book"),
        ({"received_g": 0}, "weight is missing"),
    ],
)
def test_what_cannot_come_in_leaves_the_book_as_it_was(
    book: Book, changes: dict[str, object], sentence: str
) -> None:
    before = held(book)
    changed = replace(DELIVERY, **changes)  # type: ignore[arg-type]  # names are checked
    with pytest.raises(Refusal, match=sentence):
        receive(book, changed, FORMATS, NOW)
    assert held(book) == before


def test_the_shops_own_limits_count(book: Book) -> None:
    keep_setting(book, hang_days_setting("beef"), "9")
    keep_setting(book, WARMEST_SETTING, "5")
    (row,) = [row for row in rail(book, NOW).bodies if row.body.key == "SIDE-04"]
    assert row.days_left == 0
    assert door(book).warmest == Decimal(5)
    warm = replace(DELIVERY, docket_g=80_000, temperature=Decimal(6))
    assert "limit is 5 °C" in receive(book, warm, FORMATS, NOW).claims[0].sentence


@pytest.mark.parametrize("kept", ["", "many", "-3", "9999"])
def test_a_limit_that_is_no_number_of_days_leaves_the_usual_one(book: Book, kept: str) -> None:
    before = rail(book, NOW).bodies
    keep_setting(book, hang_days_setting("beef"), kept)
    keep_setting(book, WARMEST_SETTING, kept or "x")
    assert rail(book, NOW).bodies == before


def test_a_body_is_weighed_again(book: Book) -> None:
    made = reweigh(book, "SIDE-04", 137_900, NOW)
    assert made in held(book).reweighs
    (row,) = [row for row in rail(book, NOW).bodies if row.body.key == "SIDE-04"]
    assert (row.weight_g, row.weighed_at) == (137_900, NOW)


@pytest.mark.parametrize(
    ("body", "grams", "later", "sentence"),
    [
        ("SIDE-04", 0, 0, "no weight of a body"),
        ("SIDE-04", HEAVIEST_G + 1, 0, "no weight of a body"),
        ("SIDE-99", 80_000, 0, "no body SIDE-99"),
        ("HQ-14", 60_000, 0, "Nothing of Hindquarter 14 hangs"),
        ("HQ-17", 60_000, 0, "Nothing of Hindquarter 17 hangs"),
        ("SIDE-04", 80_000, -10, "Set the clock right"),
    ],
)
def test_what_cannot_be_weighed_leaves_the_book_as_it_was(
    book: Book, body: str, grams: int, later: int, sentence: str
) -> None:
    before = held(book)
    with pytest.raises(Refusal, match=sentence):
        reweigh(book, body, grams, NOW + timedelta(days=later))
    assert held(book) == before


def test_the_door_offers_first_what_comes_most(book: Book) -> None:
    at = door(book)
    assert at.portions[0] == ("lamb", "whole")
    assert set(at.portions) == {(line.species, line.portion) for line in held(book).lists}
    assert at.suppliers[0].key == "threegate"


def test_the_latest_moment_is_that_of_the_last_act(book: Book, tmp_path: Path) -> None:
    moment = latest_moment(book)
    assert moment == max(piece.weighed_at for piece in held(book).pieces)
    reweigh(book, "SIDE-04", 137_900, NOW)
    assert latest_moment(book) == NOW


def test_a_new_supplier_gets_a_key_of_its_own_and_can_deliver(book: Book) -> None:
    first = add_supplier(book, "  Émile  Brook ")
    assert (first.key, first.name) == ("emile", "Émile Brook")
    assert add_supplier(book, "Emile & sons").key == "emile-2"
    assert add_supplier(book, "牧場").key == "supplier"
    made = receive(book, replace(DELIVERY, supplier="emile"), FORMATS, NOW)
    assert made.body.supplier == "emile"


@pytest.mark.parametrize("name", ["", "   ", "x" * 101])
def test_a_supplier_needs_a_name_that_can_be_read(book: Book, name: str) -> None:
    with pytest.raises(Refusal, match=r"needs a name|longer than 100 letters"):
        add_supplier(book, name)


def test_the_same_supplier_is_not_added_twice(book: Book) -> None:
    with pytest.raises(Refusal, match="in the book already"):
        add_supplier(book, "northfold FARM")
