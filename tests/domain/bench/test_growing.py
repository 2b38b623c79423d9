from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.bench.block import block_state
from gambrel.domain.bench.growing import with_piece, with_void
from gambrel.domain.trade.records import Input, Piece, Source, Stage, StageKind, Trade, Void
from tests.block_shop import BODIES, CUTS, LISTS, NOW
from tests.trades import a_shop

BEEF = [cut.key for cut in CUTS if cut.species == "beef"]
STAGE = Stage("s1", StageKind.BREAK, NOW, list="Round whole")
START = Trade(
    shop=a_shop(),
    cuts=CUTS,
    lists=LISTS,
    bodies=BODIES,
    stages=(STAGE,),
    inputs=(Input("s1", Source.BODY, "HQ-17"),),
)

acts = st.lists(
    st.one_of(
        st.tuples(st.just("weigh"), st.sampled_from(BEEF), st.integers(1, 9000)),
        st.tuples(st.just("void"), st.just(""), st.integers(0, 30)),
    ),
    max_size=30,
)


@given(acts=acts, backwards=st.booleans())
def test_it_says_what_a_whole_look_would_say(
    acts: list[tuple[str, str, int]], *, backwards: bool
) -> None:
    """The clocks of two stations never quite agree, so that a later piece may be an earlier one."""
    trade, state = START, block_state(START, "s1")
    for number, (act, cut, grams) in enumerate(acts):
        at = NOW + timedelta(seconds=-number if backwards else number)
        if act == "weigh":
            piece = Piece(f"P{number}", "s1", cut, grams, 0, at)
            trade = replace(trade, pieces=(*trade.pieces, piece))
            grown = with_piece(state, piece)
        else:
            standing = [row.piece.key for row in state.standing]
            if not standing:
                continue
            void = Void(standing[grams % len(standing)], at)
            trade = replace(trade, voids=(*trade.voids, void))
            grown = with_void(state, void)
        whole = block_state(trade, "s1")
        assert grown in (None, whole)
        counted = [row for row in whole.pieces if row.stands]
        assert whole.output_g == sum(row.piece.net_g for row in counted)
        assert sum(whole.by_kind.values()) == whole.output_g
        assert sum(row.pieces for row in whole.cuts) == len(counted)
        assert whole.last == next(iter(counted), None)
        state = whole


def test_a_cut_of_the_list_needs_no_whole_look() -> None:
    state = block_state(START, "s1")
    piece = Piece("P1", "s1", "rump", 4506, 120, NOW)
    grown = with_piece(state, piece)
    assert grown is not None
    assert grown.left_g == state.left_g - 4386
    taken_back = with_void(grown, Void("P1", NOW))
    assert taken_back is not None
    assert taken_back.left_g == state.left_g


def test_a_cut_that_moves_among_the_keys_needs_a_whole_look() -> None:
    state = block_state(START, "s1")
    piece = Piece("P1", "s1", "corned", 900, 0, NOW)
    assert with_piece(state, piece) is None
    assert with_void(state, Void("P1", NOW)) is None
    there = block_state(replace(START, pieces=(piece,)), "s1")
    assert with_void(there, Void("P1", NOW)) is None
