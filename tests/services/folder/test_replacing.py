from __future__ import annotations

import re
import shutil
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import (
    Person,
    PriceWithdrawn,
    Recipe,
    RecipeLine,
    WriteOffWithdrawn,
)
from gambrel.domain.trade.catalogue import Supplier
from gambrel.domain.trade.records import Input, PriceChange, Source, Stage, StageKind, WriteOff
from gambrel.services.books import Book
from gambrel.services.folder.load import load_folder
from gambrel.services.folder.write import dump_folder
from gambrel.storage.work import Entry
from tests.services.folder.test_beside import write_beside
from tests.small_shop import FILES, SHOP, write_shop

LATER = datetime(2027, 1, 2, tzinfo=UTC)
NewBook = Callable[[str], Book]


@pytest.fixture
def out(book: Book, tmp_path: Path) -> Path:
    """The small shop in a book, and an earlier dump of it."""
    load_folder(book, write_shop(tmp_path / "in"))
    dump_folder(book, tmp_path / "out")
    return tmp_path / "out"


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def changed(folder: Path, name: str, old: str, new: str) -> None:
    text = (folder / name).read_text()
    assert old in text
    (folder / name).write_text(text.replace(old, new))


def refused(book: Book, folder: Path, says: str) -> None:
    before = contents(folder)
    with pytest.raises(Refusal, match=says) as refusal:
        dump_folder(book, folder)
    assert "--replace" in str(refusal.value)
    assert contents(folder) == before


def test_an_earlier_dump_gives_way_to_what_the_book_holds_since(book: Book, out: Path) -> None:
    with book.transaction() as work:
        work.add([Supplier("new", "A new farm")])
        work.finish_stage("S2", datetime(2026, 11, 19, 1, tzinfo=UTC), work.stage("S2").minutes, "")  # type: ignore[union-attr]  # it is there
    dump_folder(book, out)
    assert "A new farm" in (out / "suppliers.csv").read_text()
    assert "2026-11-19T12:00:00+11:00" in (out / "stages.csv").read_text()


def test_the_folder_that_was_loaded_is_such_a_dump_too(
    new_book: NewBook, book: Book, out: Path, tmp_path: Path
) -> None:
    """A book that took an earlier dump in holds all of it."""
    other = new_book("other")
    load_folder(other, out)
    dump_folder(other, out)
    dump_folder(book, tmp_path / "in")
    assert contents(tmp_path / "in") == contents(out)


@pytest.mark.parametrize(
    ("name", "old", "new", "says"),
    [
        ("suppliers.csv", "A farm", "The farm", r"suppliers\.csv:2: 'farm' is not so in the book"),
        ("pieces.csv", "P5,", "P6,", r"pieces\.csv:6: 'P6' is not so in the book"),
        ("stages.csv", "22.5", "30", r"stages\.csv:2: 'S1' is not so in the book"),
        ("stages.csv", "S2,blend", "S2,trimout", r"stages\.csv:3: 'S2' is not so in the book"),
        ("pieces.csv", "4.506", "heavy", r"pieces\.csv:2: gross_kg: 'heavy' is not a weight"),
        ("shop.toml", "37.50", "41.00", r"its shop\.toml has other settings"),
        ("shop.toml", "Test bench", "Elsewhere", "it is of the shop 'Elsewhere'"),
    ],
)
def test_what_the_book_does_not_hold_is_not_taken_away_unasked(
    book: Book, out: Path, name: str, old: str, new: str, says: str
) -> None:
    changed(out, name, old, new)
    refused(book, out, says)
    dump_folder(book, out, replace=True)
    assert new not in (out / name).read_text()


def test_a_folder_without_its_shop_is_not_such_a_dump(book: Book, out: Path) -> None:
    (out / "shop.toml").unlink()
    refused(book, out, r"it has no shop\.toml")


def test_another_shops_folder_is_not_taken_away(
    new_book: NewBook, out: Path, tmp_path: Path
) -> None:
    mine = new_book("mine")
    load_folder(mine, write_shop(tmp_path / "mine", shop=SHOP.replace("Test bench", "Mine")))
    refused(mine, out, "it is of the shop 'Test bench'")


