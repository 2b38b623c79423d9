"""Dated specials in a real book: one act each, undone as one, and never a row lost."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from gambrel.domain.prices.schedule import Schedule, schedule_of
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import PriceWithdrawn
from gambrel.services.books import Book, open_book
from gambrel.services.cabinet import cabinet, set_price
from gambrel.services.folder.load import load_folder
from gambrel.services.folder.write import dump_folder
from gambrel.services.price_acts import undo
from gambrel.services.specials import end_special, set_special
from gambrel.services.tickets import print_tickets

SATURDAY = datetime(2026, 11, 21, 3, tzinfo=UTC)
"""Two in the afternoon in the demo's shop."""

WEEKEND = (date(2026, 11, 27), date(2026, 11, 29))
FRIDAY = datetime(2026, 11, 27, 3, tzinfo=UTC)
MONDAY = datetime(2026, 11, 30, 3, tzinfo=UTC)
MINUTE = timedelta(minutes=1)


@pytest.fixture
def book(demo_file: Path, tmp_path: Path) -> Iterator[Book]:
    copied = shutil.copy(demo_file, tmp_path / "demo.gambrel")
    with open_book(str(copied)) as opened:
        yield opened


def rump(book: Book) -> Schedule:
    with book.reading() as work:
        cut = next(cut for cut in work.cuts() if cut.key == "rump")
        return schedule_of(cut, work.trade().prices, work.every(PriceWithdrawn))


def price(book: Book, now: datetime) -> int:
    return cabinet(book, now).prices["rump"]


def test_a_special_comes_and_goes_by_itself(book: Book) -> None:
    act = set_special(book, "rump", 2199, WEEKEND, SATURDAY)
    assert [price(book, moment) for moment in (SATURDAY, FRIDAY, MONDAY)] == [2799, 2199, 2799]
    assert act.plans[0].after == rump(book)
    line = cabinet(book, FRIDAY).line("rump")
    assert line is not None
    assert line.on_special(FRIDAY)
    assert line.special is not None
    assert (line.special.price, line.special.returns) == (2199, 2799)


def test_a_special_is_undone_as_one_act(book: Book) -> None:
    act = set_special(book, "rump", 2199, WEEKEND, SATURDAY)
    undo(book, act, SATURDAY + MINUTE)
    assert [price(book, moment) for moment in (FRIDAY, MONDAY)] == [2799, 2799]
    assert rump(book).specials() == []
    again = set_special(book, "rump", 2099, WEEKEND, SATURDAY + 2 * MINUTE)
    assert price(book, FRIDAY) == 2099, "the same days may be taken again"
    undo(book, again, FRIDAY)
    assert price(book, FRIDAY + MINUTE) == 2799


def test_a_special_that_runs_is_ended_and_that_undone(book: Book) -> None:
    set_special(book, "rump", 2199, WEEKEND, SATURDAY)
    ended = end_special(book, "rump", FRIDAY)
    assert price(book, FRIDAY + MINUTE) == 2799
    assert len(ended.withdrawn) == 1
    undo(book, ended, FRIDAY + MINUTE)
    assert [price(book, m) for m in (FRIDAY + 2 * MINUTE, MONDAY)] == [2199, 2799]
    assert rump(book).runs(FRIDAY + 2 * MINUTE)


def test_a_regular_price_set_meanwhile_is_what_the_special_returns_to(book: Book) -> None:
    set_special(book, "rump", 2199, WEEKEND, SATURDAY)
    act = set_price(book, "rump", 2899, FRIDAY)
    assert [price(book, m) for m in (FRIDAY + MINUTE, MONDAY)] == [2199, 2899]
    undo(book, act, FRIDAY + MINUTE)
    assert [price(book, m) for m in (FRIDAY + 2 * MINUTE, MONDAY)] == [2199, 2799]
    set_price(book, "rump", 2999, SATURDAY + timedelta(days=6, hours=1))
    assert price(book, MONDAY) == 2999


def test_a_regular_price_before_the_special_is_also_what_it_returns_to(book: Book) -> None:
    set_special(book, "rump", 2199, WEEKEND, SATURDAY)
    set_price(book, "rump", 2899, SATURDAY + MINUTE)
    later = (SATURDAY + MINUTE, FRIDAY, MONDAY)
    assert [price(book, moment) for moment in later] == [2899, 2199, 2899]


def test_a_refused_special_writes_nothing(book: Book) -> None:
    set_special(book, "rump", 2199, WEEKEND, SATURDAY)
    stood = rump(book)
    for days in (WEEKEND, (WEEKEND[1], WEEKEND[0]), (date(2026, 11, 1), WEEKEND[1])):
        with pytest.raises(Refusal):
            set_special(book, "rump", 1999, days, SATURDAY + MINUTE)
    for wrong in (0, -5, 10**12):
        with pytest.raises(Refusal, match="Rump"):
            set_special(book, "rump", wrong, (date(2026, 12, 1), date(2026, 12, 1)), SATURDAY)
    assert rump(book) == stood


@pytest.mark.parametrize("cut", ["no-such-cut", "beef-bone"])
def test_what_is_not_sold_by_price_gets_no_special(book: Book, cut: str) -> None:
    with pytest.raises(Refusal):
        set_special(book, cut, 1000, WEEKEND, SATURDAY)
    with pytest.raises(Refusal):
        end_special(book, cut, SATURDAY)


def test_a_book_with_a_special_passes_its_own_check(book: Book) -> None:
    act = set_special(book, "rump", 2199, WEEKEND, SATURDAY)
    undo(book, act, SATURDAY + MINUTE)
    assert book.check() == []


def test_a_server_keeps_the_same_schedule(pg_database: str, book: Book) -> None:
    with open_book(pg_database) as server:
        with book.reading() as read, server.transaction() as work:
            trade = read.trade()
            work.set_shop(trade.shop)
            work.add([*trade.cuts, *trade.prices])
        for each in (book, server):
            set_special(each, "rump", 2199, WEEKEND, SATURDAY)
            act = set_price(each, "rump", 2899, FRIDAY)
            undo(each, act, FRIDAY + MINUTE)
            ended = end_special(each, "rump", FRIDAY + 2 * MINUTE)
            undo(each, ended, FRIDAY + 3 * MINUTE)
        assert rump(server) == rump(book)


def test_a_ticket_tells_the_last_day_though_the_return_was_replaced(book: Book) -> None:
    set_special(book, "rump", 2199, WEEKEND, SATURDAY)
    set_price(book, "rump", 2899, FRIDAY)
    [ticket] = print_tickets(book, ["rump"], "a4-8", FRIDAY + MINUTE).tickets
    assert ticket.was is not None
    assert ticket.was.last_day == WEEKEND[1]


def test_the_plain_files_carry_a_schedule_to_the_microsecond(book: Book, tmp_path: Path) -> None:
    odd = FRIDAY + timedelta(microseconds=123_456)
    set_special(book, "rump", 2199, (FRIDAY.date(), WEEKEND[1]), odd)
    undo(book, set_price(book, "rump", 2899, odd + MINUTE), odd + 2 * MINUTE)
    dump_folder(book, tmp_path / "out")
    with open_book(str(tmp_path / "again.gambrel")) as again:
        load_folder(again, tmp_path / "out")
        assert rump(again).rows == rump(book).rows
