"""The catalogue as it is changed: one act each, taken back, refused where the past would change."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from shutil import copyfile

import pytest

from gambrel.domain.refusals import Refusal, RowsRefused
from gambrel.domain.trade.around import CutLabel
from gambrel.domain.trade.catalogue import Cut, CutKind
from gambrel.services import bench
from gambrel.services.books import Book, open_book
from gambrel.services.cabinet import cabinet
from gambrel.services.catalogue import (
    Card,
    add_card,
    bring_back_cut,
    card_of,
    catalogue,
    change_card,
    remove_card,
    retire_cut,
    take_back_card,
    texts_of,
)
from gambrel.services.folder.load import load_folder
from gambrel.services.folder.write import dump_folder
from gambrel.services.settings import take_back
from gambrel.services.tickets import print_tickets
from tests.small_shop import write_shop

NOW = datetime(2026, 11, 22, 3, tzinfo=UTC)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with open_book(str(tmp_path / "book.gambrel")) as opened:
        load_folder(opened, write_shop(tmp_path / "shop"))
        yield opened


def card(book: Book, key: str) -> Card:
    return catalogue(book).entries[key].card


def typed(book: Book, key: str, **texts: str) -> Card:
    shop = catalogue(book).shop
    return card_of(texts_of(card(book, key), shop) | texts, shop)


def new(book: Book, **texts: str) -> Card:
    asked = {"cut": "cap", "name": "Rump cap", "species": "beef", "kind": "tray"}
    return card_of(asked | texts, catalogue(book).shop)


def test_the_catalogue_says_what_hangs_on_each_cut(book: Book) -> None:
    found = catalogue(book).entries
    assert list(found) == ["bone", "mince", "rump", "trim"]
    assert (found["rump"].pieces, found["rump"].lists) == (1, ("Hind",))  # P4 was taken back
    assert all(entry.named for entry in found.values())
    assert found["rump"].card.label == CutLabel("rump")


def test_a_new_cut_is_read_by_the_columns_of_the_plain_files(book: Book) -> None:
    change = add_card(
        book,
        new(book, price_per_kg="36.99", finish_per_kg="0.45", shelf_life_days="5", plu="108",
            unece="2091", ingredients="Beef,  salt", allergens=""),
    )  # fmt: skip
    made = Cut("cap", "Rump cap", "beef", CutKind.TRAY, 3699, 45, 0, 5, "108", "2091")
    assert card(book, "cap") == Card(made, CutLabel("cap", "Beef, salt"))
    take_back_card(book, change)
    assert "cap" not in catalogue(book).entries


def test_what_cannot_be_read_is_said_all_at_once(book: Book) -> None:
    with pytest.raises(RowsRefused) as refused:
        new(book, finish_per_kg="0.456", shelf_life_days="soon", kind="steak")
    assert [line.partition(":")[0] for line in refused.value.sentences] == [
        "Kind",
        "Finishing cost",
        "Shelf life",
    ]


@pytest.mark.parametrize(
    ("texts", "said"),
    [
        ({"cut": "rump"}, "The key rump is Rump's"),
        ({"name": "RUMP"}, "There is a RUMP among the cuts of beef already"),
        ({"plu": "0101"}, "PLU: '0101' is also the number of 'rump'"),
        ({"finish_per_kg": "-1"}, "Finishing cost: -1.00 is negative"),
        ({"shelf_life_days": "99999"}, "Shelf life: 99999 is no shelf life"),
        ({"allergens": "whaet"}, "Did you mean 'wheat'"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_kept(
    book: Book, texts: dict[str, str], said: str
) -> None:
    before = catalogue(book)
    with pytest.raises(Refusal) as refused:
        add_card(book, new(book, **texts))
    assert said in str(refused.value)
    assert catalogue(book) == before


def test_the_same_name_is_free_in_another_species(book: Book) -> None:
    add_card(book, new(book, name="Rump", species="lamb"))
    assert card(book, "cap").cut.species == "lamb"


def test_a_change_is_taken_back(book: Book) -> None:
    before = card(book, "rump")
    change = change_card(
        book, before, typed(book, "rump", name="Rump heart", plu="", allergens="wheat")
    )
    after = card(book, "rump")
    assert (after.cut.name, after.cut.plu, after.label.allergens) == ("Rump heart", "", "wheat")
    assert (after.cut.price, after.cut.finish) == (2699, 48)
    take_back_card(book, change)
    assert card(book, "rump") == before


def test_the_kind_of_what_was_weighed_stays(book: Book) -> None:
    with pytest.raises(Refusal, match="1 piece has been weighed of Rump as tray"):
        change_card(book, card(book, "rump"), typed(book, "rump", kind="byproduct"))
    add_card(book, new(book))
    change_card(book, card(book, "cap"), typed(book, "cap", kind="byproduct"))
    assert card(book, "cap").cut.kind is CutKind.BYPRODUCT


def test_the_first_price_is_part_of_the_record(book: Book) -> None:
    with pytest.raises(Refusal, match="Set a price in the Cabinet"):
        change_card(book, card(book, "rump"), typed(book, "rump", price_per_kg="1.00"))


def test_what_another_station_changed_is_not_written_over(book: Book) -> None:
    seen = card(book, "rump")
    mine = change_card(book, seen, typed(book, "rump", shelf_life_days="6"))
    with pytest.raises(Refusal, match="Another station has changed Rump since"):
        change_card(book, seen, typed(book, "rump", shelf_life_days="7"))
    change_card(book, card(book, "rump"), typed(book, "rump", shelf_life_days="8"))
    with pytest.raises(Refusal, match="Undo would undo that"):
        take_back_card(book, mine)
    assert card(book, "rump").cut.shelf_life_days == 8


def test_only_what_nothing_names_is_removed(book: Book) -> None:
    with pytest.raises(Refusal, match="Retire it instead"):
        remove_card(book, card(book, "rump"))
    add_card(book, new(book, cooking="Slowly."))
    made = card(book, "cap")
    change = remove_card(book, made)
    assert "cap" not in catalogue(book).entries
    take_back_card(book, change)
    assert card(book, "cap") == made


def test_a_cut_on_a_list_is_not_retired(book: Book) -> None:
    with pytest.raises(Refusal, match=r"Rump stands on Hind\. Take it off"):
        retire_cut(book, "rump")
    with pytest.raises(Refusal, match="no cut 'ghost'"):
        retire_cut(book, "ghost")


def test_a_cut_in_a_recipe_is_not_retired(demo_file: Path, tmp_path: Path) -> None:
    copy = copyfile(demo_file, tmp_path / "demo.gambrel")
    with open_book(str(copy)) as demo, pytest.raises(Refusal) as refused:
        retire_cut(demo, "beef-mince")
    assert "Beef mince needs Beef mince" in str(refused.value)


def test_a_retired_cut_is_offered_nowhere_and_comes_back(book: Book) -> None:
    add_card(book, new(book, price_per_kg="36.99"))

    def offered() -> list[bool]:
        more = [row.cut.key for row in bench.look(book, "S1").on_block.more]
        lines = [line.cut.key for line in cabinet(book, NOW).lines]
        tickets = print_tickets(book, None, "a4-15", NOW).tickets
        return ["cap" in more, "cap" in lines, "Rump cap" in [t.name for t in tickets]]

    assert offered() == [True, True, True]
    change = retire_cut(book, "cap")
    assert catalogue(book).entries["cap"].retired
    assert offered() == [False, False, False]
    take_back(book, change)
    assert offered() == [True, True, True]
    retire_cut(book, "cap")
    bring_back_cut(book, "cap")
    assert not catalogue(book).entries["cap"].retired


def test_what_was_made_in_setup_is_dumped_and_loaded(book: Book, tmp_path: Path) -> None:
    add_card(book, new(book, price_per_kg="36.99", ingredients="Beef", allergens="milk, egg"))
    change_card(book, card(book, "rump"), typed(book, "rump", name="Rump heart", unece="2090"))
    add_card(book, new(book, cut="old", name="Old cut"))
    retire_cut(book, "old")
    dump_folder(book, tmp_path / "out")
    with open_book(str(tmp_path / "again.gambrel")) as again:
        load_folder(again, tmp_path / "out")
        assert catalogue(again) == catalogue(book)
        assert catalogue(again).entries["old"].retired


def test_names_that_were_loaded_twice_may_stay(tmp_path: Path) -> None:
    with open_book(str(tmp_path / "book.gambrel")) as book:
        load_folder(book, write_shop(tmp_path / "shop"))
        with book.transaction() as work:
            work.add([replace(card(book, "rump").cut, key="rump-2", plu="")])
        change_card(book, card(book, "rump-2"), typed(book, "rump-2", plu="777"))
        assert card(book, "rump-2").cut.plu == "777"
