from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.prices.order import in_cabinet_order, moved, order_text, read_order
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.catalogue import Cut, CutKind

KEYS = [f"c{n}" for n in range(9)]
CUTS = [Cut(key, key.upper(), "beef", CutKind.TRAY) for key in KEYS]
orders = st.permutations(KEYS)


@given(orders, st.integers(0, 9))
def test_cuts_stand_as_the_trays_do_and_new_ones_come_last(order: list[str], known: int) -> None:
    found = [cut.key for cut in in_cabinet_order(CUTS, order[:known])]
    assert found[:known] == order[:known]
    assert found[known:] == [key for key in KEYS if key not in order[:known]]


def test_a_cut_that_is_gone_from_the_catalogue_takes_no_place() -> None:
    assert in_cabinet_order(CUTS[:2], ["gone", "c1"]) == [CUTS[1], CUTS[0]]


@given(orders, st.sets(st.sampled_from(KEYS), min_size=1), st.data(), st.integers(-2, 12))
def test_one_tray_moves_and_the_others_keep_their_order(
    order: list[str], chosen: set[str], data: st.DataObject, place: int
) -> None:
    shown = [key for key in order if key in chosen]
    key = data.draw(st.sampled_from(shown))
    after = moved(order, shown, key, place)
    assert sorted(after) == sorted(order)
    assert [each for each in after if each != key] == [each for each in order if each != key]
    now = [each for each in after if each in chosen]
    assert now.index(key) == min(max(place, 0), len(shown) - 1)


@given(st.lists(st.text()))
def test_what_is_kept_is_read_back(order: list[str]) -> None:
    assert read_order(order_text(order)) == order


@pytest.mark.parametrize("text", ["", "{}", "[1]", "null", "[" * 100_000, '["a"'])
def test_anything_else_is_refused(text: str) -> None:
    with pytest.raises(Refusal, match="Arrange them again"):
        read_order(text)
