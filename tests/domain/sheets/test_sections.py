"""Sheets hold what the costing holds: every gram and every cent on one day, none on two."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import date, datetime, timedelta
from decimal import Decimal

import pytest
from hypothesis import given

from gambrel.domain.bench.hanging import hanging_at
from gambrel.domain.costing.ledger import Ledger
from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.sheets.day_sheet import DaySheet, day_sheet
from gambrel.domain.sheets.week_sheet import week_sheet
from gambrel.domain.trade.catalogue import CutKind, ListLine
from gambrel.domain.trade.clock import business_day, trade_week, week_of
from gambrel.domain.trade.records import Piece, Source, Stage, Trade, WriteOff
from tests.trades import HOUR, Bench, a_shop, random_trades

BODY, PIECE = Source.BODY, Source.PIECE


def ledger_of(trade: Trade) -> Ledger:
    return Ledger(trade, roll_up(trade))


def every_day(trade: Trade) -> list[date]:
    moments = [body.received_at for body in trade.bodies]
    moments += [moment for stage in trade.stages for moment in _moments(stage)]
    moments += [piece.weighed_at for piece in trade.pieces]
    days = [business_day(moment, trade.shop) for moment in moments]
    first, last = min(days), max(days)
    return [first + timedelta(days=n) for n in range((last - first).days + 1)]


def _moments(stage: Stage) -> list[datetime]:
    return [moment for moment in (stage.started_at, stage.finished_at) if moment is not None]


def sheets_of(ledger: Ledger) -> list[DaySheet]:
    return [day_sheet(ledger, day) for day in every_day(ledger.trade)]


@given(trade=random_trades())
def test_the_days_together_hold_all_weight_and_all_money(trade: Trade) -> None:
    ledger = ledger_of(trade)
    costing = ledger.costing
    found = [section for sheet in sheets_of(ledger) for section in (*sheet.breaks, *sheet.other)]
    rows = [row for section in found for row in section.rows]
    assert sum(row.net_g for row in rows) == sum(part.piece.net_g for part in costing.pieces)
    assert sum(row.cost for row in rows) == sum(part.cost for part in costing.pieces)
    assert sum(row.rest_cost for row in rows) == costing.totals.end_cost
    assert sum(row.credit for row in rows) == costing.totals.credit
    assert sum(row.went_on_g for row in rows) == sum(part.consumed_g for part in costing.pieces)
    assert sum(section.balance.unexplained_g for section in found) == sum(
        stage.unexplained_g for stage in costing.stages if not stage.stage.is_open
    )
    summaries = [sheet.summary for sheet in sheets_of(ledger)]
    assert sum(row.work for row in summaries) == costing.totals.work
    assert (
        sum(row.taken_cost for row in summaries) == costing.totals.bought - costing.totals.on_rail
    )


@given(trade=random_trades())
def test_every_section_balances(trade: Trade) -> None:
    for sheet in sheets_of(ledger_of(trade)):
        for section in (*sheet.breaks, *sheet.other):
            balance = section.balance
            assert balance.here_g == sum(row.net_g for row in section.rows)
            found = balance.before_g + balance.here_g + balance.on_block_g - balance.over_g
            assert balance.input_g == found + balance.unexplained_g
            assert balance.input_g == sum(row.grams for row in section.inputs)
            assert section.input_cost == sum(row.cost for row in section.inputs)


@given(trade=random_trades())
def test_weeks_hold_what_their_days_hold(trade: Trade) -> None:
    ledger = ledger_of(trade)
    days = sheets_of(ledger)
    weeks = {week_of(sheet.day, trade.shop) for sheet in days}
    sheets = [week_sheet(ledger, week) for week in sorted(weeks)]
    for name in ("taken_g", "taken_cost", "work", "unexplained_g", "unexplained", "saleable_g"):
        per_day = sum(getattr(sheet.summary, name) for sheet in days)
        assert sum(getattr(sheet.now.summary, name) for sheet in sheets) == per_day, name
    for name in ("sales", "net_sales", "cost"):
        per_day = sum(getattr(sheet.summary.earning, name) for sheet in days)
        assert sum(getattr(s.now.summary.earning, name) for s in sheets) == per_day, name
    assert sum(sheet.now.bought for sheet in sheets) == ledger.costing.totals.bought
    for sheet in sheets:
        earned = sheet.now.summary.earning
        assert sum(line.row.sales or 0 for line in sheet.cuts) == earned.sales
        assert sum(line.row.net_sales or 0 for line in sheet.cuts) == earned.net_sales


@given(trade=random_trades())
def test_the_rail_loses_only_to_the_block_and_the_air(trade: Trade) -> None:
    ledger = ledger_of(trade)
    weeks = {week_of(day, trade.shop) for day in every_day(trade)}
    # A reweigh may come a week after everything else; nothing in these trades does.
    dried = sum(week_sheet(ledger, week).now.dried_g for week in weeks)
    assert dried == sum(body.hang_loss_g for body in ledger.costing.bodies)
    last = hanging_at(trade, max(ledger.week(week).ends for week in weeks))
    assert {row.body.key: (row.left_g, row.left_cost) for row in last} == {
        body.body.key: (body.left_g, body.left_cost)
        for body in ledger.costing.bodies
        if body.left_g
    }


def test_suppliers_share_a_stage_by_the_grams_it_took_of_each() -> None:
    bench = Bench()
    first, second = bench.body(60_000, 900), bench.body(30_000, 1200)
    bench.bodies[1] = replace(bench.bodies[1], supplier="hill", docket_g=30_400)
    stage = bench.stage((BODY, first, None), (BODY, second, None))
    bench.piece(stage, "rump", 50_000)
    bench.piece(stage, "bone", 37_000)
    sheet = week_sheet(ledger_of(bench.trade()), week_of(date(2026, 11, 16), bench.shop))
    farm, hill = sheet.suppliers
    assert (farm.name, farm.taken_g, farm.saleable_g, farm.unexplained_g) == (
        "farm",
        60_000,
        33_333,
        2_000,
    )
    assert (hill.name, hill.taken_g, hill.saleable_g, hill.unexplained_g, hill.short_g) == (
        "hill",
        30_000,
        16_667,
        1_000,
        400,
    )
    summary = sheet.now.summary
    assert farm.unexplained + hill.unexplained == summary.unexplained
    assert farm.saleable_cost + hill.saleable_cost == sheet.breaks[0].saleable_cost


def overnight() -> Bench:
    """A body begun in the evening and finished next morning, after the shop's day has turned."""
    bench = Bench()
    body = bench.body(80_000, 1000)
    stage = bench.stage((BODY, body, None), minutes=60)
    morning = bench.now + 14 * HOUR
    bench.stages[0] = replace(bench.stages[0], finished_at=morning, list="Round")
    bench.piece(stage, "rump", 20_000)
    bench.now = morning - HOUR
    bench.piece(stage, "shin", 40_000)
    bench.piece(stage, "bone", 18_000)
    return bench


