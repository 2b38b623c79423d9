from __future__ import annotations

from datetime import timedelta

import pytest

from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import WriteOffWithdrawn
from gambrel.services import bench, tub
from gambrel.services.tub import WRITE_OFF_REASONS, Portion
from gambrel.storage.book import Book
from tests.blend_shop import DAY, Pieces
from tests.block_shop import Hand


def free(book: Book, hand: Hand, cut: str) -> int:
    found = tub.standing_trim(book, hand.now).of_cut(cut)
    return found.free_g if found else 0


def test_what_is_past_its_day_is_written_off_and_gone(
    book: Book, hand: Hand, pieces: Pieces
) -> None:
    hand.now += 4 * DAY
    assert free(book, hand, "trim-70") == 14_000
    row = tub.write_off(book, pieces.old_70, None, WRITE_OFF_REASONS[0], hand.act())
    assert (row.grams, row.reason) == (8000, "past its use-by")
    assert free(book, hand, "trim-70") == 6000
    with book.reading() as work:
        trade = work.trade()
    assert trade.writeoffs == (row,)
    assert roll_up(trade).totals.difference == 0
    with pytest.raises(Refusal, match="Nothing is left"):
        tub.write_off(book, pieces.old_70, None, "again", hand.act())


def test_a_write_off_is_taken_back_and_stays_in_the_record(
    book: Book, hand: Hand, pieces: Pieces
) -> None:
    row = tub.write_off(book, pieces.old_70, 3000, "dropped", hand.act())
    assert free(book, hand, "trim-70") == 11_000
    tub.take_back_write_off(book, row, hand.act())
    assert free(book, hand, "trim-70") == 14_000
    with book.reading() as work:
        assert work.trade().writeoffs == ()
        (gone,) = work.every(WriteOffWithdrawn)
        assert (gone.piece, gone.written_off_at, gone.why) == (row.piece, row.at, row.reason)
        assert not work.used_later(pieces.old_70)
        assert roll_up(work.trade()).totals.difference == 0
    with pytest.raises(Refusal, match="taken back already"):
        tub.take_back_write_off(book, row, hand.act())


def test_the_same_is_written_off_again_at_the_same_moment(
    book: Book, hand: Hand, pieces: Pieces
) -> None:
    act = hand.act()
    row = tub.write_off(book, pieces.old_70, 3000, "dropped", act)
    tub.take_back_write_off(book, row, act)
    again = tub.write_off(book, pieces.old_70, 2000, "dropped", act)
    assert again.at > row.at
    with book.reading() as work:
        assert work.trade().writeoffs == (again,)


def test_what_is_used_since_does_not_stand_in_the_way_of_taking_back(
    book: Book, hand: Hand, pieces: Pieces
) -> None:
    row = tub.write_off(book, pieces.old_70, 3000, "dropped", hand.act())
    tub.start_blend(book, [Portion(pieces.old_70, 5000)], [], hand.act())
    tub.take_back_write_off(book, row, hand.act())
    assert free(book, hand, "trim-70") == 9000


def test_part_of_a_piece_is_written_off(book: Book, hand: Hand, pieces: Pieces) -> None:
    tub.start_blend(book, [Portion(pieces.old_70, 5000)], [], hand.act())
    tub.write_off(book, pieces.old_70, 1000, "dropped", hand.act())
    assert free(book, hand, "trim-70") == 8000
    for grams in (2001, 0, -1):
        with pytest.raises(Refusal, match=r"Only 2\.000 kg"):
            tub.write_off(book, pieces.old_70, grams, "dropped", hand.act())
    with pytest.raises(Refusal, match="Say why"):
        tub.write_off(book, pieces.old_70, 1, "  ", hand.act())
    with pytest.raises(Refusal, match="does not stand"):
        tub.write_off(book, "nothing", 1, "dropped", hand.act())


def test_a_write_off_before_what_went_later_is_refused(
    book: Book, hand: Hand, pieces: Pieces
) -> None:
    slow = Hand(hand.now, station="tub-2")
    hand.now += timedelta(minutes=5)
    bench.start_trimout(book, pieces.rump, 4500, hand.act())
    # Half a kilo is left and may go, whichever came first; more is not there.
    with pytest.raises(Refusal, match=r"Only 0\.500 kg"):
        tub.write_off(book, pieces.rump, 600, "dropped", slow.act())
    assert tub.write_off(book, pieces.rump, 500, "dropped", slow.act()).grams == 500
