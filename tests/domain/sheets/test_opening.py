"""Every figure of the week opens down to rows whose sum it is."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given

from gambrel.domain.costing.ledger import Ledger
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.numbers.money import per_kilo
from gambrel.domain.refusals import Refusal
from gambrel.domain.sheets.behind import Behind, Wish, WishKind
from gambrel.domain.sheets.money_flow import ItemKind, Level
from gambrel.domain.sheets.opening import Opening, read_spot, spot_text
from gambrel.domain.sheets.week_sheet import WeekSheet, week_sheet
from gambrel.domain.trade.clock import business_day, week_of
from gambrel.domain.trade.records import Source, StageKind, Trade
from tests.trades import START, Bench, random_trades


def opened(trade: Trade) -> tuple[Opening, WeekSheet, Ledger]:
    ledger = Ledger(trade, roll_up(trade))
    sheet = week_sheet(ledger, week_of(business_day(START, trade.shop), trade.shop))
    return Opening(ledger, sheet), sheet, ledger


def sums(behind: Behind) -> tuple[int, int]:
    return sum(row.grams for row in behind.rows), sum(row.money or 0 for row in behind.rows)


def sorted_by_money(behind: Behind) -> bool:
    money = [row.money or 0 for row in behind.rows]
    return money == sorted(money, reverse=True)


@given(trade=random_trades())
def test_the_five_figures_are_the_sums_of_their_rows(trade: Trade) -> None:
    opening, sheet, _ = opened(trade)
    now, found = sheet.now, sheet.now.summary
    wanted = {
        WishKind.BOUGHT: (now.bought_g, now.bought),
        WishKind.TAKEN: (found.taken_g, found.taken_cost),
        WishKind.LOSS: (found.unexplained_g, found.unexplained),
    }
    for kind, figure in wanted.items():
        behind = opening.open(Wish(kind))
        assert (behind.grams, behind.money) == sums(behind) == figure, kind
        assert sorted_by_money(behind)
    assert opening.open(Wish(WishKind.SALEABLE)).grams == found.saleable_g
    margin = opening.open(Wish(WishKind.MARGIN))
    assert margin.money == found.earning.margin
    assert all(row.grams for row in margin.rows), "only what is left to sell"


@given(trade=random_trades())
def test_rows_of_the_table_and_spots_of_the_flow_are_the_sums_of_theirs(trade: Trade) -> None:
    opening, sheet, ledger = opened(trade)
    for line in sheet.cuts:
        behind = opening.open(Wish(WishKind.CUT, line.row.cut.key))
        assert (behind.grams, behind.money) == (line.row.net_g, line.row.cost)
    for level in Level:
        for spot, money in sheet.flow.amounts(level).items():
            behind = opening.open(Wish(WishKind.SPOTS, level.value, (spot_text(spot),)))
            assert behind.money == money, spot
            assert sorted_by_money(behind)
    for row in sheet.costs.portions:
        if row.last is not None:
            behind = opening.open(Wish(WishKind.PORTION, row.key))
            assert per_kilo(behind.money, behind.grams) == row.last
    for cost in ledger.costing.stages:
        behind = opening.open(Wish(WishKind.STAGE, cost.stage.key))
        weighed = sum(row.grams for row in behind.rows if row.kind is ItemKind.PIECE)
        assert weighed == cost.output_g
        if cost.output_g <= cost.input_g:
            assert behind.grams == cost.input_g


def test_spots_together_hold_what_they_hold_one_by_one() -> None:
    bench = Bench()
    stage = bench.stage((Source.BODY, bench.body(50_000, 900), None))
    bench.piece(stage, "rump", 20_000)
    bench.piece(stage, "shin", 20_000)
    opening, sheet, _ = opened(bench.trade())
    spots = tuple(spot_text(spot) for spot in sheet.flow.amounts(Level.MIDDLE))
    behind = opening.open(Wish(WishKind.SPOTS, Level.MIDDLE.value, spots))
    assert behind.money == sheet.flow.total
    assert sorted(behind.title.split(", ")) == ["Rump", "Shin", "Unexplained loss"]
    cuts = ("cut:rump", "cut:shin", "cut:bone", "cut:fat")
    many = opening.open(Wish(WishKind.SPOTS, Level.MIDDLE.value, cuts))
    assert many.title == "4 cuts"
    assert [spot_text(read_spot(text)) for text in spots] == list(spots)


def test_a_body_leads_to_its_stages_and_they_to_its_pieces() -> None:
    bench = Bench()
    body = bench.body(50_000, 900)
    first = bench.stage((Source.BODY, body, None), minutes=30)
    trim = bench.piece(first, "mince-trim", 20_000)
    bench.piece(first, "rump", 25_000)
    blend = bench.stage((Source.PIECE, trim, 5_000), kind=StageKind.BLEND)
    mince = bench.piece(blend, "mince", 5_000)
    opening, _, ledger = opened(bench.trade())
    bought = opening.open(Wish(WishKind.BOUGHT))
    assert bought.rows[0].leads == Wish(WishKind.BODY, body)
    stages = opening.open(Wish(WishKind.BODY, body))
    assert [row.key for row in stages.rows] == [first, blend]
    assert not stages.adds_up
    assert stages.rows[0].money == 50 * 900 + 1875
    leads = stages.rows[1].leads
    assert leads == Wish(WishKind.STAGE, blend)
    [row] = opening.open(leads).rows
    assert (row.key, row.bodies, row.cut, row.person) == (mince, body, "Mince", "Ana")
    assert row.money == ledger.pieces[mince].cost
    assert row.per_kilo == ledger.pieces[mince].cost_per_kilo


def test_a_body_that_hangs_says_so_and_an_unknown_one_is_refused() -> None:
    bench = Bench()
    body = bench.body(10_000, 900)
    opening, _, _ = opened(bench.trade())
    behind = opening.open(Wish(WishKind.BODY, body))
    assert behind.rows == ()
    assert "hangs on the rail" in behind.note
    with pytest.raises(Refusal, match="B9 is not in this week"):
        opening.open(Wish(WishKind.BODY, "B9"))


def test_loss_of_the_week_before_is_not_behind_this_weeks() -> None:
    bench = Bench(now=START - timedelta(days=7))
    stage = bench.stage((Source.BODY, bench.body(50_000, 900), None))
    bench.piece(stage, "rump", 40_000)
    opening, _, _ = opened(bench.trade())
    assert opening.open(Wish(WishKind.LOSS)).rows == ()


def test_a_body_that_was_taken_last_week_is_not_taken_again() -> None:
    bench = Bench(now=START - timedelta(days=7))
    stage = bench.stage((Source.BODY, bench.body(50_000, 900), None), still_open=True)
    bench.now = START
    bench.piece(stage, "rump", 40_000)
    opening, sheet, _ = opened(bench.trade())
    assert sheet.now.summary.taken_g == 0
    assert opening.open(Wish(WishKind.TAKEN)).rows == ()
    assert opening.open(Wish(WishKind.SALEABLE)).grams == 40_000
