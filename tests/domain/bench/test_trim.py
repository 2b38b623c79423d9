from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.bench.trim import (
    FreeClass,
    Leans,
    Mark,
    Portion,
    Standing,
    free_classes,
    leans_of,
    take_chosen,
    take_oldest,
    tub_cuts,
)
from gambrel.domain.costing.takes import settle
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import CutLean, PieceLean
from gambrel.domain.trade.records import Source, Trade, WriteOff
from gambrel.domain.trade.use_by import use_by_days
from tests.trades import CUTS, START, Bench, random_trades

DAY = timedelta(days=1)
CLASSES = (CutLean("mince-trim", Decimal(75)),)


def two_tubs() -> tuple[Bench, str, str]:
    """Trim of two bodies, broken on Monday and on Wednesday; it keeps for four days."""
    lasting = tuple(replace(c, shelf_life_days=4 if c.key == "mince-trim" else None) for c in CUTS)
    bench = Bench(cuts=lasting)
    first = bench.stage((Source.BODY, bench.body(80_000, 1000), None))
    old = bench.piece(first, "mince-trim", 6000, tare=650)
    bench.piece(first, "rump", 5000)
    bench.now += 2 * DAY
    second = bench.stage((Source.BODY, bench.body(70_000, 1000), None))
    return bench, old, bench.piece(second, "mince-trim", 4000)


def standing(
    trade: Trade, days: float, leans: Leans | None = None, age: int | None = 3
) -> list[FreeClass]:
    at = Standing(START + days * DAY, use_by_days(trade), leans or Leans(), age)
    return free_classes(trade, tub_cuts(trade.cuts, at.leans), at)


def test_trim_stands_by_class_the_oldest_first_less_what_is_gone() -> None:
    bench, old, new = two_tubs()
    bench.stage((Source.PIECE, old, 1500))
    thrown = WriteOff(old, 500, bench.now, "dropped")
    trade = replace(bench.trade(), writeoffs=(thrown,))
    [row] = standing(trade, 2.5)
    assert [(free.piece.key, free.free_g) for free in row.pieces] == [(old, 4000), (new, 4000)]
    assert (row.free_g, row.usable_g) == (8000, 8000)
    # It is five in the morning of Thursday there, an hour into that business day.
    assert [(free.days, free.hours) for free in row.pieces] == [(3, 58), (1, 8)]


@pytest.mark.parametrize(
    ("after", "age", "mark", "days_left"),
    [
        (1, 3, Mark.FINE, 2),
        (2, 3, Mark.WATCH, 1),
        (3, 3, Mark.WATCH, 0),
        (4, 3, Mark.STOP, -1),
        (4, None, Mark.WATCH, 0),
        (5, None, Mark.STOP, -1),
        (4, 9, Mark.WATCH, 0),
    ],
)
def test_the_earlier_of_both_limits_marks_a_piece(
    after: int, age: int | None, mark: Mark, days_left: int
) -> None:
    bench, _, _ = two_tubs()
    [row] = standing(bench.trade(), after, age=age)
    assert (row.pieces[0].mark, row.pieces[0].days_left) == (mark, days_left)
    assert row.mark is mark


def test_fat_stands_at_the_tub_once_its_lean_is_set() -> None:
    assert tub_cuts(CUTS, Leans()) == {"mince-trim"}
    lean = Leans(of_cuts={"fat": Decimal(5), "rump": Decimal(95)})
    assert tub_cuts(CUTS, lean) == {"mince-trim", "fat"}


def test_fat_past_its_last_day_counts_as_collected() -> None:
    bench, _, _ = two_tubs()
    bench.piece("S1", "fat", 900)
    lean = Leans(of_cuts={"fat": Decimal(5)})
    trim, fat = standing(bench.trade(), 4, lean)
    assert (trim.mark, fat.mark) == (Mark.STOP, Mark.WATCH)
    [trim] = standing(bench.trade(), 7, lean)
    assert trim.cut.key == "mince-trim"


def test_without_any_limit_nothing_is_marked() -> None:
    bench = Bench()
    bench.piece(bench.stage((Source.BODY, bench.body(9000, 1), None)), "mince-trim", 100)
    [row] = standing(bench.trade(), 300, age=None)
    assert (row.mark, row.pieces[0].days_left, row.pieces[0].past) == (Mark.FINE, None, "")


