"""The roll-up's shares against fractions worked out piece by piece, to the unit.

The program shares by whole numbers over a denominator that a stage's pieces have in common. Here
every piece has a fraction of its own, and the largest remainders are picked by hand.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.costing.costing import Costing, PieceCost, StageCost
from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.trade.catalogue import CutKind
from gambrel.domain.trade.records import PriceChange, Source, StageKind, Trade
from tests.trades import CUTS, START, Bench, random_trades

methods = st.sampled_from(list(Method))
SOLD = [cut.key for cut in CUTS if cut.kind.bears_cost]


@st.composite
def trades_with_prices_in_time(draw: st.DrawFn) -> Trade:
    """Random trades in which some cuts' prices change while the work goes on."""
    trade = draw(random_trades())
    changes = st.tuples(st.sampled_from(SOLD), st.integers(-2, 40))
    drawn = draw(st.dictionaries(changes, st.integers(0, 9000), max_size=6))
    prices = [
        PriceChange(cut, price, START + timedelta(hours=hour))
        for (cut, hour), price in drawn.items()
    ]
    return replace(trade, prices=tuple(prices))


class ByFractions:
    """Worth and claim of every piece of a costing, in minor units per gram, as fractions."""

    def __init__(self, trade: Trade, costing: Costing) -> None:
        self._trade = trade
        self._method = costing.method
        self._cuts = {cut.key: cut for cut in trade.cuts}
        taxed = trade.shop.prices_include_tax
        self._tax = 1 + Fraction(trade.shop.tax_percent) / 100 if taxed else Fraction(1)
        self._takes: dict[str, list[tuple[str, int]]] = defaultdict(list)
        for stage in costing.stages:
            for take in stage.takes:
                if take.source is Source.PIECE:
                    self._takes[take.key].append((stage.stage.key, take.grams))
        self._per_gram: dict[str, Fraction] = {}
        for stage in reversed(costing.stages):
            self._value(stage, [p for p in costing.pieces if p.piece.stage == stage.stage.key])

    def _value(self, stage: StageCost, made: list[PieceCost]) -> None:
        grams = sum(take.grams for take in stage.takes if take.source is Source.PIECE)
        if grams:
            value = sum((self._worth(piece) for piece in made), Fraction(0))
            value -= stage.work + stage.ingredient_cost
            self._per_gram[stage.stage.key] = max(value, Fraction(0)) / grams

    def _later(self, piece: PieceCost) -> Fraction:
        takes = self._takes[piece.piece.key]
        if self._method is Method.WEIGHT:
            return Fraction(sum(grams for _, grams in takes))
        return sum((self._per_gram[stage] * grams for stage, grams in takes), Fraction(0))

    def _price(self, piece: PieceCost) -> Fraction:
        cut, at = piece.piece.cut, piece.piece.weighed_at
        came = [row for row in self._trade.prices if row.cut == cut and row.since <= at]
        price = max(came, key=lambda row: row.since).price if came else self._cuts[cut].price
        return Fraction(price or 0) / self._tax / 1000

    def _worth(self, piece: PieceCost) -> Fraction:
        cut = self._cuts[piece.piece.cut]
        rate = Fraction(0)
        if cut.kind.bears_cost:
            finish = 0 if self._method is Method.SALES_VALUE else Fraction(cut.finish, 1000)
            rate = self._price(piece) - finish
        elif cut.kind is CutKind.BYPRODUCT:
            rate = Fraction(cut.credit, 1000)
        return rate * piece.rest_g + self._later(piece)

    def claim(self, piece: PieceCost) -> Fraction:
        """What the method shares by."""
        cut, later = self._cuts[piece.piece.cut], self._later(piece)
        if not cut.kind.bears_cost:
            return later
        if self._method is Method.WEIGHT:
            return piece.rest_g + later
        finish = Fraction(cut.finish, 1000) if self._method is Method.NRV else 0
        return max(self._price(piece) - finish, Fraction(0)) * piece.rest_g + later


def largest_remainders(total: int, claims: list[Fraction]) -> list[int]:
    """Whole parts of a total, picked one unit after another from the largest remainder."""
    exact = [abs(total) * claim / sum(claims) for claim in claims]
    parts = [int(each) for each in exact]
    while sum(parts) < abs(total):
        short = [each - part for each, part in zip(exact, parts, strict=True)]
        parts[short.index(max(short))] += 1
    return [-part for part in parts] if total < 0 else parts


@given(trades_with_prices_in_time(), methods)
def test_shares_are_those_of_fractions_piece_by_piece(trade: Trade, method: Method) -> None:
    costing = roll_up(trade, method)
    fractions = ByFractions(trade, costing)
    for stage in costing.stages:
        own = [p for p in costing.pieces if p.piece.stage == stage.stage.key]
        claims = [fractions.claim(piece) for piece in own]
        if not any(claims):
            continue  # shared by weight, or stranded: test_rollup.py has both
        if method is Method.CONSTANT_MARGIN:
            whole = largest_remainders(stage.joint + sum(p.finish for p in own), claims)
            parts = [part - piece.finish for part, piece in zip(whole, own, strict=True)]
        else:
            parts = largest_remainders(stage.joint, claims)
        assert [piece.share for piece in own] == parts


@given(trades_with_prices_in_time(), methods)
def test_what_later_stages_pay_is_all_that_was_taken(trade: Trade, method: Method) -> None:
    costing = roll_up(trade, method)
    paid: dict[str, int] = defaultdict(int)
    for stage in costing.stages:
        for take, cost in zip(stage.takes, stage.take_costs, strict=True):
            if take.source is Source.PIECE:
                paid[take.key] += cost
    for piece in costing.pieces:
        assert piece.share == piece.rest_share + paid[piece.piece.key]


def test_notes_about_worth_come_from_the_last_stage_back_then_those_about_costs() -> None:
    bench = Bench()
    bench.cuts = tuple(replace(c, price=10) if c.key == "shin" else c for c in CUTS)
    bench.body(30_000, 1000)
    breaking = bench.stage((Source.BODY, "B1", None), still_open=True)
    bench.piece(breaking, "shin", 10_000)
    bench.piece(breaking, "rump", 5_000)
    trim = bench.piece(breaking, "mince-trim", 10_000)
    blend = bench.stage((Source.PIECE, trim, None), kind=StageKind.BLEND, minutes=6000)
    bench.piece(blend, "shin", 9_000)
    bench.piece(blend, "mince", 1_000)
    found = [(note.code, note.about) for note in roll_up(bench.trade()).notes]
    assert found == [
        ("nrv-floored", "P4"),
        ("worth-floored", "S2"),
        ("nrv-floored", "P1"),
        ("open", "S1"),
    ]


def test_a_cut_that_sells_for_just_its_finishing_is_no_loss() -> None:
    bench = Bench()
    bench.cuts = tuple(replace(c, price=c.finish) if c.key == "shin" else c for c in CUTS)
    bench.body(20_000, 1000)
    breaking = bench.stage((Source.BODY, "B1", None))
    bench.piece(breaking, "shin", 10_000)
    bench.piece(breaking, "rump", 10_000)
    assert roll_up(bench.trade()).notes == ()
