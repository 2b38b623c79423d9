"""What stands beside the trade comes back as it was put, from either database."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.trade.around import (
    CutLean,
    Person,
    PieceLean,
    PriceWithdrawn,
    Recipe,
    RecipeLine,
)
from gambrel.domain.trade.records import Void
from gambrel.storage.book import Book, open_book
from gambrel.storage.work import Work
from tests.storage.beside_samples import DONE, KEPT, KINDS, LINES, RECIPE, fill
from tests.storage.samples import SHOP, TRADE, at, entries
from tests.storage.test_round_trip import example


@pytest.fixture(scope="module", params=["sqlite", "postgresql"])
def shelf(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Book]:
    """One book with the trade and what stands beside it, for all examples."""
    if request.param == "sqlite":
        with open_book(str(tmp_path_factory.mktemp("beside") / "shop.gambrel")) as book:
            yield filled(book)
        return
    cluster = request.getfixturevalue("pg_cluster")
    with cluster.fresh_database() as url, open_book(url) as book:
        yield filled(book)


def filled(book: Book) -> Book:
    with book.transaction() as work:
        work.set_shop(SHOP)
        work.add(entries(TRADE))
        fill(work)
    return book


def test_all_by_hand_come_back(shelf: Book) -> None:
    with shelf.reading() as work:
        for record in (*KEPT, *DONE):
            assert work.every(type(record)) == [record]
        assert work.every(Recipe) == [RECIPE]
        assert work.every(RecipeLine, recipe="grind") == list(LINES)
        assert work.every(RecipeLine, recipe="other") == []


@pytest.mark.parametrize("kind", KINDS)
@given(data=st.data())
def test_a_record_comes_back_equal(shelf: Book, kind: str, data: st.DataObject) -> None:
    record = data.draw(KINDS[kind])
    with example(shelf) as work:
        put(work, record)
        assert record in work.every(type(record))


def put(work: Work, record: Any) -> None:
    if isinstance(record, Recipe):
        work.put_recipe(record, [])
    elif isinstance(record, RecipeLine):
        work.put_recipe(RECIPE, [record])
    elif type(record) in {type(kept) for kept in KEPT}:
        work.put(record)
    else:
        work.note([record])


def test_what_is_put_again_replaces_only_its_own(shelf: Book) -> None:
    with example(shelf) as work:
        work.put(Person("Joss"))
        work.put(Person("Ana", "other"))
        assert work.every(Person) == [Person("Ana", "other"), Person("Joss")]
        work.put_recipe(replace(RECIPE, name="Finer"), LINES[:1])
        assert work.every(RecipeLine) == list(LINES[:1])
        work.drop_recipe("grind")
        assert not work.every(Recipe)
        assert not work.every(RecipeLine)


def test_a_price_withdrawn_before_it_came_is_no_price(shelf: Book) -> None:
    with shelf.reading() as work:
        kept = tuple(price for price in TRADE.prices if price.since != DONE[2].since)  # type: ignore[union-attr]
        assert work.trade().prices == kept
        assert work.stage_trade("S1").prices == kept
        assert work.every(PriceWithdrawn, cut="rump") == [DONE[2]]


def test_other_kinds_are_no_records_beside_the_trade(shelf: Book) -> None:
    with shelf.reading() as work, pytest.raises(TypeError, match="Void"):
        work.every(Void)  # type: ignore[type-var]


def test_records_stand_by_their_keys(shelf: Book) -> None:
    with example(shelf) as work:
        work.put(CutLean("bone", KEPT[4].percent))  # type: ignore[union-attr]
        assert [lean.cut for lean in work.every(CutLean)] == ["bone", "rump"]
        later = PieceLean("P1", at(21), DONE[1].percent)  # type: ignore[union-attr]
        work.note([later])
        assert work.every(PieceLean, piece="P1") == [DONE[1], later]


def test_a_stage_is_cut_by_another_list(shelf: Book) -> None:
    with example(shelf) as work:
        work.relist_stage("S2", "Other", at(60), "Ana")
        stage = work.stage("S2")
        assert stage is not None
        assert (stage.list, stage.is_open, stage.minutes) == ("Other", True, Decimal(4))
        work.relist_stage("S2", "Hind", at(61), "Ana")
        work.finish_stage("S2", at(70), stage.minutes, "Ana")
        stage = work.stage("S2")
        assert stage is not None
        assert (stage.list, stage.finished_at) == ("Hind", at(70))
        with pytest.raises(Exception, match="Reopen it"):
            work.relist_stage("S2", "Other", at(71), "Ana")
