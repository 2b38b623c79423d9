"""The catalogue is changed and dropped on both databases; what names it stands in the way."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

import pytest
from sqlalchemy.exc import IntegrityError

from gambrel.domain.trade.around import CutLabel, Origin, OriginOf
from gambrel.domain.trade.catalogue import Cut, CutKind, ListLine, Supplier
from gambrel.storage.book import Book
from gambrel.storage.work import Work
from tests.storage.samples import SHOP, TRADE, entries

HIND = ("Hind", "beef", "hindquarter")


@pytest.fixture
def work(book: Book) -> Iterator[Work]:
    with book.transaction() as work:
        work.set_shop(SHOP)
        work.add(entries(TRADE))
        yield work


def test_cuts_suppliers_labels_and_origins_are_kept_changed_and_dropped(work: Work) -> None:
    cut = Cut("cap", "Rump cap", "beef", CutKind.TRAY, 3699)
    label, origin = CutLabel("cap", "Beef"), Origin(OriginOf.SUPPLIER, "new", "Wales")
    supplier = Supplier("new", "New")
    for record in (cut, label, supplier, origin):
        work.keep(record)
    work.keep(replace(cut, plu="108"))
    work.keep(replace(label, allergens="milk"))
    work.keep(replace(supplier, contact="x"))
    work.keep(replace(origin, plant="9"))
    assert replace(cut, plu="108") in work.cuts()
    assert work.every(CutLabel, cut="cap") == [CutLabel("cap", "Beef", "milk")]
    assert Supplier("new", "New", "x") in work.suppliers()
    assert work.every(Origin, key="new") == [replace(origin, plant="9")]
    for gone in (label, cut, origin, supplier):
        work.drop(gone)
    assert sorted(work.cuts(), key=lambda each: each.key) == list(TRADE.cuts)
    assert work.suppliers() == list(TRADE.suppliers)
    assert work.every(CutLabel) == []
    assert work.every(Origin) == []


def test_a_list_has_just_the_lines_that_are_put(work: Work) -> None:
    others = [line for line in work.lists() if line.list != "Hind"]
    line = ListLine(*HIND, 1, "bone", Decimal("17.5"))
    work.put_list(HIND, [line])
    assert [each for each in work.lists() if each.list == "Hind"] == [line]
    work.put_list(HIND, [])
    assert work.lists() == others


def test_what_names_a_cut_is_counted(work: Work) -> None:
    standing: dict[str, int] = {}
    for piece in TRADE.standing:
        standing[piece.cut] = standing.get(piece.cut, 0) + 1
    assert work.pieces_by_cut() == standing
    uses = work.uses_of_cut("rump")
    assert uses["pieces"] == sum(piece.cut == "rump" for piece in TRADE.pieces)
    assert uses["lists"] == sum(line.cut == "rump" for line in TRADE.lists)
    assert uses["prices"] == sum(price.cut == "rump" for price in TRADE.prices)
    work.keep(Cut("cap", "Rump cap", "beef", CutKind.TRAY))
    assert work.uses_of_cut("cap") == {}
    assert "cap" not in work.cuts_named()
    assert {"rump", "bone"} <= work.cuts_named()
    assert work.portions() == [("beef", "hindquarter")]
    assert sum(work.bodies_by_supplier().values()) == sum(bool(b.supplier) for b in TRADE.bodies)


def test_the_book_itself_holds_on_to_what_is_named(book: Book) -> None:
    with book.transaction() as work:
        work.set_shop(SHOP)
        work.add(entries(TRADE))
    rump = next(cut for cut in TRADE.cuts if cut.key == "rump")
    with pytest.raises(IntegrityError), book.transaction() as work:
        work.drop(rump)
    with book.reading() as work:
        assert rump in work.cuts()
