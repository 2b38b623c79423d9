"""The roll-up by hand-worked examples and by what must hold for every trade."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.costing.costing import Costing
from gambrel.domain.costing.lines import cut_lines
from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.refusals import Refusal, RowsRefused
from gambrel.domain.trade.catalogue import Cut, CutKind
from gambrel.domain.trade.records import PriceChange, Source, StageKind, Trade
from tests.trades import CUTS, START, Bench, a_shop, random_trades

methods = st.sampled_from(list(Method))
BODY, PIECE = Source.BODY, Source.PIECE


def shares(costing: Costing) -> dict[str, int]:
    return {cost.piece.key: cost.share for cost in costing.pieces}


def codes(costing: Costing) -> set[str]:
    return {note.code for note in costing.notes}


def quarter() -> Bench:
    """84 kg at 9.67, hung to 82.4 kg: rump 40, shin 20, fat 10, bone 12, 0.4 unexplained."""
    bench = Bench()
    bench.reweigh(bench.body(84_000, 967), 82_400)
    stage = bench.stage((BODY, "B1", None), minutes=22)
    for cut, grams in (("rump", 40_000), ("shin", 20_000), ("fat", 10_000), ("bone", 12_000)):
        bench.piece(stage, cut, grams, tare=120)
    return bench


def test_one_quarter_by_hand() -> None:
    # bought 812.28, work 22/60 x 37.50 = 13.75, credit 2.00 - 1.80 = 0.20: joint 825.83.
    costing = roll_up(quarter().trade(), Method.WEIGHT)
    stage = costing.stages[0]
    assert (stage.input_cost, stage.work, stage.credit, stage.joint) == (81228, 1375, 20, 82583)
    assert shares(costing) == {"P1": 55055, "P2": 27528, "P3": 0, "P4": 0}
    assert costing.pieces[0].finish == 1920
    body = costing.bodies[0]
    assert (body.input_g, body.hang_loss_g, body.unexplained_g) == (82_400, 1600, 400)
    assert body.saleable_percent is not None
    assert round(body.saleable_percent, 2) == Decimal("72.82")


def test_net_realisable_value_by_hand() -> None:
    # 40 x (26.99 - 0.48) = 1060.40 and 20 x (14.99 - 0.30) = 293.80 share 825.83.
    assert shares(roll_up(quarter().trade()))["P1"] == round(82583 * 1060.40 / 1354.20)


def test_constant_margin_gives_every_cut_the_same_margin() -> None:
    margins = {
        line.margin for line in cut_lines(roll_up(quarter().trade(), Method.CONSTANT_MARGIN))
    }
    kept = [margin for margin in margins if margin is not None]
    assert max(kept) - min(kept) < Decimal("0.0001")


def test_value_runs_back_through_a_blend() -> None:
    # Trim of 10 kg becomes 10 kg of mince worth 10 x (13.99 - 0.25) = 137.40, less 2.50 of work
    # and 1.00 of salt: the trim is worth 133.90, against rump at 26.51 a kilo.
    bench = Bench()
    bench.body(20_000, 1000)
    breaking = bench.stage((BODY, "B1", None))
    bench.piece(breaking, "rump", 10_000)
    trim = bench.piece(breaking, "mince-trim", 10_000)
    blend = bench.stage((PIECE, trim, None), kind=StageKind.BLEND, minutes=4)
    bench.ingredient(blend, "salt", 100, 100)
    bench.piece(blend, "mince", 10_000)
    costing = roll_up(bench.trade())
    worth, rump = Decimal("133.90"), Decimal("265.10")
    assert shares(costing)["P2"] == round(20000 * worth / (worth + rump))
    assert costing.stages[1].joint == shares(costing)["P2"] + 250 + 100
    assert costing.pieces[1].rest_cost == 0


def test_a_consumed_by_product_bears_cost_only_for_what_was_consumed() -> None:
    bench = Bench()
    bench.body(20_000, 1000)
    breaking = bench.stage((BODY, "B1", None))
    bench.piece(breaking, "rump", 10_000)
    fat = bench.piece(breaking, "fat", 10_000)
    blend = bench.stage((PIECE, fat, 4_000), kind=StageKind.BLEND)
    bench.piece(blend, "mince", 4_000)
    costing = roll_up(bench.trade(), Method.WEIGHT)
    # credit 6 kg x 0.20 = 1.20; 198.80 shared over 10 + 4 kg.
    assert costing.stages[0].credit == 120
    assert shares(costing) == {"P1": 14200, "P2": 5680, "P3": 5680}


def test_prices_are_those_of_the_weighing_unless_a_day_is_asked_for() -> None:
    bench = quarter()
    bench.prices.append(PriceChange("shin", 9999, START + timedelta(days=2)))
    then = roll_up(bench.trade())
    day = (START + timedelta(days=3)).date()
    later = roll_up(bench.trade(), at=day)
    assert [p.price for p in then.pieces[:2]] == [2699, 1499]
    assert [p.price for p in later.pieces[:2]] == [2699, 9999]
    assert shares(later)["P2"] > shares(then)["P2"]
    assert shares(then) == shares(roll_up(quarter().trade()))


def test_a_missing_price_is_refused_by_the_cuts_name_but_not_by_weight() -> None:
    bench = quarter()
    bench.cuts = tuple(replace(c, price=None) if c.key == "shin" else c for c in CUTS)
    with pytest.raises(Refusal, match="no price for Shin"):
        roll_up(bench.trade())
    assert roll_up(bench.trade(), Method.WEIGHT).totals.difference == 0


def test_no_saleable_output_strands_the_cost_and_says_so() -> None:
    bench = Bench()
    bench.body(10_000, 1000)
    bench.piece(bench.stage((BODY, "B1", None)), "bone", 9_000)
    costing = roll_up(bench.trade())
    # 100.00 and a disposal fee of 9 x 0.15.
    assert costing.totals.stranded == 10135
    assert "stranded" in codes(costing)
    assert costing.totals.difference == 0


def test_no_worth_anywhere_falls_back_to_weight_and_says_so() -> None:
    bench = quarter()
    bench.cuts = tuple(replace(c, price=0) if c.kind.bears_cost else c for c in CUTS)
    costing = roll_up(bench.trade(), Method.SALES_VALUE)
    assert "weight-fallback" in codes(costing)
    assert shares(costing) == shares(roll_up(quarter().trade(), Method.WEIGHT))


def test_more_out_than_in_is_told() -> None:
    bench = Bench()
    bench.body(10_000, 1000)
    bench.piece(bench.stage((BODY, "B1", None)), "rump", 10_500)
    costing = roll_up(bench.trade())
    assert costing.stages[0].unexplained_g == -500
    assert "overweight" in codes(costing)


def test_an_open_stage_has_its_rest_on_the_block() -> None:
    bench = Bench()
    bench.body(10_000, 1000)
    bench.piece(bench.stage((BODY, "B1", None), still_open=True), "rump", 4_000)
    costing = roll_up(bench.trade())
    assert (costing.stages[0].unexplained_g, costing.stages[0].on_block_g) == (0, 6_000)
    assert "open" in codes(costing)


def test_a_blend_that_costs_more_than_it_makes_counts_its_trim_as_worth_nothing() -> None:
    bench = Bench()
    bench.body(20_000, 1000)
    breaking = bench.stage((BODY, "B1", None))
    bench.piece(breaking, "rump", 10_000)
    trim = bench.piece(breaking, "mince-trim", 10_000)
    bench.piece(bench.stage((PIECE, trim, None), minutes=6000), "mince", 10_000)
    costing = roll_up(bench.trade())
    assert "worth-floored" in codes(costing)
    assert shares(costing)["P2"] == 0


def test_a_body_broken_in_parts_pays_by_weight_and_dries_in_between() -> None:
    bench = Bench()
    bench.body(100_000, 1000)
    bench.stage((BODY, "B1", 40_000))
    bench.reweigh("B1", 57_000)
    bench.stage((BODY, "B1", 19_000))
    costing = roll_up(bench.trade(), Method.WEIGHT)
    body = costing.bodies[0]
    assert [s.take_costs for s in costing.stages] == [(40000,), (20000,)]
    assert (body.hang_loss_g, body.left_g, body.left_cost) == (3_000, 38_000, 40000)
    assert costing.totals.on_rail == 40000


@pytest.mark.parametrize("wanted", [90_000, None])
def test_taking_more_than_is_left_is_refused(wanted: int | None) -> None:
    bench = Bench()
    bench.body(84_000, 1000)
    bench.stage((BODY, "B1", 84_000))
    bench.stage((BODY, "B1", wanted))
    with pytest.raises(RowsRefused, match="left"):
        roll_up(bench.trade())


def test_a_circle_of_stages_is_refused_by_name() -> None:
    bench = Bench()
    first = bench.stage((PIECE, "P2", None))
    second = bench.stage((PIECE, "P1", None))
    bench.piece(first, "rump", 1_000)
    bench.piece(second, "rump", 1_000)
    with pytest.raises(Refusal, match="S1, S2 take each other's pieces in a circle"):
        roll_up(bench.trade())


def test_tax_inside_the_price_is_taken_out_before_anything_is_shared() -> None:
    taxed = quarter()
    taxed.shop = a_shop(tax_percent=Decimal(10), prices_include_tax=True)
    taxed.cuts = tuple(
        replace(c, price=c.price * 11 // 10) if c.price in (2690, 1490) else c
        for c in _round_prices()
    )
    plain = quarter()
    plain.cuts = _round_prices()
    assert shares(roll_up(taxed.trade())) == shares(roll_up(plain.trade()))


def _round_prices() -> tuple[Cut, ...]:
    rounded = {"rump": 2690, "shin": 1490}
    return tuple(replace(c, price=rounded[c.key]) if c.key in rounded else c for c in CUTS)


@given(random_trades(), methods)
def test_no_cent_appears_or_vanishes(trade: Trade, method: Method) -> None:
    totals = roll_up(trade, method).totals
    assert totals.bought == sum(body.bought for body in trade.bodies)
    assert totals.difference == 0


@given(random_trades(), methods)
def test_every_stage_shares_all_of_its_joint_cost(trade: Trade, method: Method) -> None:
    costing = roll_up(trade, method)
    for stage in costing.stages:
        own = [p.share for p in costing.pieces if p.piece.stage == stage.stage.key]
        assert sum(own) + stage.stranded == stage.joint


@given(random_trades(), methods, st.randoms(use_true_random=False))
def test_the_order_of_the_rows_does_not_matter(
    trade: Trade, method: Method, chance: random.Random
) -> None:
    def shuffled(rows: tuple[object, ...]) -> tuple[object, ...]:
        return tuple(chance.sample(rows, len(rows)))

    names = ("bodies", "reweighs", "stages", "inputs", "pieces", "voids")
    mixed = replace(trade, **{name: shuffled(getattr(trade, name)) for name in names})  # type: ignore[arg-type]
    assert roll_up(mixed, method) == roll_up(trade, method)


@given(random_trades(), methods)
def test_weight_balances_to_the_gram(trade: Trade, method: Method) -> None:
    costing = roll_up(trade, method)
    for stage in costing.stages:
        rest = stage.unexplained_g + stage.on_block_g
        assert stage.input_g == stage.output_g + rest
    for body in costing.bodies:
        received = body.body.received_g
        assert received == body.input_g + body.hang_loss_g + body.left_g


@given(random_trades(most_stages=1), methods)
def test_a_single_main_output_takes_the_whole_joint_cost(trade: Trade, method: Method) -> None:
    costing = roll_up(trade, method)
    main = [p for p in costing.pieces if p.kind.bears_cost]
    if len(main) == 1 and len(costing.stages) == 1:
        assert main[0].share == costing.stages[0].joint


@given(st.integers(2, 50), methods)
def test_twice_the_weights_at_the_same_rates_cost_the_same_per_kilo(
    factor: int, method: Method
) -> None:
    once = roll_up(_scaled(1), method)
    often = roll_up(_scaled(factor), method)
    for one, many in zip(once.pieces, often.pieces, strict=True):
        if one.kind.bears_cost:
            per_piece = Decimal(many.cost) / factor - one.cost
            assert abs(per_piece) <= 1, "rounding to a cent is all that may differ"


def _scaled(factor: int) -> Trade:
    bench = Bench()
    bench.body(84_000 * factor, 967)
    stage = bench.stage((BODY, "B1", None), minutes=24 * factor)
    for cut, grams in (("rump", 40_000), ("shin", 20_000), ("fat", 10_000), ("bone", 12_000)):
        bench.piece(stage, cut, grams * factor)
    return bench.trade()


@given(random_trades())
def test_all_four_methods_share_the_same_money(trade: Trade) -> None:
    ends = {
        (costing.totals.end_cost + costing.totals.stranded)
        for costing in (roll_up(trade, method) for method in Method)
    }
    assert len(ends) == 1


def test_kinds_bear_cost_as_the_trade_has_it() -> None:
    assert [kind.bears_cost for kind in CutKind] == [True, True, False, False]
