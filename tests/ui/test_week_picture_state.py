"""What the week's pictures say, without Qt."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from gambrel.domain.costing.ledger import Ledger
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.drawing.lines import dot_axis, spark_points
from gambrel.domain.numbers.money import Currency
from gambrel.domain.sheets.behind import Behind, BehindRow
from gambrel.domain.sheets.money_flow import ItemKind
from gambrel.domain.sheets.week_sheet import WeekSheet, week_sheet
from gambrel.domain.trade.catalogue import ListLine
from gambrel.domain.trade.clock import trade_week
from gambrel.domain.trade.formats import Formats
from gambrel.domain.trade.records import Source
from gambrel.ui.week.behind_state import describe_behind
from gambrel.ui.week.picture_state import cost_state, flow_state, yield_state
from gambrel.ui.week.state import describe, usual_note
from tests.trades import START, Bench, a_shop

FORMATS = Formats(Currency("AUD", 2), "$")


def weeks_of(rump_kilos: list[int]) -> WeekSheet:
    """A hindquarter a week; the last falls into W47."""
    bench = Bench()
    for number, kilos in enumerate(rump_kilos):
        bench.now = START - timedelta(weeks=len(rump_kilos) - 1 - number)
        stage = bench.stage((Source.BODY, bench.body(100_000, 1000), None))
        bench.piece(stage, "rump", kilos * 1000)
        bench.piece(stage, "bone", 20_000)
    trade = bench.trade()
    lines = (ListLine("Hind", "beef", "hindquarter", 1, "rump", Decimal(70)),)
    stages = tuple(replace(stage, list="Hind") for stage in trade.stages)
    trade = replace(trade, stages=stages, lists=lines)
    return week_sheet(Ledger(trade, roll_up(trade)), trade_week("2026-W47", trade.shop))


def test_a_yield_outside_its_limits_is_told_by_word_and_by_dot() -> None:
    sheet = weeks_of([70, 71, 70, 71, 70, 71, 70, 71, 60])
    [row] = yield_state(sheet.yields, FORMATS).lists.rows
    assert (row.name, row.note) == ("Hind", "norm 70.0\N{NARROW NO-BREAK SPACE}%")
    assert row.outside == (True,)
    assert row.dots[0].endswith("outside the limits")
    assert row.below.startswith("1 outside 67.8")
    assert row.axis.line == 0.5
    assert row.axis.band is not None
    assert row.axis.dots[0] < row.axis.band[0] < row.axis.line < row.axis.band[1]


def test_one_body_short_of_limits_says_so() -> None:
    sheet = weeks_of([70, 71, 70, 71, 70, 71, 70, 72])
    [row] = yield_state(sheet.yields, FORMATS).lists.rows
    assert row.below == "limits after 1 more body"
    assert row.axis.band is None


def test_costs_tell_what_changed_since_the_week_that_had_it() -> None:
    sheet = weeks_of([70, 71])
    [rump] = cost_state(sheet.costs, FORMATS).cuts.rows
    assert rump.change.endswith("since W46")
    assert rump.change.startswith("\N{MINUS SIGN}1.4"), "the same money over more kilos"
    assert rump.values[:11] == (None,) * 11


def test_a_cut_that_this_week_has_not_says_its_last_cost() -> None:
    found = weeks_of([70, 71])
    line = replace(found.costs.cuts[0], values=(*found.costs.cuts[0].values[:-1], None))
    costs = replace(found.costs, cuts=(line,))
    [rump] = cost_state(costs, FORMATS).cuts.rows
    assert rump.change.startswith("W46 $")
    assert not rump.leads
    once = replace(line, values=(*(None,) * 12, Decimal(5)))
    [rump] = cost_state(replace(costs, cuts=(once,)), FORMATS).cuts.rows
    assert rump.change == "first in these weeks"


def test_the_flow_is_told_in_plans_of_rising_height() -> None:
    state = flow_state(weeks_of([70]).flow, FORMATS)
    heights = [plan.height for plan in state.plans]
    assert heights == sorted(heights)
    assert state.words.startswith("Of $")
    for plan, wishes in zip(state.plans, state.wishes, strict=True):
        assert [len(column) for column in plan.columns] == [len(column) for column in wishes]


def test_the_usual_says_of_how_many_weeks_it_is() -> None:
    assert "no week before" in usual_note(weeks_of([70]).usual)
    assert "middle of the week with work" in usual_note(weeks_of([70, 71]).usual)
    three = usual_note(weeks_of([70, 71, 72, 70]).usual)
    assert "the 3 weeks" in three
    assert three.endswith("It says more with every week.")
    eight = usual_note(weeks_of([70] * 9).usual)
    assert eight == "Usual is the middle of the 8 weeks with work in the 8 before."
    sheet = weeks_of([70, 71, 72])
    state = describe(sheet, FORMATS, [])
    assert state.figures[0].usual == "usual $1,000.00"
    assert state.figures[0].last == "last week $1,000.00"
    assert state.figures[1].more == "1 body, $1,000.00"


def test_rows_behind_a_figure_are_summed_where_that_makes_sense() -> None:
    row = BehindRow(ItemKind.PIECE, "P1", "B1", "Rump", START, "", 2_000, 3_000)
    behind = Behind("Rump", (row, row._replace(key="P2", money=None, grams=0)))
    state = describe_behind(behind, a_shop(), FORMATS)
    assert state.sum == "2 pieces, 2.000 kg, $30.00"
    assert state.rows[0] == (
        "P1", "B1", "Rump", "16 Nov, 17:00", "\N{EM DASH}", "2.000", "$30.00", "$15.00",
    )  # fmt: skip
    assert state.rows[1][5:] == ("\N{EM DASH}",) * 3
    alone = describe_behind(replace(behind, rows=(row,), adds_up=False), a_shop(), FORMATS)
    assert alone.sum == "1 piece"
    assert describe_behind(replace(behind, rows=()), a_shop(), FORMATS).sum == "nothing"


@pytest.mark.parametrize(
    ("dots", "line", "band", "wanted"),
    [
        ([0.7], 0.7, None, (0.5,)),
        ([0.6, 0.8], 0.7, None, (0.5 - 1 / 2.3, 0.5 + 1 / 2.3)),
        ([0.6, 0.8], None, None, (0.5 - 1 / 2.3, 0.5 + 1 / 2.3)),
        ([0.7], None, (0.6, 0.8), (0.5,)),
    ],
)
def test_dots_stand_about_their_line(
    dots: list[float],
    line: float | None,
    band: tuple[float, float] | None,
    wanted: tuple[float, ...],
) -> None:
    axis = dot_axis(dots, line, band)
    assert axis.dots == pytest.approx(wanted)
    assert all(0 <= dot <= 1 for dot in (*axis.dots, *(axis.band or ())))


def test_a_hairs_breadth_does_not_look_like_a_mile() -> None:
    axis = dot_axis([0.701], 0.7, None, 0.05)
    assert 0.5 < axis.dots[0] < 0.52


def test_gaps_part_a_line() -> None:
    lines = spark_points([Decimal(1), None, Decimal(2), Decimal(3)], 90, 10)
    assert lines == [[(0.0, 10.0)], [(60.0, 5.0), (90.0, 0.0)]]