def test_what_was_cancelled_or_withdrawn_since_is_no_loss(book: Book, out: Path) -> None:
    later = LATER
    with book.transaction() as work:
        work.add([PriceChange("rump", 2999, later, "summer")])
        work.add([Stage("S3", StageKind.TRIMOUT, later), Input("S3", Source.PIECE, "P5", 100)])
    dump_folder(book, out)
    assert "29.99" in (out / "prices.csv").read_text()
    with book.transaction() as work:
        work.note([PriceWithdrawn("rump", later, later - timedelta(days=1), "Ana", "")])
        work.cancel_stage("S3", later, "Ana", "")
    dump_folder(book, out)
    assert "29.99" not in (out / "prices.csv").read_text()
    assert "S3" not in (out / "stages.csv").read_text()


@pytest.mark.parametrize(
    ("rows", "back", "said"),
    [
        (
            [PriceChange("rump", 2999, LATER, "summer")],
            PriceWithdrawn("rump", LATER, LATER - timedelta(days=1)),
            "prices.csv:3: from: 'rump' was taken back in the book",
        ),
        (
            [WriteOff("P5", 10, LATER, "dropped")],
            WriteOffWithdrawn("P5", LATER, "dropped", LATER),
            "writeoffs.csv:3: written_off_at: 'P5' was taken back in the book",
        ),
    ],
)
def test_what_was_taken_back_is_no_loss_and_does_not_come_in_again(
    book: Book, out: Path, rows: list[Entry], back: PriceWithdrawn | WriteOffWithdrawn, said: str
) -> None:
    with book.transaction() as work:
        work.add(rows)
    dump_folder(book, out)
    with book.transaction() as work:
        work.note([back])
    with pytest.raises(Refusal, match=re.escape(said)):
        load_folder(book, out)
    dump_folder(book, out)
    assert sum(load_folder(book, out).added.values()) == 0


def test_what_stands_beside_the_trade_may_change_and_is_not_lost(
    new_book: NewBook, tmp_path: Path
) -> None:
    """A recipe that was changed in the book is replaced; one that the book has not got is not."""
    book = new_book("beside")
    load_folder(book, write_beside(tmp_path / "in"))
    out = tmp_path / "out"
    dump_folder(book, out)
    with book.transaction() as work:
        work.put_recipe(
            Recipe("plain", "Coarse mince", "mince"), [RecipeLine("plain", 1, 1000, "trim")]
        )
        work.put(Person("Joss", active=False))
    dump_folder(book, out)
    assert "Coarse mince" in (out / "recipes.csv").read_text()
    assert "Joss" not in (out / "people.csv").read_text()
    with (out / "recipes.csv").open("a") as file:
        file.write("lean,Lean mince,mince,,,,\n")
    refused(book, out, r"recipes\.csv:3: 'lean' is not so in the book")
    dump_folder(book, out, replace=True)
    assert "Lean mince" not in (out / "recipes.csv").read_text()


def test_other_files_are_kept_even_then(book: Book, out: Path) -> None:
    (out / "holiday.jpg").touch()
    with pytest.raises(Refusal, match=r"holiday\.jpg"):
        dump_folder(book, out, replace=True)
    assert set(contents(out)) == {*FILES, "holiday.jpg"}


def test_a_name_that_leads_elsewhere_stays_one(book: Book, out: Path, tmp_path: Path) -> None:
    """The folder at the other end is replaced, not the name that leads to it."""
    kept = tmp_path / "kept"
    shutil.move(out, kept)
    out.symlink_to(kept, target_is_directory=True)
    dump_folder(book, out)
    assert out.is_symlink()
    assert set(contents(kept)) == set(FILES)


def test_a_move_that_fails_brings_the_earlier_dump_back(
    book: Book, out: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before, beside = contents(out), sorted(out.parent.iterdir())
    real = Path.rename

    def interrupted(self: Path, target: Path) -> Path:
        if self.suffix == ".part":
            raise KeyboardInterrupt
        return real(self, target)

    monkeypatch.setattr(Path, "rename", interrupted)
    with pytest.raises(KeyboardInterrupt):
        dump_folder(book, out)
    assert contents(out) == before
    assert sorted(out.parent.iterdir()) == beside
