from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime, time
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.catalogue import Supplier
from gambrel.domain.trade.records import Trade, WriteOff
from gambrel.domain.trade.rows import TABLES, rows_of
from gambrel.services.books import Book
from gambrel.services.folder.forms import FILES
from gambrel.services.folder.load import load_folder
from gambrel.services.folder.read import read_folder
from gambrel.services.folder.write import dump_folder, write_trade
from tests.small_shop import write_shop
from tests.trades import random_trades

NewBook = Callable[[str], Book]

HOSTILE = '=1+1, "quoted"\r\nand\ra\n new line\t;|\\ é 漢 𝄞'


def held(book: Book) -> Trade:
    with book.reading() as work:
        return work.trade()


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


def test_dump_then_load_gives_the_same_book(new_book: NewBook, tmp_path: Path) -> None:
    first, second = new_book("first"), new_book("second")
    load_folder(first, write_shop(tmp_path / "in"))
    rows = dump_folder(first, tmp_path / "deep" / "out")
    assert rows["pieces"] == 5
    assert sorted(contents(tmp_path / "deep" / "out")) == sorted(FILES)
    load_folder(second, tmp_path / "deep" / "out")
    assert held(second) == held(first)
    dump_folder(second, tmp_path / "again")
    assert contents(tmp_path / "again") == contents(tmp_path / "deep" / "out")


words = st.one_of(
    st.just(HOSTILE),
    st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=20),
)


@st.composite
def any_trades(draw: st.DrawFn) -> Trade:
    """Trades that could happen, with texts that a spreadsheet or a CSV reader would trip over."""
    trade = draw(random_trades())
    shop = replace(
        trade.shop,
        name=draw(words.filter(str.strip)),
        time_zone=draw(st.sampled_from(["Australia/Lord_Howe", "America/St_Johns", "UTC"])),
        day_starts=draw(st.times().map(lambda at: time(at.hour, at.minute))),
        week_starts=draw(st.integers(0, 6)),
    )
    writeoffs = tuple(
        WriteOff(piece.key, 1, datetime(2026, 12, 24, 1, 2, 3, 456, UTC), draw(words))
        for piece in trade.standing
        if piece.net_g > 1 and piece.key not in {row.key for row in trade.inputs}
    )
    return replace(
        trade,
        shop=shop,
        suppliers=(Supplier("farm", draw(words.filter(str.strip)), draw(words)),),
        cuts=tuple(replace(cut, name=draw(words.filter(str.strip))) for cut in trade.cuts),
        pieces=tuple(piece._replace(person=draw(words)) for piece in trade.pieces),
        stages=tuple(
            replace(stage, minutes=draw(st.decimals(0, 999, places=6))) for stage in trade.stages
        ),
        writeoffs=writeoffs,
    )


@given(any_trades())
@settings(max_examples=60)
def test_every_trade_is_read_back_as_it_was_written(
    tmp_path_factory: pytest.TempPathFactory, trade: Trade
) -> None:
    folder = tmp_path_factory.mktemp("trade")
    write_trade(trade, folder)
    read = read_folder(folder, None)
    read.refusals.raise_any()
    assert read.shop == trade.shop
    for table in TABLES:
        assert read.tables[table].records == list(rows_of(trade, table))


@given(trade=any_trades())
@settings(max_examples=8)
def test_every_trade_goes_through_two_books(
    tmp_path_factory: pytest.TempPathFactory, empty_book: Path, trade: Trade
) -> None:
    import shutil

    from gambrel.services.books import open_book

    place = tmp_path_factory.mktemp("books")
    (place / "in").mkdir()
    write_trade(trade, place / "in")
    books = []
    for name in ("first", "second"):
        shutil.copy(empty_book, place / name)
        books.append(open_book(str(place / name)))
    first, second = books
    load_folder(first, place / "in")
    dump_folder(first, place / "out")
    load_folder(second, place / "out")
    assert held(second) == held(first)
    first.close()
    second.close()


def test_hostile_texts_survive(new_book: NewBook, tmp_path: Path) -> None:
    first, second = new_book("first"), new_book("second")
    load_folder(first, write_shop(tmp_path / "in"))
    with first.transaction() as work:
        work.add([Supplier("hostile", HOSTILE, "@SUM(A1)")])
    dump_folder(first, tmp_path / "out")
    load_folder(second, tmp_path / "out")
    assert [s.name for s in held(second).suppliers] == ["A farm", HOSTILE]


def test_an_earlier_dump_is_replaced_and_anything_else_is_not(
    new_book: NewBook, tmp_path: Path
) -> None:
    book = new_book("shop")
    load_folder(book, write_shop(tmp_path / "in"))
    out = tmp_path / "out"
    out.mkdir()
    dump_folder(book, out)
    before = contents(out)
    dump_folder(book, out)
    assert contents(out) == before
    (out / "holiday.jpg").touch()
    with pytest.raises(Refusal, match=r"holds holiday\.jpg, which a dump would take away"):
        dump_folder(book, out)
    assert set(contents(out)) == {*before, "holiday.jpg"}
    (tmp_path / "file").touch()
    with pytest.raises(Refusal, match="is a file"):
        dump_folder(book, tmp_path / "file")


def test_a_book_without_a_shop_has_nothing_to_write(book: Book, tmp_path: Path) -> None:
    with pytest.raises(Refusal, match="no shop yet"):
        dump_folder(book, tmp_path / "out")
    assert not (tmp_path / "out").exists()


def test_a_disk_that_fails_leaves_the_earlier_dump(
    book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    load_folder(book, write_shop(tmp_path / "in"))
    dump_folder(book, tmp_path / "out")
    before, beside = contents(tmp_path / "out"), sorted(tmp_path.iterdir())

    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space left"):
        dump_folder(book, tmp_path / "out")
    assert contents(tmp_path / "out") == before
    assert sorted(tmp_path.iterdir()) == beside


def test_prices_from_a_business_day_on_are_written_as_its_date(book: Book, tmp_path: Path) -> None:
    load_folder(book, write_shop(tmp_path / "in"))
    dump_folder(book, tmp_path / "out")
    assert "rump,27.99,2026-11-20,dearer\n" in (tmp_path / "out" / "prices.csv").read_text()
    assert held(book).stages[0].minutes == Decimal("22.5")
