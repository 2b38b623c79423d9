"""What the book promises to services, on SQLite and on PostgreSQL alike."""

from __future__ import annotations

import threading
from dataclasses import replace
from decimal import Decimal
from random import Random

import pytest

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.records import Body, Input, Piece, Reweigh, Source, Stage, StageKind, Void
from gambrel.storage.book import Book, open_book
from gambrel.storage.work import Work
from tests.storage.samples import SHOP, TRADE, at, entries


@pytest.fixture
def filled(book: Book) -> Book:
    with book.transaction() as work:
        work.set_shop(SHOP)
        work.add(entries(TRADE))
    return book


def test_a_trade_comes_back_as_it_was_written(filled: Book) -> None:
    with filled.reading() as work:
        assert work.trade() == TRADE


def test_the_order_of_writing_does_not_matter(book: Book) -> None:
    shuffled = entries(TRADE)
    Random(7).shuffle(shuffled)
    with book.transaction() as work:
        work.set_shop(SHOP)
        work.add(shuffled)
        assert work.trade() == TRADE


def test_a_closed_book_opens_again_with_everything_in_it(filled: Book, place: str) -> None:
    filled.close()
    with open_book(place, create=False) as again, again.reading() as work:
        assert work.trade() == TRADE


def test_a_sound_book_has_no_faults(filled: Book) -> None:
    assert filled.check() == []


def test_a_book_without_a_shop_says_so(book: Book) -> None:
    with book.reading() as work:
        assert work.shop() is None
        with pytest.raises(Refusal, match="no shop yet"):
            work.trade()


def test_the_shop_and_settings_can_change(filled: Book) -> None:
    moved = replace(SHOP, name="Other", prices_include_tax=False)
    with filled.transaction() as work:
        assert work.setting("hook") is None
        work.set_shop(moved)
        work.set_setting("hook", "one")
        work.set_setting("hook", "two")
    with filled.reading() as work:
        assert work.shop() == moved
        assert work.setting("hook") == "two"


def test_a_failed_act_leaves_nothing(filled: Book) -> None:
    with pytest.raises(ZeroDivisionError), filled.transaction() as work:  # noqa: PT012
        work.add([Void("P1", at(90))])
        assert work.voided("P1")
        raise ZeroDivisionError
    with filled.reading() as work:
        assert work.trade() == TRADE
        assert not work.voided("P1")


def test_a_key_that_is_taken_is_refused_and_nothing_of_the_act_kept(filled: Book) -> None:
    again = Piece("P1", "S2", "rump", 900, 0, at(99))
    other = again._replace(key="P77")
    with pytest.raises(Refusal, match="already holds"), filled.transaction() as work:
        work.add([other, again])
    with filled.reading() as work:
        assert work.trade() == TRADE


def test_what_is_no_record_is_a_bug(filled: Book) -> None:
    with pytest.raises(TypeError, match="str"), filled.transaction() as work:
        work.add(["rump"])  # type: ignore[list-item]  # the point


def test_small_looks_agree_with_the_whole_trade(filled: Book) -> None:
    with filled.reading() as work:
        assert tuple(work.suppliers()) == TRADE.suppliers
        assert tuple(work.cuts()) == TRADE.cuts
        assert tuple(work.lists()) == TRADE.lists
        assert [work.stage(stage.key) for stage in TRADE.stages] == list(TRADE.stages)
        assert [work.piece(piece.key) for piece in TRADE.pieces] == list(TRADE.pieces)
        assert work.pieces_of("S1") == [row for row in TRADE.pieces if row.stage == "S1"]
        assert (work.stage("S0"), work.piece("P0"), work.pieces_of("S0")) == (None, None, [])


def test_one_stage_is_seen_with_what_bears_on_it(filled: Book) -> None:
    with filled.reading() as work:
        seen = work.stage_trade("S1")
        with pytest.raises(Refusal, match="no stage S0"):
            work.stage_trade("S0")
    assert seen == replace(
        TRADE,
        suppliers=TRADE.suppliers[1:],
        lists=TRADE.lists[:2],
        bodies=TRADE.bodies[:1],
        stages=TRADE.stages[:1],
        inputs=TRADE.inputs[:1],
        pieces=TRADE.pieces[:4],
    )


def test_the_last_piece_is_the_last_that_stands(filled: Book) -> None:
    with filled.reading() as work:
        assert work.last_piece("S1") == TRADE.pieces[2]  # P10 after P2; P11 was taken back
        assert work.last_piece("S1", "block-2") == TRADE.pieces[1]
        assert work.last_piece("S1", "block-9") is None
        assert work.last_piece("S10") is None


def test_what_was_taken_back_and_what_went_on_is_known(filled: Book) -> None:
    with filled.reading() as work:
        assert [work.voided(piece.key) for piece in TRADE.pieces] == [
            piece.key == "P11" for piece in TRADE.pieces
        ]
        assert [piece.key for piece in TRADE.pieces if work.used_later(piece.key)] == ["P1", "P2"]


