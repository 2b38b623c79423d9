"""What the last bodies cut by a list really yielded: medians by hand, and what does not count."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from gambrel.domain.bench.usual import LATEST, UsualYields, usual_loss, usual_yields
from gambrel.domain.trade.records import Source, StageKind, Trade
from tests.trades import Bench


def cut_by_hand(bench: Bench, rump: int, bone: int = 0, *, still_open: bool = False) -> str:
    body = bench.body(10_000, 900)
    stage = bench.stage((Source.BODY, body, None), still_open=still_open)
    for cut, grams in (("rump", rump), ("bone", bone)):
        if grams:
            bench.piece(stage, cut, grams)
    return stage


def listed(bench: Bench, name: str = "Hind") -> Trade:
    trade = bench.trade()
    return replace(trade, stages=tuple(replace(stage, list=name) for stage in trade.stages))


def usual(trade: Trade) -> UsualYields:
    return usual_yields(trade, "Hind", "beef", "hindquarter")


def test_the_median_of_the_last_bodies_is_taken_to_a_tenth() -> None:
    bench = Bench()
    for rump, bone in ((800, 2000), (845, 0), (1900, 1800)):
        cut_by_hand(bench, rump, bone)
    found = usual(listed(bench))
    assert found == UsualYields(3, {"rump": Decimal("8.5"), "bone": Decimal("18.0")})


def test_two_pieces_of_a_cut_count_together_and_a_void_for_nothing() -> None:
    bench = Bench()
    stages = [cut_by_hand(bench, 500) for _ in range(3)]
    for stage in stages:
        bench.piece(stage, "rump", 100)
        bench.void(bench.piece(stage, "rump", 3000))
    assert usual(listed(bench)).percent == {"rump": Decimal("6.0")}


def test_what_most_bodies_did_not_give_is_no_norm() -> None:
    bench = Bench()
    for bone in (0, 0, 1800):
        cut_by_hand(bench, 800, bone)
    assert usual(listed(bench)).percent == {"rump": Decimal("8.0")}


def test_open_work_other_lists_and_other_portions_do_not_count() -> None:
    bench = Bench()
    for _ in range(3):
        cut_by_hand(bench, 800)
    cut_by_hand(bench, 9000, still_open=True)
    piece = bench.piece("S1", "shin", 1000)
    bench.stage((Source.PIECE, piece, None), kind=StageKind.TRIMOUT)
    trade = listed(bench)
    assert usual(trade).bodies == 3
    assert usual_yields(trade, "Other", "beef", "hindquarter") == UsualYields()
    assert usual_yields(trade, "Hind", "beef", "side") == UsualYields()


def test_two_bodies_make_no_habit_and_old_ones_do_not_count() -> None:
    bench = Bench()
    for _ in range(2):
        cut_by_hand(bench, 800)
    assert usual(listed(bench)) == UsualYields(2)
    bench = Bench()
    for number in range(LATEST + 30):
        cut_by_hand(bench, 5000 if number < 30 else 800)
    assert usual(listed(bench)) == UsualYields(LATEST, {"rump": Decimal("8.0")})


def test_the_usual_loss_is_what_the_finished_bodies_left_unexplained() -> None:
    bench = Bench()
    for rump in (9900, 9800, 9500):
        cut_by_hand(bench, rump)
    trade = listed(bench)
    assert usual_loss(trade, "beef", "hindquarter") == Decimal("0.02")
    assert usual_loss(trade, "beef", "hindquarter", without="S1") is None
