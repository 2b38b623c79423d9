"""What is usual, what a kilo cost week by week, and yields beside norm and limits."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from statistics import median as medians

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.costing.ledger import Ledger
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.numbers.money import per_kilo
from gambrel.domain.review.individuals import LEAST
from gambrel.domain.sheets.cost_weeks import COST_WEEKS
from gambrel.domain.sheets.remarks import remarks
from gambrel.domain.sheets.week_figures import USUAL_WEEKS, median
from gambrel.domain.sheets.week_sheet import WeekSheet, week_sheet
from gambrel.domain.trade.catalogue import ListLine
from gambrel.domain.trade.clock import TradeWeek, business_day, week_of
from gambrel.domain.trade.formats import Formats
from gambrel.domain.trade.records import Source, Stage, Trade
from tests.trades import AUD, START, Bench

WEEK = timedelta(days=7)
FORMATS = Formats(AUD, "$")


def weeks_of_work(*prices: int | None, rump_g: int = 60_000, last_rump_g: int = 0) -> Bench:
    """One hindquarter a week at a price per kilo; None is a week off. Rump and bone come off."""
    bench = Bench()
    for number, price in enumerate(prices):
        bench.now = START + number * WEEK
        if price is not None:
            stage = bench.stage((Source.BODY, bench.body(100_000, price), None), minutes=60)
            last = number == len(prices) - 1
            rump = last_rump_g if last and last_rump_g else rump_g + number % 2 * 1_000
            bench.piece(stage, "rump", rump)
            bench.piece(stage, "bone", 95_000 - rump)
    return bench


def named(trade: Trade, norm: str | None = None) -> Trade:
    """The same, cut by a list whose rump has a norm."""
    stages: tuple[Stage, ...] = tuple(replace(stage, list="Hind") for stage in trade.stages)
    percent = None if norm is None else Decimal(norm)
    lines = (ListLine("Hind", "beef", "hindquarter", 1, "rump", percent),)
    return replace(trade, stages=stages, lists=lines)


def sheet_of(trade: Trade, week: int) -> WeekSheet:
    return week_sheet(Ledger(trade, roll_up(trade)), week_at(trade, week))


def week_at(trade: Trade, number: int) -> TradeWeek:
    return week_of(business_day(START + number * WEEK, trade.shop), trade.shop)


@given(values=st.lists(st.integers(-(10**9), 10**9), min_size=1, max_size=9))
def test_the_median_is_the_middle_half_up(values: list[int]) -> None:
    wanted = medians([Decimal(value) for value in values])
    assert abs(Decimal(median(values) or 0) - wanted) <= Decimal("0.5")
    assert median(values[:1]) == values[0]


def test_nothing_has_no_middle() -> None:
    assert median([]) is None


def test_the_usual_is_of_the_eight_weeks_before_that_had_work() -> None:
    prices = [9_999, 100, 200, 300, 400, None, 500, 600, 700, 1_000]
    sheet = sheet_of(weeks_of_work(*prices).trade(), 9)
    assert USUAL_WEEKS == 8
    assert sheet.usual.weeks == 7, "the first is nine weeks back, and one was off"
    assert sheet.usual.bought == 400 * 100
    assert sheet.usual.taken_g == 100_000
    assert sheet.usual.unexplained == 400 * 5


def test_an_even_number_of_weeks_has_its_middle_between_two() -> None:
    sheet = sheet_of(weeks_of_work(100, 201, 900).trade(), 2)
    assert (sheet.usual.weeks, sheet.usual.bought) == (2, 15_050)


def test_a_first_week_has_no_usual() -> None:
    usual = sheet_of(weeks_of_work(500).trade(), 0).usual
    assert (usual.weeks, usual.bought, usual.margin_share) == (0, None, None)


def test_cost_lines_end_with_this_week_and_leave_gaps() -> None:
    trade = weeks_of_work(500, None, 700).trade()
    costs = sheet_of(trade, 2).costs
    assert len(costs.weeks) == COST_WEEKS
    assert costs.weeks[-1] == week_at(trade, 2)
    [rump] = [line for line in costs.cuts if line.key == "rump"]
    assert rump.values[:10] == (None,) * 10
    rolled = roll_up(trade)
    first, last = [part for part in rolled.pieces if part.piece.cut == "rump"]
    assert rump.before == 10
    assert rump.values[10:] == (first.cost_per_kilo, None, last.cost_per_kilo)
    assert rump.last == last.cost_per_kilo
    [hind] = costs.portions
    assert hind.name == "Beef hindquarter"
    assert hind.last == per_kilo(last.cost, last.piece.net_g)


def test_limits_wait_for_enough_bodies() -> None:
    trade = named(weeks_of_work(500, 500, 500).trade(), "58")
    [found] = sheet_of(trade, 2).yields
    assert (found.whole.before, found.whole.wanting) == (2, LEAST - 2)
    assert found.whole.limits is None
    [rump] = [row for row in found.cuts if row.cut == "rump"]
    assert rump.norm == Decimal("0.58") == found.whole.norm
    assert [dot.share for dot in rump.dots] == [Decimal("0.6")]


def test_a_body_far_from_those_before_is_outside_and_said() -> None:
    trade = named(weeks_of_work(*[500] * 9, last_rump_g=40_000).trade())
    sheet = sheet_of(trade, 8)
    [found] = sheet.yields
    limits = found.whole.limits
    assert limits is not None
    # Rump was 60 and 61 per cent in turn, so every moving range is one point.
    assert limits.mean == pytest.approx(0.605)
    assert limits.lower == pytest.approx(0.605 - 3 * 0.01 / 1.128)
    [dot] = found.whole.outside
    assert dot.bodies == "B9"
    assert found.whole.norm is None
    said = remarks(sheet, FORMATS)
    assert any("B9 gave 40.0" in line and "gave 57.8" in line for line in said), said
    assert any("most: Bone of B9" in line or "most: Rump of B9" in line for line in said), said


def test_a_body_like_those_before_is_not_said() -> None:
    trade = named(weeks_of_work(*[500] * 9).trade())
    sheet = sheet_of(trade, 8)
    assert sheet.yields[0].whole.outside == ()
    assert not any("gave" in line for line in remarks(sheet, FORMATS))
