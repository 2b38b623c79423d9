"""What would be without a cut, held against the whole of the money."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from gambrel.domain.costing.costing import Costing
from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.prices.dropping import if_dropped
from gambrel.domain.trade.catalogue import CutKind
from gambrel.domain.trade.records import Source, StageKind, Trade
from tests.trades import CUTS, START, Bench

SALEABLE = ("rump", "shin", "mince-trim")


@st.composite
def months(draw: st.DrawFn) -> Trade:
    """Some bodies broken, the trim of some of them in a blend."""
    bench = Bench()
    trims = []
    for _ in range(draw(st.integers(1, 3))):
        stage = bench.stage(
            (Source.BODY, bench.body(50_000, draw(st.integers(100, 2000))), None),
            minutes=draw(st.integers(0, 60)),
        )
        for cut in draw(st.lists(st.sampled_from(CUTS), min_size=1, max_size=6)):
            key = bench.piece(stage, cut.key, draw(st.integers(100, 9000)))
            if cut.key == "mince-trim":
                trims.append(key)
    blended: bool = draw(st.booleans())
    if trims and blended:
        blend = bench.stage(*((Source.PIECE, key, None) for key in trims), kind=StageKind.BLEND)
        bench.piece(blend, "mince", draw(st.integers(100, 20_000)))
    return bench.trade()


def earned(costing: Costing, dropped: str = "") -> int:
    """All takings less all that was paid, whatever stands where."""
    totals = costing.totals
    parts = [part for part in costing.pieces if part.kind.bears_cost and part.piece.cut != dropped]
    takings = sum((part.price or 0) * part.rest_g for part in parts)
    paid = totals.bought + totals.work + totals.ingredients + totals.finish - totals.credit
    return takings - 1000 * paid


@given(months(), st.sampled_from(SALEABLE), st.sampled_from(list(Method)))
def test_the_shop_is_worse_off_by_just_what_the_whole_trade_says(
    trade: Trade, cut: str, method: Method
) -> None:
    assume(any(piece.cut == cut for piece in trade.pieces))
    now = max(piece.weighed_at for piece in trade.pieces) + timedelta(days=1)
    said = if_dropped(trade, cut, now, method)
    thrown = tuple(replace(c, kind=CutKind.WASTE) if c.key == cut else c for c in trade.cuts)
    before = earned(roll_up(trade, method))
    after = earned(roll_up(replace(trade, cuts=thrown), method), cut)
    assert abs(before - after - 1000 * said.worse) < 1000, "to a minor unit of rounding"
    assert said.loss == said.share + said.finish - said.takings


@given(months(), st.sampled_from(SALEABLE))
def test_by_weight_the_others_carry_its_share_and_none_gets_cheaper(trade: Trade, cut: str) -> None:
    assume(any(piece.cut == cut for piece in trade.pieces))
    now = max(piece.weighed_at for piece in trade.pieces) + timedelta(days=1)
    said = if_dropped(trade, cut, now)
    thrown = tuple(replace(c, kind=CutKind.WASTE) if c.key == cut else c for c in trade.cuts)
    lost = roll_up(replace(trade, cuts=thrown)).totals.stranded - roll_up(trade).totals.stranded
    assert sum(load.more for load in said.others) + lost == said.share
    if said.share > 0 and not lost:
        assert said.others[0].more > 0


def test_a_cut_that_does_not_pay_its_own_finishing_is_better_dropped() -> None:
    bench = Bench()
    stage = bench.stage((Source.BODY, bench.body(10_000, 500), None))
    bench.piece(stage, "rump", 4_000)
    bench.piece(stage, "shin", 4_000)
    cheap = tuple(replace(c, price=20) if c.key == "shin" else c for c in CUTS)
    trade = replace(bench.trade(), cuts=cheap)
    said = if_dropped(trade, "shin", trade.pieces[-1].weighed_at + timedelta(days=1))
    # 4 kg at 0.20 bring in 0.80, and 4 kg at 0.30 of finishing cost 1.20.
    assert (said.takings, said.finish, said.worse) == (80, 120, -40)


def test_what_was_cut_long_ago_does_not_count() -> None:
    bench = Bench()
    stage = bench.stage((Source.BODY, bench.body(10_000, 500), None))
    bench.piece(stage, "rump", 4_000)
    bench.piece(stage, "shin", 4_000)
    trade = bench.trade()
    said = if_dropped(trade, "shin", trade.pieces[-1].weighed_at + timedelta(days=40))
    assert (said.takings, said.share, said.others) == (0, 0, ())


@pytest.mark.parametrize("cut", ["no-such-cut", "bone"])
def test_only_what_has_a_price_can_be_asked_about(cut: str) -> None:
    with pytest.raises(KeyError):
        if_dropped(Bench().trade(), cut, START)
