"""Where the money went: every unit once, at every level, and the pieces behind every spot."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.costing.ledger import Ledger, Period
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.sheets.money_flow import Level, MoneyFlow, Spot, SpotKind
from gambrel.domain.sheets.money_walk import money_flow
from gambrel.domain.sheets.sections import sections
from gambrel.domain.trade.records import Source, StageKind, Trade, WriteOff
from tests.trades import START, Bench, random_trades

BODY, PIECE = Source.BODY, Source.PIECE
YEAR = timedelta(days=365)
WHOLE = Period(START - YEAR, START + YEAR)
HANDED_ON = {SpotKind.TRAY, SpotKind.BLEND, SpotKind.TRIM, SpotKind.BLOCK}


def ledger_of(trade: Trade) -> Ledger:
    return Ledger(trade, roll_up(trade))


def balanced(flow: MoneyFlow) -> None:
    """Every level holds all the money, and so do the pieces, bodies and stages behind it."""
    assert all(money > 0 for money in flow.ways.values())
    for level in Level:
        amounts = flow.amounts(level)
        assert sum(amounts.values()) == flow.total
        behind = {spot: sum(item.money for item in flow.behind(level, spot)) for spot in amounts}
        assert behind == amounts, level
        assert {spot for place, spot in flow.items if place is level} == set(amounts)


@given(trade=random_trades())
def test_all_the_money_of_a_book_is_on_its_way_once(trade: Trade) -> None:
    ledger = ledger_of(trade)
    flow, totals = money_flow(ledger, WHOLE), ledger.costing.totals
    balanced(flow)
    assert flow.came_from(SpotKind.BEFORE) == 0
    assert flow.came_from(SpotKind.BODY) == totals.bought - totals.on_rail
    assert flow.came_from(SpotKind.WORK) == totals.work
    assert flow.came_from(SpotKind.BOUGHT_IN) == totals.ingredients
    assert flow.came_from(SpotKind.FINISH) == totals.finish
    assert flow.ended(SpotKind.CREDIT) - flow.came_from(SpotKind.FEES) == totals.credit
    left = flow.total - flow.ended(SpotKind.CREDIT)
    assert left == totals.end_cost + totals.stranded + flow.came_from(SpotKind.SURPLUS)


@given(trade=random_trades(), cut=st.integers(0, 30), length=st.integers(1, 12))
def test_a_stretch_of_time_takes_in_and_lets_go_what_its_sections_tell(
    trade: Trade, cut: int, length: int
) -> None:
    ledger = ledger_of(trade)
    begins = START + timedelta(minutes=cut * 45)
    period = Period(begins, begins + timedelta(minutes=length * 45))
    flow = money_flow(ledger, period)
    balanced(flow)
    found = sections(ledger, period)
    taken = [row for part in found if part.started for row in part.inputs]
    assert flow.came_from(SpotKind.BODY) == sum(
        row.cost for row in taken if row.source is Source.BODY
    )
    assert flow.came_from(SpotKind.WORK) == sum(part.work for part in found if part.started)
    assert flow.came_from(SpotKind.BOUGHT_IN) == sum(
        row.cost for row in taken if row.source is Source.INGREDIENT
    )
    rows = [row for part in found for row in part.rows]
    assert flow.came_from(SpotKind.FINISH) == sum(row.finish for row in rows)
    lost = sum(max(part.balance.unexplained, 0) for part in found)
    assert flow.ended(SpotKind.LOSS) <= lost


def a_week() -> Bench:
    """A body into rump, trim and bone; some trim with salt into mince, one stage left open."""
    bench = Bench()
    body = bench.body(100_000, 1000)
    stage = bench.stage((BODY, body, None), minutes=60)
    bench.piece(stage, "rump", 60_000)
    trim = bench.piece(stage, "mince-trim", 20_000)
    bench.piece(stage, "bone", 15_000)
    blend = bench.stage((PIECE, trim, 10_000), kind=StageKind.BLEND, minutes=30)
    bench.ingredient(blend, "salt", 100, 250)
    bench.piece(blend, "mince", 10_000)
    return bench


def test_a_body_through_cuts_to_trays_mince_trim_and_loss() -> None:
    bench = a_week()
    ledger = ledger_of(bench.trade())
    flow = money_flow(ledger, WHOLE)
    assert flow.came_from(SpotKind.BODY) == 100_000
    assert flow.came_from(SpotKind.WORK) == 3750 + 1875
    assert flow.came_from(SpotKind.FEES) == 15 * 15
    # 5 kg of 100 kg is lost at the body's own cost, and 0.1 kg of the blend at its own.
    first, second = [part.balance.unexplained for part in sections(ledger, WHOLE)]
    assert first == 5_000
    assert flow.ended(SpotKind.LOSS) == first + second
    middles = flow.amounts(Level.MIDDLE)
    assert Spot(SpotKind.CUT, "bone") not in middles, "a cut that only costs brings no money on"
    through_trim = sum(
        money
        for way, money in flow.ways.items()
        if way.middle == Spot(SpotKind.CUT, "mince-trim")
        and way.end == Spot(SpotKind.BLEND, "mince")
    )
    assert through_trim > 0
    assert flow.name(Spot(SpotKind.BLEND, "mince")) == "Mince"
    assert flow.name(Spot(SpotKind.BODY, "beef hindquarter")) == "Beef hindquarter"
    assert flow.name(Spot(SpotKind.LOSS)) == "Unexplained loss"


def test_what_a_later_week_takes_or_throws_away_still_stands() -> None:
    bench = a_week()
    trade = bench.trade()
    first = Period(WHOLE.begins, trade.stages[1].started_at)
    second = Period(first.ends, WHOLE.ends)
    rump = trade.pieces[0]
    thrown = WriteOff(rump.key, 6_000, second.begins + timedelta(hours=2), "old")
    ledger = ledger_of(replace(trade, writeoffs=(thrown,)))
    before, after = money_flow(ledger, first), money_flow(ledger, second)
    balanced(before)
    balanced(after)
    assert before.ended(SpotKind.BLEND) == before.ended(SpotKind.THROWN) == 0
    assert before.ended(SpotKind.TRIM) > 0
    assert after.came_from(SpotKind.BODY) == 0
    took = ledger.costing.stages[1].take_costs[0]
    part = after.ended(SpotKind.THROWN)
    assert after.came_from(SpotKind.BEFORE) == took + part
    assert part == pytest.approx(ledger.pieces[rump.key].rest_cost / 10, abs=1)


def test_a_stage_that_runs_over_the_end_is_still_on_the_block_and_comes_in_again() -> None:
    bench = Bench()
    body = bench.body(50_000, 1000)
    stage = bench.stage((BODY, body, None), still_open=True)
    bench.piece(stage, "rump", 10_000)
    midnight = bench.tick()
    bench.piece(stage, "shin", 20_000)
    ledger = ledger_of(bench.trade())
    before = money_flow(ledger, Period(WHOLE.begins, midnight))
    after = money_flow(ledger, Period(midnight, WHOLE.ends))
    balanced(before)
    balanced(after)
    assert before.total == 50_000 + ledger.pieces["P1"].finish
    assert before.ended(SpotKind.BLOCK) == after.came_from(SpotKind.BEFORE)
    assert after.ended(SpotKind.BLOCK) == 50_000 * 20 // 50


def test_what_is_thrown_away_in_its_own_week_ends_by_its_grams() -> None:
    trade = a_week().trade()
    rump = trade.pieces[0]
    thrown = tuple(
        WriteOff(rump.key, grams, rump.weighed_at + timedelta(hours=hour), "old")
        for hour, grams in ((1, 6_000), (2, 9_000))
    )
    whole = money_flow(ledger_of(trade), WHOLE)
    flow = money_flow(ledger_of(replace(trade, writeoffs=thrown)), WHOLE)
    balanced(flow)
    [item] = flow.behind(Level.END, Spot(SpotKind.THROWN))
    assert (item.key, item.grams) == (rump.key, 15_000)
    # 15 of the 60 kg of rump, the only piece on a tray.
    assert item.money == pytest.approx(whole.ended(SpotKind.TRAY) / 4, abs=1)
    assert item.money + flow.ended(SpotKind.TRAY) == whole.ended(SpotKind.TRAY)


def test_a_piece_of_the_week_before_comes_in_at_what_the_book_says_it_cost() -> None:
    bench = Bench()
    stage = bench.stage((BODY, bench.body(50_000, 1000), None), still_open=True)
    trim = bench.piece(stage, "mince-trim", 10_000)
    midnight = bench.tick()
    bench.piece(stage, "shin", 20_000)
    blend = bench.stage((PIECE, trim, None), kind=StageKind.BLEND)
    bench.piece(blend, "mince", 10_000)
    ledger = ledger_of(bench.trade())
    flow = money_flow(ledger, Period(midnight, WHOLE.ends))
    balanced(flow)
    came = {item.key: item for item in flow.behind(Level.SOURCE, Spot(SpotKind.BEFORE))}
    assert set(came) == {trim, stage}
    assert (came[trim].grams, came[trim].money) == (10_000, ledger.pieces[trim].share)


def test_credits_above_all_that_was_paid_come_in_as_what_they_are() -> None:
    bench = Bench()
    stage = bench.stage((BODY, bench.body(10_000, 1), None))
    bench.piece(stage, "rump", 1_000)
    bench.piece(stage, "fat", 9_000)
    flow = money_flow(ledger_of(bench.trade()), WHOLE)
    balanced(flow)
    assert flow.ended(SpotKind.CREDIT) == 180
    assert flow.came_from(SpotKind.SURPLUS) == 170


def test_a_piece_that_cost_less_than_nothing_brings_nothing_on() -> None:
    bench = Bench()
    stage = bench.stage((BODY, bench.body(10_000, 1), None))
    rump = bench.piece(stage, "rump", 1_000)
    bench.piece(stage, "fat", 9_000)
    bench.stage((PIECE, rump, None), kind=StageKind.TRIMOUT, minutes=2)
    ledger = ledger_of(bench.trade())
    assert ledger.pieces[rump].share < 0
    flow = money_flow(ledger, WHOLE)
    balanced(flow)
    assert flow.came_from(SpotKind.WORK) == flow.ended(SpotKind.STRANDED) == 125
    later = Period(bench.now, WHOLE.ends)
    balanced(money_flow(ledger, later))


def test_nothing_that_bears_cost_is_told_as_such() -> None:
    bench = Bench()
    stage = bench.stage((BODY, bench.body(10_000, 900), None))
    bench.piece(stage, "waste", 10_000)
    flow = money_flow(ledger_of(bench.trade()), WHOLE)
    balanced(flow)
    assert flow.ended(SpotKind.STRANDED) == flow.total == 9_000


def test_a_quiet_week_has_no_flow() -> None:
    flow = money_flow(ledger_of(Bench().trade()), WHOLE)
    assert flow.total == 0
    assert flow.items == {}
