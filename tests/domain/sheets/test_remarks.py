"""What a week's sheet says aloud, and when it keeps quiet."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from gambrel.domain.costing.ledger import Ledger
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.numbers.money import Currency
from gambrel.domain.prices.dropping import if_dropped
from gambrel.domain.sheets.remarks import remarks
from gambrel.domain.sheets.week_sheet import WeekSheet, week_sheet
from gambrel.domain.trade.catalogue import ListLine
from gambrel.domain.trade.clock import trade_week
from gambrel.domain.trade.formats import Formats
from gambrel.domain.trade.records import PricedOn, Source, StageKind, Trade
from tests.trades import CUTS, START, Bench

BODY, PIECE = Source.BODY, Source.PIECE
FORMATS = Formats(Currency("AUD", 2), "$")
OFF = "B1 (farm) weighed"


def said(trade: Trade) -> list[str]:
    shop = replace(trade.shop, target_margin_percent=Decimal(0))
    sheet = week_of(replace(trade, shop=shop))
    return [" ".join(sentence.split()) for sentence in remarks(sheet, FORMATS)]


def week_of(trade: Trade) -> WeekSheet:
    return week_sheet(Ledger(trade, roll_up(trade)), trade_week("2026-W47", trade.shop))


def broken(lost_g: int, *, input_g: int = 20_000, still_open: bool = False) -> Bench:
    bench = Bench()
    stage = bench.stage((BODY, bench.body(input_g, 1000), None), still_open=still_open)
    bench.piece(stage, "rump", input_g - lost_g)
    return bench


def test_a_quiet_week_says_nothing() -> None:
    assert said(broken(300).trade()) == []


@pytest.mark.parametrize(
    ("lost_g", "input_g", "loud"),
    [(300, 20_000, False), (301, 20_000, True), (301, 30_000, False), (310, 10_000, True),
     (290, 1_000, False), (450, 30_000, False), (451, 30_000, True)],
)  # fmt: skip
def test_a_loss_is_told_above_both_limits(lost_g: int, input_g: int, loud: bool) -> None:
    told = said(broken(lost_g, input_g=input_g).trade())
    assert bool(told) == loud
    if loud:
        assert told[0].startswith(f"B1: {FORMATS.kg(lost_g)} kg is unexplained, ")


def test_a_loss_is_told_in_weight_share_and_money() -> None:
    assert said(broken(1_000).trade()) == ["B1: 1.000 kg is unexplained, 5.0 % or $10.00."]


def test_more_out_than_in_is_always_told() -> None:
    told = said(broken(-1).trade())
    expected = "B1: 0.001 kg more came out than went in. Look for a piece weighed twice."
    assert told == [expected]
    told = said(broken(-1, still_open=True).trade())
    assert told[0].startswith("B1 is still open and has weighed 0.001 kg more than went in.")


def test_an_open_body_says_what_is_left() -> None:
    told = said(broken(5_000, still_open=True).trade())
    assert told == ["B1 is still on the block, 5.000 kg to weigh."]


@pytest.mark.parametrize(
    ("docket_g", "told"),
    [
        (20_200, []),
        (20_201, [f"{OFF} 0.201 kg less than its docket, and the docket was paid: $2.01."]),
        (19_799, [f"{OFF} 0.201 kg more than its docket."]),
        (19_800, []),
    ],
)  # fmt: skip
def test_a_docket_that_is_off_is_told(docket_g: int, told: list[str]) -> None:
    trade = broken(100).trade()
    body = replace(trade.bodies[0], docket_g=docket_g, priced_on=PricedOn.DOCKET)
    assert said(replace(trade, bodies=(body,))) == told


def test_a_short_docket_that_was_not_paid_costs_nothing() -> None:
    trade = broken(100).trade()
    body = replace(trade.bodies[0], docket_g=21_000)
    assert said(replace(trade, bodies=(body,))) == [
        "B1 (farm) weighed 1.000 kg less than its docket."
    ]


def test_yields_far_from_their_norm_and_missing_cuts_are_told() -> None:
    bench = Bench()
    stage = bench.stage((BODY, bench.body(100_000, 1000), None))
    bench.piece(stage, "rump", 50_000)
    bench.piece(stage, "shin", 49_900)
    stages = (replace(bench.trade().stages[0], list="Round"),)
    norms = [("rump", "40"), ("shin", "49"), ("bone", "10")]
    lines = tuple(
        ListLine("Round", "beef", "hindquarter", n, cut, Decimal(norm))
        for n, (cut, norm) in enumerate(norms)
    )
    trade = replace(bench.trade(), stages=stages, lists=lines)
    assert said(trade) == ["B1 is off its norm: Rump 50.0 % (norm 40.0 %), no Bone."]


def test_a_cut_below_its_cost_is_told() -> None:
    bench = Bench()
    stage = bench.stage((BODY, bench.body(10_000, 4000), None))
    bench.piece(stage, "rump", 10_000)
    told = said(bench.trade())
    loss = "Rump sells below its cost: it costs $40.48 and sells at $26.99 a kilo."
    assert told == [f"{loss} Without it the week would have earned $265.10 less."]


def test_what_a_cut_brings_in_is_what_dropping_it_would_lose() -> None:
    trade = two_cuts_of_a_body()
    (line,) = (line for line in week_of(trade).cuts if line.row.cut.key == "shin")
    lost = if_dropped(trade, "shin", START + timedelta(days=2)).worse
    assert line.row.contribution == lost
    assert lost > 0


def test_a_cut_that_does_not_pay_for_its_finishing_is_told() -> None:
    dear = replace(CUTS[1], finish=CUTS[1].price + 100 if CUTS[1].price else 0)
    trade = two_cuts_of_a_body()
    cuts = tuple(dear if cut.key == "shin" else cut for cut in trade.cuts)
    (told,) = (each for each in said(replace(trade, cuts=cuts)) if "below its cost" in each)
    assert told.endswith("finishing: without it the week would have earned $2.00 more.")


def two_cuts_of_a_body() -> Trade:
    bench = Bench()
    stage = bench.stage((BODY, bench.body(10_000, 1000), None))
    bench.piece(stage, "rump", 8_000)
    bench.piece(stage, "shin", 2_000)
    return bench.trade()


def test_thin_cuts_are_counted_and_the_thinnest_named() -> None:
    bench = broken(0)
    shop = replace(bench.shop, target_margin_percent=Decimal(99))
    trade = replace(bench.trade(), shop=shop)
    sheet = week_sheet(Ledger(trade, roll_up(trade)), trade_week("2026-W47", shop))
    (told,) = remarks(sheet, FORMATS)
    assert " ".join(told.split()).startswith("1 of 1 cuts earn less than 99 %; the thinnest: Rump ")


def test_voids_are_counted_by_reason() -> None:
    bench = broken(0)
    for _ in range(2):
        bench.void(bench.piece("S1", "shin", 10))
    assert said(bench.trade()) == ["2 weighings were taken back: wrong cut 2."]


def test_what_the_costing_notes_is_passed_on_once() -> None:
    bench = Bench()
    stage = bench.stage((BODY, bench.body(10_000, 1000), None))
    bench.piece(stage, "bone", 10_000)
    told = said(bench.trade())
    assert len(told) == 1
    assert "nothing saleable to bear" in told[0]
    assert told[0][0].isupper()
    assert told[0].endswith(".")


def test_another_weeks_trouble_is_not_this_weeks() -> None:
    trade = broken(5_000).trade()
    week = timedelta(days=7)
    (body,), (stage,), (piece,) = trade.bodies, trade.stages, trade.pieces
    assert stage.finished_at is not None
    stage = replace(stage, started_at=stage.started_at + week, finished_at=stage.finished_at + week)
    later = replace(
        trade,
        bodies=(replace(body, received_at=body.received_at + week),),
        stages=(stage,),
        pieces=(piece._replace(weighed_at=piece.weighed_at + week),),
    )
    assert said(trade)
    assert said(later) == []


def test_a_stage_without_a_body_is_called_by_what_it_made() -> None:
    bench = broken(0)
    trim = bench.stage((PIECE, "P1", 10_000), kind=StageKind.TRIMOUT)
    bench.piece(trim, "mince-trim", 9_000)
    blend = bench.stage((PIECE, "P2", None), kind=StageKind.BLEND)
    bench.piece(blend, "mince", 8_000)
    told = said(bench.trade())
    assert told[0].startswith(("Trim-out S2 (Rump): 1.000 kg", "Blend S3 (Mince): 1.000 kg"))
    assert {line.partition(":")[0] for line in told} == {"Trim-out S2 (Rump)", "Blend S3 (Mince)"}