def test_a_stage_over_two_days_is_on_both_sheets_once() -> None:
    bench = overnight()
    evening, morning = sheets_of(ledger_of(bench.trade()))
    first, second = evening.breaks[0], morning.breaks[0]
    assert [row.cut.key for row in first.rows] == ["rump"]
    assert (first.balance.open, first.balance.on_block_g) == (True, 60_000)
    assert (first.balance.unexplained_g, first.balance.unexplained_share) == (0, None)
    assert [row.cut.key for row in second.rows] == ["shin", "bone"]
    assert (second.balance.open, second.balance.before_g) == (False, 20_000)
    assert second.balance.unexplained_g == 2_000
    # 2.000 of 80.000 kg that cost 800.00
    assert second.balance.unexplained == 2_000
    assert second.balance.unexplained_share == Decimal("0.025")
    assert (first.started, second.started) == (True, False)
    assert (evening.summary.taken_g, morning.summary.taken_g) == (80_000, 0)
    assert (evening.summary.work, morning.summary.work) == (3750, 0)


def test_rows_stand_in_the_order_of_the_list_beside_its_norms() -> None:
    bench = overnight()
    lines = (
        ListLine("Round", "beef", "hindquarter", 2, "rump", Decimal("24.5")),
        ListLine("Round", "beef", "hindquarter", 1, "bone", Decimal(20)),
        ListLine("Round", "beef", "hindquarter", 3, "waste", Decimal(1)),
    )
    trade = replace(bench.trade(), lists=lines)
    evening, morning = sheets_of(ledger_of(trade))
    (rump,) = evening.breaks[0].rows
    assert (rump.share, rump.norm) == (Decimal("0.25"), Decimal("0.245"))
    assert [row.cut.key for row in morning.breaks[0].rows] == ["bone", "shin"]
    assert morning.breaks[0].rows[1].norm is None
    assert evening.breaks[0].missing == ()
    assert morning.breaks[0].missing == ("Waste",)


def test_what_went_on_has_no_price_but_a_cost() -> None:
    bench = Bench()
    stage = bench.stage((BODY, bench.body(10_000, 1000), None))
    trim = bench.piece(stage, "mince-trim", 9_000)
    fat = bench.piece(stage, "fat", 1_000)
    blend = bench.stage((PIECE, trim, None), (PIECE, fat, 400))
    bench.ingredient(blend, "salt", 100, 50)
    bench.piece(blend, "mince", 9_400)
    (sheet,) = sheets_of(ledger_of(bench.trade()))
    trim_row, fat_row = sheet.breaks[0].rows
    assert (trim_row.went_on_g, trim_row.price, trim_row.sales, trim_row.margin) == (
        9_000,
        None,
        None,
        None,
    )
    assert trim_row.cost > 0
    assert trim_row.rest_cost == 0
    assert (fat_row.went_on_g, fat_row.credit) == (400, 12)
    assert fat_row.cost_per_kilo == Decimal(fat_row.cost) * 1000 / 400
    names = [(row.source, row.name, row.grams) for row in sheet.other[0].inputs]
    assert names == [
        (PIECE, "Mince trim", 9_000),
        (PIECE, "Fat", 400),
        (Source.INGREDIENT, "salt", 100),
    ]