def test_finishing_and_reopening_is_kept_as_events(filled: Book) -> None:
    with filled.transaction() as work:
        work.finish_stage("S2", at(70), Decimal("19.5"), "Joss")
        assert work.stage("S2") == replace(
            TRADE.stages[1], finished_at=at(70), minutes=Decimal("19.5")
        )
        with pytest.raises(Refusal, match="finished already"):
            work.finish_stage("S2", at(71), Decimal(1), "Joss")
        work.reopen_stage("S2", at(72), "Joss", "one more steak")
        assert work.stage("S2") == replace(TRADE.stages[1], minutes=Decimal("19.5"))
        with pytest.raises(Refusal, match="open already"):
            work.reopen_stage("S2", at(73), "Joss", "")
        with pytest.raises(Refusal, match="started later"):
            work.finish_stage("S2", at(0), Decimal(1), "Joss")
        work.finish_stage("S2", at(80), Decimal(25), "Ana")
    with filled.reading() as work:
        assert work.trade().stages[1] == replace(
            TRADE.stages[1], finished_at=at(80), minutes=Decimal(25)
        )


def test_acts_on_a_stage_that_is_not_there_are_refused(filled: Book) -> None:
    with filled.transaction() as work:
        with pytest.raises(Refusal, match="no stage S0"):
            work.finish_stage("S0", at(1), Decimal(1), "")
        with pytest.raises(Refusal, match="no stage S0"):
            work.reopen_stage("S0", at(1), "", "")
        with pytest.raises(Refusal, match="no stage S0"):
            work.cancel_stage("S0", at(1), "", "")


def test_a_cancelled_stage_gives_back_what_it_took(filled: Book) -> None:
    with filled.transaction() as work:
        with pytest.raises(Refusal, match="Take them back first"):
            work.cancel_stage("S2", at(70), "Joss", "wrong piece")
        work.add([Void("P3", at(70))])
        work.cancel_stage("S2", at(71), "Joss", "wrong piece")
    with filled.reading() as work:
        assert work.trade() == replace(
            TRADE,
            stages=(TRADE.stages[0], TRADE.stages[2]),
            inputs=TRADE.inputs[:2],
            pieces=TRADE.pieces[:4],
        )
        assert not work.used_later("P1")
        assert work.stage("S2") is None
        assert work.cancelled_stages() == ["S2"]
        with pytest.raises(Refusal, match="no stage S2"):
            work.stage_trade("S2")
    assert filled.check() == []


def test_nearby_shows_who_else_takes_of_the_same(filled: Book) -> None:
    with filled.transaction() as work:
        assert work.nearby("S10") == work.stage_trade("S10")
        seen = work.nearby("S2")
        assert [piece.key for piece in seen.pieces] == ["P1", "P3"]
        work.add([Input("S10", Source.PIECE, "P1", 100)])
        assert [stage.key for stage in work.nearby("S2").stages] == ["S2", "S10"]
        work.cancel_stage("S10", at(99), "", "")
        assert [stage.key for stage in work.nearby("S2").stages] == ["S2"]


def test_a_look_does_not_change_while_others_write(filled: Book) -> None:
    with filled.reading() as work:
        before = work.trade()
        with filled.transaction() as other:
            other.add([Body("B9", "beef", "side", "farm", at(100), 1000, 100)])
        assert work.trade() == before
    with filled.reading() as work:
        assert len(work.trade().bodies) == 3


def test_one_writer_waits_for_the_other(filled: Book) -> None:
    """Read, add one, write, in two threads at once: no step of either is lost."""

    def count(work: Work) -> int:
        return int(work.setting("count") or 0)

    def step_often() -> None:
        for _ in range(40):
            with filled.transaction() as work:
                work.set_setting("count", str(count(work) + 1))

    threads = [threading.Thread(target=step_often) for _ in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    with filled.reading() as work:
        assert count(work) == 80


def test_a_book_opened_for_reading_is_read_and_not_written(filled: Book, place: str) -> None:
    with open_book(place, read_only=True) as closed:
        with closed.reading() as work:
            assert work.trade() == TRADE
        with pytest.raises(Refusal, match="for reading only"), closed.transaction():
            pass


def test_rows_that_name_what_is_not_there_are_a_bug(filled: Book) -> None:
    from sqlalchemy.exc import IntegrityError

    for row in (
        Body("B9", "beef", "side", "nobody", at(0), 1, 1),
        Reweigh("B0", at(0), 1),
        Piece("P9", "S0", "rump", 1, 0, at(0)),
        Piece("P9", "S1", "nothing", 1, 0, at(0)),
        Input("S1", Source.PIECE, "P0"),
        Void("P0", at(0)),
    ):
        with pytest.raises(IntegrityError), filled.transaction() as work:
            work.add([row])
    with filled.reading() as work:
        assert work.trade() == TRADE


def test_a_stage_that_comes_in_finished_has_its_event_at_once(filled: Book) -> None:
    late = Stage("S11", StageKind.BREAK, at(200), at(230), "Ana", Decimal(30))
    with filled.transaction() as work:
        work.add([late])
        work.reopen_stage("S11", at(231), "Ana", "forgot the shin")
        assert work.stage("S11") == replace(late, finished_at=None)
