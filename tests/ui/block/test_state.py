"""The block's pure parts: paging, sizes, texts. No Qt."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.bench.block import block_state
from gambrel.domain.bench.cautions import wash_caution
from gambrel.domain.bench.tubs import USUAL_TUBS
from gambrel.domain.trade.formats import Formats
from gambrel.domain.trade.records import Input, Piece, Source, Stage, StageKind, Trade, Void
from gambrel.services.bench.looking import Look
from gambrel.ui.block.map_state import cut_of_region, map_fill, map_of
from gambrel.ui.block.pages import CutText, cut_texts, next_cut, pages
from gambrel.ui.block.sizes import FLOOR, KEY, columns, left_heights, right_heights
from gambrel.ui.block.state import Hands, describe, hours, piece_text
from tests.block_shop import BODIES, CUTS, LISTS, NOW
from tests.trades import AUD, a_shop

FORMATS = Formats(AUD, "$")


def look(*pieces: tuple[str, int], voided: tuple[str, ...] = ()) -> Look:
    stage = Stage("S1", StageKind.BREAK, NOW, list="Round whole")
    trade = Trade(
        a_shop(),
        cuts=CUTS,
        lists=LISTS,
        bodies=BODIES,
        stages=(stage,),
        inputs=(Input("S1", Source.BODY, "HQ-17"),),
        pieces=tuple(
            Piece(f"P{n}", "S1", cut, grams + 120, 120, NOW + timedelta(minutes=n), "Ana")
            for n, (cut, grams) in enumerate(pieces, start=1)
        ),
        voids=tuple(Void(key, NOW + timedelta(hours=1), "Ana", "wrong tub") for key in voided),
    )
    return Look(trade, block_state(trade, "S1"), ("Round trimmed", "Round whole"), USUAL_TUBS)


@given(st.integers(1, 40), st.integers(0, 12), st.integers(0, 30), st.integers(1, 24))
def test_every_cut_stands_on_a_page_and_no_page_overflows(
    tray: int, along: int, rest: int, room: int
) -> None:
    cuts = [CutText(f"t{n}", "", "", "", 0.0) for n in range(tray)]
    cuts += [CutText(f"a{n}", "", "", "", 0.0, all_along=True) for n in range(along)]
    cuts += [CutText(f"r{n}", "", "", "", 0.0, listed=False) for n in range(rest)]
    found = pages(cuts, room)
    assert all(0 < len(page) <= room for page in found)
    assert {cut for page in found for cut in page} == set(cuts)
    order = list(dict.fromkeys(cut.key for page in found for cut in page if not cut.all_along))
    assert order == [cut.key for cut in cuts if not cut.all_along]


def test_what_comes_off_all_along_stands_on_every_page_of_a_long_list() -> None:
    cuts = [CutText(f"t{n}", "", "", "", 0.0) for n in range(17)]
    along = [CutText(f"a{n}", "", "", "", 0.0, all_along=True) for n in range(6)]
    first, second = pages([*cuts, *along], 15)
    assert first == (*cuts[:9], *along)
    assert second == (*cuts[8:], *along)


@given(st.integers(0, 60), st.integers(0, 60), st.integers(0, 20), st.integers(2, 40))
def test_no_page_after_another_of_its_kind_has_a_gap(
    listed: int, rest: int, along: int, room: int
) -> None:
    cuts = [CutText(f"t{n}", "", "", "", 0.0) for n in range(listed)]
    cuts += [CutText(f"a{n}", "", "", "", 0.0, all_along=True) for n in range(along)]
    cuts += [CutText(f"r{n}", "", "", "", 0.0, listed=False) for n in range(rest)]
    found = pages(cuts, room)
    for kind in (True, False):
        of_kind = [page for page in found if page[0].listed is kind]
        assert len(of_kind) <= 1 or all(len(page) == room for page in of_kind)


@given(st.integers(536, 2000))
def test_heights_fill_the_columns_and_nothing_is_under_fifteen_millimetres(height: int) -> None:
    right = right_heights(height)
    parts = right.weight + right.keypad + right.tubs + right.weigh + 3 * right.gap
    assert parts == height
    assert min(right.tubs, right.weigh, (right.keypad - 2 * right.gap) // 3) >= FLOOR
    left = left_heights(height)
    gaps = (3 if left.map else 2) * left.gap
    assert left.map + left.grid + left.balance + left.strip + gaps == height
    assert (left.grid - (left.rows - 1) * left.gap) // left.rows >= FLOOR


def test_in_the_window_that_it_is_drawn_for_keys_are_twenty_millimetres() -> None:
    assert (right_heights(728).keypad - 16) // 3 >= KEY
    left = left_heights(728)
    assert left.map >= 200
    assert (left.grid - 16) // 3 >= KEY
    assert columns(766, 15, 3, 8) == 5
    assert columns(1298, 23, 3, 8) == 8


def test_the_next_cut_is_the_one_after_the_last_that_was_weighed() -> None:
    assert next_cut(look().on_block) == "flank"
    assert next_cut(look(("flank", 4000), ("rump", 4000), ("bone", 900)).on_block) == "knuckle"
    assert next_cut(look(("marrow-bones", 900)).on_block) == ""


def test_cuts_stand_in_the_order_of_the_list_with_weight_and_norm() -> None:
    texts = cut_texts(look(("rump", 4386)).on_block)
    assert [cut.name for cut in texts if cut.listed][:4] == [
        "Flank",
        "Tenderloin",
        "Striploin",
        "Rump",
    ]
    rump = texts[3]
    assert (rump.weighed, rump.norm) == ("4.39", "of 4.72")
    assert {cut.key for cut in texts if not cut.listed} == {"diced", "corned"}


def test_the_screen_says_net_gross_and_tare_and_what_a_tap_would_do() -> None:
    hands = Hands(cut="rump", tub="tray", person="Ana", typed="4.506")
    state = describe(look(("flank", 4770)), hands, FORMATS, NOW + timedelta(minutes=21))
    assert (state.weigh.weight.net, state.weigh.weight.gross, state.weigh.weight.tare) == (
        "4.386",
        "4.506",
        "tray 0.120",
    )
    assert (state.weigh.act, state.weigh.can_weigh) == ("WEIGH IN · Rump", True)
    assert (state.top.clock, state.top.paused, state.top.long_off) == ("0:11", True, False)
    assert state.left == "79.43 kg left"
    assert state.undo == "Flank 4.770"


@pytest.mark.parametrize(
    ("hands", "act", "hint"),
    [
        (Hands(), "Choose a cut", "Choose a cut"),
        (Hands(cut="rump"), "Type the weight · Rump", "Type what the scale shows"),
        (Hands(cut="rump", typed="."), "Type the weight · Rump", "Type what the scale shows"),
        (Hands(cut="rump", typed="0.1", tub="tray"), "WEIGH IN · Rump", "under the tub"),
    ],
)
def test_while_something_is_missing_the_screen_says_what_to_do(
    hands: Hands, act: str, hint: str
) -> None:
    state = describe(look(), hands, FORMATS, NOW)
    assert (state.weigh.act, state.weigh.weight.hint) == (act, hint)


def test_more_than_lay_there_is_said_in_words() -> None:
    state = describe(look(("bone", 90_000)), Hands(), FORMATS, NOW)
    assert state.over
    assert state.left == "5.80 kg more than lay there"


def test_what_was_taken_back_stays_in_the_list_and_counts_for_nothing() -> None:
    seen = look(("rump", 4386), voided=("P1",))
    state = describe(seen, Hands(), FORMATS, NOW)
    row = piece_text(seen.on_block.pieces[0], seen, FORMATS)
    assert row.void == "taken back: wrong tub"
    assert state.last == ()
    assert (state.undo, state.end, state.parts) == ("", ("Put back", "on the rail"), ())


def test_an_hour_off_the_rail_is_marked() -> None:
    assert describe(look(), Hands(), FORMATS, NOW + timedelta(hours=1)).top.long_off
    assert hours(timedelta(hours=2, minutes=5, seconds=59)) == "2:05"


def test_the_drawing_fills_by_the_norm_and_a_region_means_its_cut() -> None:
    block = look(("rump", 2359)).on_block
    drawing = map_of(block.body)
    assert drawing is not None
    shown = map_fill(drawing, block, "rump")
    assert 0.4 <= shown.filled["rump"] <= 0.52
    assert shown.chosen == "rump"
    assert cut_of_region(drawing, block, "rump") == "rump"
    assert map_of(None) is None
    assert map_of(replace(BODIES[0], portion="shank")) is None


def test_washing_is_asked_for_between_species_only() -> None:
    assert wash_caution("beef", "lamb").startswith("Lamb after beef: wash")
    assert wash_caution("beef", "beef") == wash_caution("", "lamb") == ""