def test_a_price_that_includes_tax_earns_only_what_is_before_tax() -> None:
    bench = Bench(a_shop(tax_percent=Decimal(10), prices_include_tax=True))
    stage = bench.stage((BODY, bench.body(10_000, 1000), None))
    bench.piece(stage, "rump", 1_000)
    (sheet,) = sheets_of(ledger_of(bench.trade()))
    (row,) = sheet.breaks[0].rows
    assert (row.sales, row.net_sales) == (2699, 2454)  # 26.99 / 1.1 = 24.536
    assert sheet.summary.earning.margin == 2454 - row.rest_cost


def test_without_a_price_there_is_no_margin_and_no_invented_sale() -> None:
    bench = Bench()
    bench.cuts = (*bench.cuts, replace(bench.cuts[0], key="new", name="New", price=None))
    stage = bench.stage((BODY, bench.body(10_000, 1000), None))
    bench.piece(stage, "new", 1_000)
    bench.piece(stage, "rump", 1_000)
    trade = bench.trade()
    (sheet,) = sheets_of(Ledger(trade, roll_up(trade, Method.WEIGHT)))
    rump, new = sheet.breaks[0].rows
    assert (new.price, new.sales, new.margin) == (None, None, None)
    assert sheet.summary.earning.cost == rump.rest_cost


def test_an_open_stage_that_weighs_too_much_says_so() -> None:
    bench = Bench()
    stage = bench.stage((BODY, bench.body(10_000, 1000), None), still_open=True)
    bench.piece(stage, "rump", 10_500)
    (sheet,) = sheets_of(ledger_of(bench.trade()))
    balance = sheet.breaks[0].balance
    assert (balance.open, balance.on_block_g, balance.over_g) == (True, 0, 500)


def test_voids_and_write_offs_stand_on_their_own_day() -> None:
    bench = overnight()
    bench.void("P1")
    at = bench.now + HOUR
    trade = replace(bench.trade(), writeoffs=(WriteOff("P2", 10_000, at, "dropped"),))
    ledger = ledger_of(trade)
    evening, morning = sheets_of(ledger)
    assert (evening.taken_back, evening.thrown_away) == ((), ())
    assert evening.breaks[0].rows == ()
    (void,) = morning.taken_back
    assert (void.cut, void.net_g, void.reason) == ("Rump", 20_000, "wrong cut")
    (thrown,) = morning.thrown_away
    shin = ledger.pieces["P2"]
    assert (thrown.cut, thrown.grams, thrown.cost) == ("Shin", 10_000, round(shin.cost / 4))


def test_a_day_on_which_nothing_happened_is_empty() -> None:
    ledger = ledger_of(overnight().trade())
    sheet = day_sheet(ledger, date(2026, 12, 24))
    assert sheet.is_empty
    assert sheet.summary.saleable_share is None
    assert week_sheet(ledger, trade_week("2026-W52", ledger.trade.shop)).is_empty


@pytest.mark.parametrize("moment", ["piece", "start", "finish"])
def test_any_work_at_all_brings_a_stage_on_the_sheet(moment: str) -> None:
    bench = overnight()
    trade = bench.trade()
    ledger = ledger_of(trade)
    seen = Counter(section.stage.key for sheet in sheets_of(ledger) for section in sheet.breaks)
    assert seen == {"S1": 2}
    only = {
        "piece": replace(trade, stages=(replace(trade.stages[0], finished_at=None),)),
        "start": replace(trade, pieces=()),
        "finish": replace(trade, pieces=tuple(_not_shin_or_bone(trade))),
    }[moment]
    sheets = sheets_of(ledger_of(only))
    assert [len(sheet.breaks) for sheet in sheets] == [1, 1]


def _not_shin_or_bone(trade: Trade) -> list[Piece]:
    return [piece for piece in trade.pieces if piece.cut == "rump"]


def test_totals_tell_saleable_from_bone() -> None:
    (_, morning) = sheets_of(ledger_of(overnight().trade()))
    summary = morning.summary
    assert summary.came_off[CutKind.TRAY] == 40_000
    assert summary.came_off[CutKind.BYPRODUCT] == 18_000
    # 40 of the 60 kg that came off or were lost this day
    assert summary.saleable_share == Decimal(40) / 60
