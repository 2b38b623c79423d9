"""Any record that the domain allows comes back equal, from either database."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.trade.catalogue import Shop
from gambrel.domain.trade.records import Trade
from gambrel.storage.book import Book, open_book
from gambrel.storage.work import Work
from tests.storage import samples
from tests.storage.samples import SHOP, TRADE, entries


class TakenBack(Exception):
    """Ends an example without a trace, so that the next one finds the book as it was."""


@pytest.fixture(scope="module", params=["sqlite", "postgresql"])
def shelf(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Book]:
    """One book for all examples."""
    if request.param == "sqlite":
        with open_book(str(tmp_path_factory.mktemp("shelf") / "shop.gambrel")) as book:
            yield filled(book)
        return
    cluster = request.getfixturevalue("pg_cluster")
    with cluster.fresh_database() as url, open_book(url) as book:
        yield filled(book)


@contextmanager
def example(shelf: Book) -> Iterator[Work]:
    """A transaction that is taken back at its end."""
    with suppress(TakenBack), shelf.transaction() as work:
        yield work
        raise TakenBack


def filled(book: Book) -> Book:
    with book.transaction() as work:
        work.set_shop(SHOP)
        work.add(entries(TRADE))
    return book


KINDS: dict[str, st.SearchStrategy[Any]] = {
    "suppliers": samples.suppliers,
    "cuts": samples.cuts,
    "lists": samples.lists,
    "bodies": samples.bodies,
    "reweighs": samples.reweighs,
    "stages": samples.stages,
    "inputs": samples.taken,
    "pieces": samples.pieces(),
    "voids": samples.voids,
    "prices": samples.changes,
    "writeoffs": samples.writeoffs,
}


def test_every_kind_of_record_is_tried() -> None:
    assert set(KINDS) == set(Trade.__dataclass_fields__) - {"shop", "_voided"}


@pytest.mark.parametrize("kind", KINDS)
@given(data=st.data())
def test_a_record_comes_back_equal(shelf: Book, kind: str, data: st.DataObject) -> None:
    record = data.draw(KINDS[kind])
    with example(shelf) as work:
        before = getattr(TRADE, kind)
        if not any(clashes(record, other) for other in before):
            work.add([record])
            after = getattr(work.trade(), kind)
            assert len(after) == len(before) + 1
            assert set(after) == {*before, record}


def clashes(one: object, other: object) -> bool:
    """Whether two records would have the same key."""
    names = {
        "ListLine": ("list", "species", "portion", "cut"),
        "Reweigh": ("body", "at"),
        "Input": ("stage", "source", "key"),
        "Void": ("piece",),
        "PriceChange": ("cut", "since"),
        "WriteOff": ("piece", "at", "reason"),
    }.get(type(one).__name__, ("key",))
    return all(getattr(one, name) == getattr(other, name) for name in names)


@given(shop=samples.shops)
def test_a_shop_comes_back_equal(shelf: Book, shop: Shop) -> None:
    with example(shelf) as work:
        work.set_shop(shop)
        assert work.shop() == shop


@given(name=samples.keys, value=samples.texts)
def test_a_setting_comes_back_equal(shelf: Book, name: str, value: str) -> None:
    with example(shelf) as work:
        work.set_setting(name, value)
        assert work.setting(name) == value
