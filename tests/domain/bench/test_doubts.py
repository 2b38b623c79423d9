from __future__ import annotations

from datetime import datetime, timedelta
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.bench.block import OnBlock, block_state
from gambrel.domain.bench.doubts import SAME_AGAIN, TIMES_THE_NORM, DoubtKind, doubts
from gambrel.domain.bench.worktime import work_clock, worked_time
from gambrel.domain.trade.catalogue import ListLine
from gambrel.domain.trade.records import Body, Input, Piece, Source, Stage, StageKind, Trade, Void
from tests.trades import CUTS, START, a_shop

MINUTE = timedelta(minutes=1)


def on_block(*weights: tuple[str, int, datetime], voided: tuple[str, ...] = ()) -> OnBlock:
    """A quarter of 80 kg whose rump should be 4 kg, with some pieces weighed."""
    pieces = tuple(
        Piece(f"P{number}", "S1", cut, grams, 0, at)
        for number, (cut, grams, at) in enumerate(weights, start=1)
    )
    trade = Trade(
        a_shop(),
        cuts=CUTS,
        lists=(ListLine("L", "beef", "hindquarter", 1, "rump", Decimal(5)),),
        bodies=(Body("B1", "beef", "hindquarter", "farm", START, 80_000, 1000),),
        stages=(Stage("S1", StageKind.BREAK, START, list="L"),),
        inputs=(Input("S1", Source.BODY, "B1"),),
        pieces=pieces,
        voids=tuple(Void(key, START) for key in voided),
    )
    return block_state(trade, "S1")


def kinds(block: OnBlock, cut: str, grams: int, now: datetime = START) -> list[DoubtKind]:
    return [doubt.kind for doubt in doubts(block, cut, grams, now)]


def test_an_ordinary_weight_is_not_asked_about() -> None:
    assert kinds(on_block(), "rump", 4386) == []


def test_more_than_is_left_is_asked_about_and_exactly_what_is_left_is_not() -> None:
    block = on_block(("shin", 50_000, START))
    later = START + MINUTE
    assert kinds(block, "bone", 30_000, later) == []
    assert kinds(block, "bone", 30_001, later) == [DoubtKind.MORE_THAN_LEFT]


def test_a_slip_of_the_decimal_point_is_far_from_the_norm() -> None:
    assert kinds(on_block(), "rump", 43_860) == [DoubtKind.FAR_FROM_NORM]


def test_the_piece_that_passes_three_norms_is_asked_about_and_small_ones_after_it_are_not() -> None:
    bound = TIMES_THE_NORM * 4000
    before = on_block(("rump", bound, START))
    assert kinds(before, "rump", 1, START + MINUTE) == [DoubtKind.FAR_FROM_NORM]
    past = on_block(("rump", bound + 1, START))
    assert kinds(past, "rump", 500, START + MINUTE) == []


def test_the_same_cut_and_weight_again_at_once_is_asked_about() -> None:
    block = on_block(("shin", 3100, START))
    assert kinds(block, "shin", 3100, START + SAME_AGAIN) == [DoubtKind.SAME_AGAIN]
    assert kinds(block, "shin", 3101, START + SAME_AGAIN) == []
    assert kinds(block, "bone", 3100, START + SAME_AGAIN) == []
    assert kinds(block, "shin", 3100, START + SAME_AGAIN + timedelta(milliseconds=1)) == []


def test_a_piece_that_was_taken_back_is_no_reason_to_ask() -> None:
    block = on_block(("shin", 3100, START), voided=("P1",))
    assert kinds(block, "shin", 3100, START) == []
    assert block.output_g == 0


def test_every_doubt_is_a_sentence_with_a_question() -> None:
    block = on_block(("rump", 79_000, START))
    found = doubts(block, "rump", 79_000, START)
    assert {doubt.kind for doubt in found} == set(DoubtKind)
    assert all(doubt.sentence.endswith("?") for doubt in found)


@given(st.lists(st.integers(0, 600), min_size=1, max_size=20), st.integers(1, 60))
def test_the_work_clock_never_runs_faster_than_the_wall(gaps: list[int], pause: int) -> None:
    moments = [START]
    for gap in gaps:
        moments.append(moments[-1] + gap * MINUTE)
    limit = pause * MINUTE
    worked = worked_time(reversed(moments), limit)
    assert worked == sum((min(gap * MINUTE, limit) for gap in gaps), timedelta(0))
    assert timedelta(0) <= worked <= moments[-1] - moments[0]


def test_the_clock_pauses_when_nothing_is_weighed_and_says_so() -> None:
    ten = 10 * MINUTE
    running = work_clock([START], START + 9 * MINUTE, ten)
    assert (running.worked, running.paused) == (9 * MINUTE, False)
    paused = work_clock([START], START + 3 * ten, ten)
    assert (paused.worked, paused.paused, paused.minutes) == (ten, True, Decimal(10))
