"""Suppliers as they are changed, with the origin of their animals; what came of them stays."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import Origin, OriginOf
from gambrel.services.books import Book, open_book
from gambrel.services.folder.load import load_folder
from gambrel.services.folder.write import dump_folder
from gambrel.services.suppliers import (
    SupplierCard,
    add_supplier_card,
    blank_card,
    change_supplier,
    remove_supplier,
    suppliers,
    take_back_supplier,
)
from tests.small_shop import write_shop


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with open_book(str(tmp_path / "book.gambrel")) as opened:
        load_folder(opened, write_shop(tmp_path / "shop"))
        yield opened


def cards(book: Book) -> dict[str, SupplierCard]:
    return {each.card.key: each.card for each in suppliers(book)}


def renamed(card: SupplierCard, name: str) -> SupplierCard:
    return replace(card, supplier=replace(card.supplier, name=name))


def born(card: SupplierCard, country: str) -> SupplierCard:
    return replace(card, origin=replace(card.origin, born=country))


def test_suppliers_stand_by_name_with_their_bodies(book: Book) -> None:
    add_supplier_card(book, blank_card("a Far hill"))
    add_supplier_card(book, blank_card("Another"))
    assert [(each.card.key, each.bodies) for each in suppliers(book)] == [
        ("a", 0),
        ("farm", 1),
        ("another", 0),
    ]


def test_a_new_supplier_gets_a_key_and_is_taken_back(book: Book) -> None:
    change = add_supplier_card(book, born(blank_card("  Farm   hill "), " New  Zealand "))
    made = cards(book)["farm-2"]
    assert made.supplier.name == "Farm hill"
    assert made.origin == Origin(OriginOf.SUPPLIER, "farm-2", "New Zealand")
    take_back_supplier(book, change)
    assert list(cards(book)) == ["farm"]


def test_a_name_is_given_short_and_its_own(book: Book) -> None:
    for name, said in (("", "needs a name"), ("A FARM", "already"), ("x" * 101, "100 letters")):
        with pytest.raises(Refusal, match=said):
            add_supplier_card(book, blank_card(name))
    with pytest.raises(Refusal, match="longer than 200 letters"):
        add_supplier_card(book, born(blank_card("Hill"), "x" * 201))
    assert list(cards(book)) == ["farm"]


def test_an_origin_is_set_changed_and_taken_back(book: Book) -> None:
    plain = cards(book)["farm"]
    first = change_supplier(book, plain, born(plain, "Ireland"))
    assert cards(book)["farm"].origin.born == "Ireland"
    take_back_supplier(book, first)
    assert cards(book)["farm"] == plain
    with book.reading() as work:
        assert work.every(Origin) == []


def test_what_another_station_changed_is_not_written_over(book: Book) -> None:
    seen = cards(book)["farm"]
    mine = change_supplier(book, seen, born(seen, "Ireland"))
    with pytest.raises(Refusal, match="Another station has changed A farm since"):
        change_supplier(book, seen, renamed(seen, "The farm"))
    with pytest.raises(Refusal, match="Another station has changed A farm since"):
        remove_supplier(book, seen)
    now = cards(book)["farm"]
    change_supplier(book, now, born(now, "Wales"))
    with pytest.raises(Refusal, match="Undo would undo that"):
        take_back_supplier(book, mine)
    assert cards(book)["farm"].origin.born == "Wales"


def test_only_a_supplier_of_no_body_is_removed(book: Book) -> None:
    with pytest.raises(Refusal, match="1 body came from A farm"):
        remove_supplier(book, cards(book)["farm"])
    made = add_supplier_card(book, born(blank_card("Hill"), "Wales")).after
    assert made is not None
    change = remove_supplier(book, made)
    assert "hill" not in cards(book)
    take_back_supplier(book, change)
    assert cards(book)["hill"] == made


def test_suppliers_made_in_setup_are_dumped_and_loaded(book: Book, tmp_path: Path) -> None:
    add_supplier_card(book, born(blank_card("Hill, and dale"), "Wales"))
    seen = cards(book)["farm"]
    change_supplier(book, seen, replace(seen, supplier=replace(seen.supplier, contact="x@y")))
    dump_folder(book, tmp_path / "out")
    with open_book(str(tmp_path / "again.gambrel")) as again:
        load_folder(again, tmp_path / "out")
        assert suppliers(again) == suppliers(book)
