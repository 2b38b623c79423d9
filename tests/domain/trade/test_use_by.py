from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import IngredientLot
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.records import Input, Source, StageKind, Trade
from gambrel.domain.trade.use_by import use_by_days
from tests.trades import CUTS, Bench, random_trades

LIVES = {"rump": 5, "mince-trim": 4, "mince": 2}
LASTING = tuple(replace(cut, shelf_life_days=LIVES.get(cut.key)) for cut in CUTS)


def blend() -> tuple[Bench, str, str]:
    """A body gives trim, and four days later mince is made of it."""
    bench = Bench(cuts=LASTING)
    stage = bench.stage((Source.BODY, bench.body(80_000, 1000), None))
    trim = bench.piece(stage, "mince-trim", 9000)
    bench.now += timedelta(days=3)
    mixed = bench.stage((Source.PIECE, trim, 5000), kind=StageKind.BLEND)
    return bench, trim, bench.piece(mixed, "mince", 5000)


def test_mincing_makes_no_trim_fresher() -> None:
    bench, trim, mince = blend()
    days = use_by_days(bench.trade())
    weighed = business_day(bench.pieces[0].weighed_at, bench.shop)
    assert days[trim] == weighed + timedelta(days=4)
    # Its own two days would end a day later.
    assert business_day(bench.pieces[1].weighed_at, bench.shop) == weighed + timedelta(days=3)
    assert days[mince] == days[trim]


def test_a_body_and_an_ingredient_may_end_first() -> None:
    bench, trim, mince = blend()
    early, earlier = date(2026, 11, 18), date(2026, 11, 17)
    days = use_by_days(bench.trade(), {"B1": early})
    assert (days[trim], days[mince]) == (early, early)
    lot = IngredientLot("S2", "crumb", "L1", earlier)
    days = use_by_days(bench.trade(), {"B1": early}, [lot])
    assert (days[trim], days[mince]) == (early, earlier)


def test_where_nothing_says_a_day_there_is_none() -> None:
    bench = Bench()
    piece = bench.piece(bench.stage((Source.BODY, bench.body(9000, 10), None)), "bone", 100)
    assert use_by_days(bench.trade()) == {piece: None}


def test_a_circle_is_refused() -> None:
    bench, _, mince = blend()
    bench.inputs.append(Input("S1", Source.PIECE, mince, 1))
    with pytest.raises(Refusal, match="circle"):
        use_by_days(bench.trade())


@given(random_trades())
def test_no_piece_outlasts_what_it_was_made_of(trade: Trade) -> None:
    trade = replace(
        trade, cuts=tuple(replace(c, shelf_life_days=LIVES.get(c.key)) for c in trade.cuts)
    )
    days = use_by_days(trade)
    made_of = {(row.stage, row.key) for row in trade.inputs if row.source is Source.PIECE}
    for piece in trade.pieces:
        life = LIVES.get(piece.cut)
        day = days[piece.key]
        if life is not None:
            assert day is not None
            assert day <= business_day(piece.weighed_at, trade.shop) + timedelta(days=life)
        for parent in (days[key] for stage, key in made_of if stage == piece.stage):
            assert parent is None or (day is not None and day <= parent)
