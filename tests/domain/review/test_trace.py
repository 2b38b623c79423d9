"""Traces: forward and back say the same, the weight balances, and nothing voided carries any."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from random import Random
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.costing.takes import grams_gone
from gambrel.domain.refusals import Refusal
from gambrel.domain.review.trace import Trace, trace
from gambrel.domain.review.trace_keys import Subject, SubjectKind
from gambrel.domain.review.trace_ways import Ways
from gambrel.domain.trade.catalogue import CutKind
from gambrel.domain.trade.records import Input, Source, StageKind, Trade, WriteOff
from tests.trades import HOUR, Bench, random_trades

BODY, PIECE = Source.BODY, Source.PIECE


@st.composite
def traded(draw: st.DrawFn) -> Trade:
    """A random trade in which some of what stands was thrown away."""
    trade = draw(random_trades())
    gone = grams_gone(trade)
    last = max((stage.started_at for stage in trade.stages), default=None)
    thrown = [
        WriteOff(piece.key, draw(st.integers(1, left)), last + 2 * HOUR, "old")
        for piece in trade.standing
        if last is not None and (left := piece.net_g - gone[piece.key]) and draw(st.booleans())
    ]
    return replace(trade, writeoffs=tuple(thrown))


def everything(trade: Trade) -> list[Subject]:
    """All that can be traced alone."""
    return [
        *(Subject(SubjectKind.BODY, body.key, bodies=(body.key,)) for body in trade.bodies),
        *(Subject(SubjectKind.STAGE, stage.key, stages=(stage.key,)) for stage in trade.stages),
        *(Subject(SubjectKind.PIECE, piece.key, pieces=(piece.key,)) for piece in trade.standing),
        *(
            Subject(SubjectKind.INGREDIENT_LOT, row.key, added=((row.stage, row.key),))
            for row in trade.inputs
            if row.source is Source.INGREDIENT
        ),
    ]


def names_before(found: Trace) -> set[str]:
    back = found.back
    return (
        {fate.body.key for fate in back.bodies}
        | {each.stage.key for each in back.stages}
        | {piece.key for piece in back.pieces}
        | {f"{row.stage}+{row.key}" for row in back.added}
    )


def names_after(found: Trace) -> set[str]:
    return {each.stage.key for each in found.forward.stages} | {
        each.piece.key for each in found.forward.pieces
    }


def name(subject: Subject) -> str:
    return "".join((*subject.bodies, *subject.stages, *subject.pieces)) or "+".join(
        subject.added[0]
    )


@given(traded())
def test_forward_of_one_holds_another_just_when_back_of_the_other_holds_the_one(
    trade: Trade,
) -> None:
    ways = Ways(trade)
    traces = [(name(subject), trace(ways, subject)) for subject in everything(trade)]
    for one, found in traces:
        forward = names_after(found)
        for other, back in traces:
            if one != other:
                assert (other in forward) == (one in names_before(back)), (one, other)


@given(traded(), st.data())
def test_every_gram_is_somewhere(trade: Trade, data: st.DataObject) -> None:
    ways = Ways(trade)
    bodies = [body.key for body in trade.bodies]
    some = data.draw(st.lists(st.sampled_from(bodies), unique=True, min_size=1))
    together = Subject(SubjectKind.SUPPLIER, "farm", bodies=tuple(some))
    for subject in [*everything(trade), together]:
        found = trace(ways, subject)
        balance = found.balance
        assert balance.difference_g == 0
        assert sum(found.at_end_g.values()) == balance.at_end_g
        assert sum(each.traced_off_g for each in found.forward.pieces) == balance.written_off_g
        assert balance.on_block_g >= 0
        for each in found.forward.pieces:
            assert 0 <= each.traced_left_g <= each.left_g
            assert 0 <= each.traced_off_g <= each.written_off_g
            assert each.taken_g + each.written_off_g + each.left_g == each.piece.net_g
            assert 0 <= each.share_percent <= 100


@given(traded(), st.randoms(use_true_random=False))
def test_the_order_of_rows_does_not_matter(trade: Trade, chance: Random) -> None:
    def shuffled(rows: tuple[Any, ...]) -> Any:
        return tuple(chance.sample(rows, len(rows)))

    tables = ("bodies", "reweighs", "stages", "inputs", "pieces", "voids", "writeoffs", "cuts")
    other = replace(trade, **{each: shuffled(getattr(trade, each)) for each in tables})
    one_way, other_way = Ways(trade), Ways(other)
    for subject in everything(trade):
        assert trace(one_way, subject) == trace(other_way, subject)


@given(traded())
def test_what_was_taken_back_carries_nothing(trade: Trade) -> None:
    ways = Ways(trade)
    for subject in everything(trade):
        found = trace(ways, subject)
        assert not names_after(found) & trade.voided
        assert not names_before(found) & trade.voided
        stages = {each.stage.key for each in found.forward.stages}
        told = {each.piece.key for each in found.forward.taken_back}
        assert told == {p.key for p in trade.pieces if p.key in trade.voided and p.stage in stages}
    for key in trade.voided:
        found = trace(ways, Subject(SubjectKind.PIECE, key, pieces=(key,)))
        assert (found.forward.stages, found.forward.pieces) == ((), ())
        assert found.balance.went_in_g == 0
        assert found.back.stages, "yet the stage at which it was weighed is told"


def share_of(trade: Trade, ways: Ways, piece: str, subject: Subject) -> Fraction:
    """How much of a piece is traced, in exact fractions and the plainest way."""
    if piece in subject.pieces:
        return Fraction(1)
    stage = ways.pieces[piece].stage
    if stage in subject.stages:
        return Fraction(1)
    traced = Fraction(0)
    for take in ways.takes(stage):
        if take.source is BODY:
            traced += take.grams * (take.key in subject.bodies)
        else:
            traced += take.grams * share_of(trade, ways, take.key, subject)
    traced += sum(row.grams or 0 for row in ways.added(stage) if (stage, row.key) in subject.added)
    return traced / ways.input_g(stage)


@given(traded())
def test_shares_are_those_of_a_plain_walk_in_fractions(trade: Trade) -> None:
    ways = Ways(trade)
    for subject in everything(trade):
        found = {each.piece.key: each for each in trace(ways, subject).forward.pieces}
        for piece in trade.standing:
            share = share_of(trade, ways, piece.key, subject)
            assert share == 0 or piece.key in found
            if piece.key in found:
                each = found[piece.key]
                # A stage takes a gram or more, and loses up to a millionth of one to rounding.
                error = abs(Fraction(each.share_percent) / 100 - share)
                assert error < Fraction(1, 100_000)
                assert abs(share * each.left_g - each.traced_left_g) < 2


def two_bodies_in_one_mince() -> Trade:
    """B1 (80 kg) and B2 (40 kg) broken; 6 kg trim of one and 4 of the other minced with salt."""
    bench = Bench()
    one, two = bench.body(80_000, 900), bench.body(40_000, 900)
    bench.reweigh(one, 78_000)
    first = bench.stage((BODY, one, None))
    bench.piece(first, "rump", 50_000)
    trim = bench.piece(first, "mince-trim", 27_000)
    wrong = bench.piece(first, "rump", 900)
    bench.void(wrong)
    second = bench.stage((BODY, two, 30_000))
    other = bench.piece(second, "mince-trim", 30_000)
    blend = bench.stage((PIECE, trim, 6_000), (PIECE, other, 4_000), kind=StageKind.BLEND)
    bench.ingredient(blend, "salt", 200, 40)
    bench.piece(blend, "mince", 5_100)
    bench.piece(blend, "mince", 4_590)
    made = bench.trade()
    return replace(made, writeoffs=(WriteOff("P5", 100, bench.tick(), "tray dropped"),))


def test_a_body_is_followed_through_the_mince_to_the_gram() -> None:
    found = trace(Ways(two_bodies_in_one_mince()), Subject(SubjectKind.BODY, "B1", bodies=("B1",)))
    assert [each.stage.key for each in found.forward.stages] == ["S1", "S3"]
    assert [take.key for take in found.forward.stages[1].takes] == ["P2"]
    assert [round(each.share_percent, 2) for each in found.forward.stages] == [
        *(Decimal(100), Decimal("58.82"))
    ]
    told = {each.piece.key: (each.left_g, each.traced_left_g) for each in found.forward.pieces}
    # 6 kg of 10.2 kg: 3000 of 5100 g, and 2700 of 4590 g. A dropped tray took 100 g of the first.
    assert told == {
        "P1": (50_000, 50_000), "P2": (21_000, 21_000), "P5": (5_000, 2_941), "P6": (4_590, 2_700),
    }  # fmt: skip
    assert [each.piece.key for each in found.forward.taken_back] == ["P3"]
    balance = found.balance
    assert (balance.went_in_g, balance.hang_loss_g, balance.on_rail_g) == (80_000, 2_000, 0)
    # 1 kg was lost at the break; 510 g at the mince, of which 300 g by the share.
    assert (balance.lost_g, balance.written_off_g, balance.on_block_g) == (1_300, 59, 0)
    assert found.at_end_g[CutKind.TRAY] == 50_000 + 2_941 + 2_700
    assert found.at_end_g[CutKind.TRIM] == 21_000


def test_what_still_hangs_and_what_is_on_the_block_is_told() -> None:
    bench = Bench()
    body = bench.body(40_000, 900)
    stage = bench.stage((BODY, body, 30_000), still_open=True)
    bench.piece(stage, "rump", 12_000)
    found = trace(Ways(bench.trade()), Subject(SubjectKind.BODY, body, bodies=(body,)))
    balance = found.balance
    assert (balance.on_rail_g, balance.on_block_g, balance.at_end_g) == (10_000, 18_000, 12_000)
    assert (balance.lost_g, balance.difference_g) == (0, 0)


def test_a_stage_that_weighed_out_more_than_it_took_keeps_the_share() -> None:
    bench = Bench()
    one, two = bench.body(1_000, 900), bench.body(3_000, 900)
    stage = bench.stage((BODY, one, None), (BODY, two, None))
    bench.piece(stage, "rump", 4_400)
    found = trace(Ways(bench.trade()), Subject(SubjectKind.BODY, one, bodies=(one,)))
    assert found.forward.pieces[0].share_percent == 25
    assert (found.balance.at_end_g, found.balance.lost_g) == (1_100, -100)


def test_back_from_a_tray_are_all_bodies_pieces_and_goods_of_it() -> None:
    found = trace(Ways(two_bodies_in_one_mince()), Subject(SubjectKind.PIECE, "P6", pieces=("P6",)))
    assert names_before(found) == {"B1", "B2", "S1", "S2", "S3", "P2", "P4", "S3+salt"}
    assert found.balance.went_in_g == found.balance.at_end_g == 4_590


def test_a_take_that_cannot_be_is_followed_without_weight() -> None:
    """Trim of which 21 kg was left is said to have given 22 kg to another stage."""
    trade = two_bodies_in_one_mince()
    late = replace(trade.stages[-1], key="S9", started_at=trade.stages[-1].started_at + HOUR)
    wrong = replace(
        trade,
        stages=(*trade.stages, late),
        inputs=(*trade.inputs, Input("S9", PIECE, "P2", 22_000)),
    )
    ways = Ways(wrong)
    assert [problem.row for problem in ways.flow.problems] == [("S9", "piece", "P2")]
    found = trace(ways, Subject(SubjectKind.BODY, "B1", bodies=("B1",)))
    assert [each.stage.key for each in found.forward.stages] == ["S1", "S3", "S9"]
    assert found.balance.difference_g == 0
    hung = replace(wrong, inputs=(*trade.inputs, Input("S9", BODY, "B1", 1)))
    found = trace(Ways(hung), Subject(SubjectKind.BODY, "B1", bodies=("B1",)))
    assert [each.stage.key for each in found.forward.stages] == ["S1", "S3", "S9"]
    back = trace(Ways(hung), Subject(SubjectKind.STAGE, "S9", stages=("S9",))).back
    assert [fate.body.key for fate in back.bodies] == ["B1"]


def test_stages_that_go_round_in_a_circle_are_refused() -> None:
    trade = two_bodies_in_one_mince()
    circle = Input("S1", PIECE, "P6", 10)
    with pytest.raises(Refusal, match="circle"):
        Ways(replace(trade, inputs=(*trade.inputs, circle)))
