"""What hangs, and what must be broken first."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.bench.rail import HangingBody, break_by, hanging, reweigh_doubt
from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.numbers.scales import SCALE_G, agree
from gambrel.domain.trade.records import Body, Source, Trade
from tests.trades import Bench, random_trades

LIMITS = {"beef": 21, "beef carton": 42, "lamb": 7}


def rows(bench: Bench, now: datetime | None = None) -> list[HangingBody]:
    return hanging(bench.trade(), now or bench.now, LIMITS)


def test_a_body_that_hangs_has_its_last_weight_its_loss_and_its_cost() -> None:
    bench = Bench()
    body = bench.body(80_000, 1000, other=500)
    came = bench.now
    bench.reweigh(body, 78_000)
    (row,) = rows(bench, came + timedelta(days=6))
    assert (row.weight_g, row.hang_loss_g, row.days) == (78_000, 2_000, 6)
    assert row.hang_share == Decimal("0.025")
    assert row.left_cost == 80_500
    assert row.cost_per_kilo == Decimal(80_500_000) / 78_000
    assert row.weighed_at == bench.now
    assert row.stage is None


def test_a_body_that_was_broken_hangs_no_more() -> None:
    bench = Bench()
    body = bench.body(80_000, 1000)
    bench.stage((Source.BODY, body, None))
    assert rows(bench) == []


def test_a_body_on_the_block_stands_first_with_what_is_still_to_weigh() -> None:
    bench = Bench()
    first, second = bench.body(80_000, 1000), bench.body(60_000, 1000)
    stage = bench.stage((Source.BODY, second, None), still_open=True)
    bench.piece(stage, "rump", 5_000, tare=120)
    lying, hung = rows(bench)
    assert (lying.body.key, lying.weight_g, lying.on_block_g) == (second, 0, 55_000)
    assert lying.stage is not None
    assert lying.stage.key == stage
    assert lying.cost_per_kilo is None
    assert (hung.body.key, hung.on_block_g) == (first, 0)


def test_a_voided_piece_is_still_to_weigh() -> None:
    bench = Bench()
    body = bench.body(60_000, 1000)
    stage = bench.stage((Source.BODY, body, None), still_open=True)
    bench.void(bench.piece(stage, "rump", 5_000))
    assert rows(bench)[0].on_block_g == 60_000


def test_a_part_that_was_left_still_hangs_with_its_part_of_the_money() -> None:
    bench = Bench()
    body = bench.body(80_000, 1000)
    bench.stage((Source.BODY, body, 60_000))
    (row,) = rows(bench)
    assert (row.weight_g, row.left_cost) == (20_000, 20_000)


A_BODY = Body("B1", "beef", "hindquarter", "farm", datetime(2026, 11, 16, tzinfo=UTC), 80_000, 900)


@pytest.mark.parametrize(
    ("changes", "wanted"),
    [
        ({"killed_on": date(2026, 11, 14)}, date(2026, 12, 5)),
        ({}, date(2026, 12, 7)),
        ({"portion": "carton"}, date(2026, 12, 28)),
        ({"species": "lamb", "portion": "whole"}, date(2026, 11, 23)),
        ({"species": "moose"}, None),
    ],
)
def test_the_day_to_break_by_counts_from_slaughter_or_arrival(
    changes: dict[str, object], wanted: date | None
) -> None:
    body = replace(A_BODY, **changes)  # type: ignore[arg-type]  # names are checked by Body
    assert break_by(body, date(2026, 11, 16), LIMITS) == wanted


def test_what_must_be_broken_first_stands_first_and_what_has_no_day_last() -> None:
    old = replace(A_BODY, key="OLD", killed_on=date(2026, 11, 1))
    lamb = replace(A_BODY, key="LAMB", species="lamb", portion="whole")
    moose = replace(A_BODY, key="MOOSE", species="moose")
    trade = Bench().trade()
    trade = replace(trade, bodies=(moose, A_BODY, lamb, old))
    now = datetime(2026, 11, 24, tzinfo=UTC)
    found = hanging(trade, now, LIMITS)
    assert [row.body.key for row in found] == ["OLD", "LAMB", "B1", "MOOSE"]
    assert [row.days_left for row in found] == [-2, -1, 13, None]


@given(random_trades())
def test_no_gram_and_no_cent_on_the_rail_differs_from_the_costing(trade: Trade) -> None:
    found = hanging(trade, trade.bodies[0].received_at + timedelta(days=400))
    totals = roll_up(trade, Method.WEIGHT).totals
    assert sum(row.left_cost for row in found) == totals.on_rail
    costs = {cost.body.key: cost for cost in roll_up(trade, Method.WEIGHT).bodies}
    for row in found:
        assert row.weight_g == costs[row.body.key].left_g
        assert row.hang_loss_g == costs[row.body.key].hang_loss_g


@given(st.integers(1, 400_000), st.integers(0, 1_000))
def test_small_differences_agree_both_ways(grams: int, off: int) -> None:
    if off <= SCALE_G:
        assert agree(grams + off, grams)
        assert agree(grams, grams + off)
    if off > max(SCALE_G, (grams + off) // 200 + 1):
        assert not agree(grams + off, grams)


@pytest.mark.parametrize(
    ("grams", "word"),
    [
        (80_000, ""),
        (78_000, ""),
        (80_300, ""),
        (81_000, "more than last time"),
        (70_000, "less than last time"),
        (12_000, "(85 %)"),
    ],
)
def test_a_weight_that_no_hang_explains_is_doubted(grams: int, word: str) -> None:
    bench = Bench()
    bench.body(80_000, 1000)
    doubt = reweigh_doubt(rows(bench)[0], grams)
    assert word in doubt
    assert bool(doubt) == bool(word)