def test_what_was_measured_counts_before_the_class_and_the_newest_first() -> None:
    bench, old, _ = two_tubs()
    measured = [
        PieceLean(old, START + 2 * DAY, Decimal("82.5")),
        PieceLean(old, START + DAY, Decimal(60)),
    ]
    [row] = standing(bench.trade(), 2, leans_of(CLASSES, measured))
    leans = [free.lean for free in row.pieces]
    assert leans == [(Decimal("82.5"), True), (Decimal(75), False)]
    assert row.lean_percent == (6 * Decimal("82.5") + 4 * Decimal(75)) / 10
    [row] = standing(bench.trade(), 2, leans_of([], measured))
    assert (row.pieces[1].lean, row.lean_percent) == (None, None)


def test_the_oldest_goes_first_and_the_last_in_part() -> None:
    bench, old, new = two_tubs()
    [row] = standing(bench.trade(), 2)
    assert take_oldest(row.pieces, 7000) == (Portion(old, 6000), Portion(new, 1000))
    assert take_oldest(row.pieces, 6000) == (Portion(old, 6000),)


def test_what_is_past_its_day_is_passed_over_and_said() -> None:
    bench, old, new = two_tubs()
    [row] = standing(bench.trade(), 5)
    assert take_oldest(row.pieces, 4000) == (Portion(new, 4000),)
    with pytest.raises(Refusal, match=r"only 4\.000 kg stands free\. 6\.000 kg more is past"):
        take_oldest(row.pieces, 4001)
    with pytest.raises(Refusal, match=r"past its use-by of Fri 20 Nov.*Write it off"):
        take_chosen(row.pieces, [Portion(old, 1)])
    [row] = standing(bench.trade(), 4)
    with pytest.raises(Refusal, match="4 days old, past the shop's limit"):
        take_chosen(row.pieces, [Portion(old, 1)])


def test_what_is_chosen_is_taken_and_no_more_than_is_there() -> None:
    bench, _, new = two_tubs()
    [row] = standing(bench.trade(), 2)
    assert take_chosen(row.pieces, [Portion(new, 2000), Portion(new, 500)]) == (Portion(new, 2500),)
    for chosen, said in [
        ([], "Nothing is chosen"),
        ([Portion("P9", 1)], "does not stand free"),
        ([Portion(new, 4001)], r"4\.001 kg of Mince trim .* 4\.000 kg is left"),
        ([Portion(new, 3000), Portion(new, 2000)], r"5\.000 kg"),
        ([Portion(new, 0)], r"0\.000 kg"),
    ]:
        with pytest.raises(Refusal, match=said):
            take_chosen(row.pieces, chosen)
    for grams in (0, -1):
        with pytest.raises(Refusal, match="more than nothing"):
            take_oldest(row.pieces, grams)
    with pytest.raises(Refusal, match=r"of it only 0\.000 kg"):
        take_oldest([], 1)


@given(random_trades(), st.integers(1, 200_000), st.integers(0, 6))
def test_taking_oldest_never_splits_wrongly(trade: Trade, grams: int, after: int) -> None:
    for row in standing(trade, after, age=3):
        stops = [free for free in row.pieces if free.mark is Mark.STOP]
        usable = [free for free in row.pieces if free.mark is not Mark.STOP]
        assert sum(free.free_g for free in usable) == row.usable_g
        if grams > row.usable_g:
            with pytest.raises(Refusal):
                take_oldest(row.pieces, grams)
            continue
        taken = take_oldest(row.pieces, grams)
        assert sum(part.grams for part in taken) == grams
        assert not {part.piece for part in taken} & {free.piece.key for free in stops}
        # In order, without a gap, every one but the last to its last gram.
        first = usable[: len(taken)]
        assert [part.piece for part in taken] == [free.piece.key for free in first]
        assert [part.grams for part in taken[:-1]] == [free.free_g for free in first[:-1]]
        assert 0 < taken[-1].grams <= first[-1].free_g
        assert take_chosen(row.pieces, taken) == taken


@given(random_trades())
def test_what_stands_free_and_what_is_gone_is_all_that_was_weighed(trade: Trade) -> None:
    rows = free_classes(trade, {cut.key for cut in trade.cuts}, Standing(START, {}, Leans()))
    free = sum(row.free_g for row in rows)
    taken = sum(take.grams for takes in settle(trade).by_piece.values() for take in takes)
    assert free + taken == sum(piece.net_g for piece in trade.standing)
