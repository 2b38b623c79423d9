"""A cutting list is put in order without losing a cut, and its places count from one."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.catalogue import ListLine
from gambrel.domain.trade.list_edits import (
    ListKey,
    as_list,
    in_order,
    lists_in,
    norm_sum,
    with_cut,
    with_norms,
    without_cut,
)

KEY = ListKey("Hind", "beef", "hindquarter")
LINES = (
    ListLine(*KEY, 1, "rump", Decimal("8.5")),
    ListLine(*KEY, 2, "bone", Decimal(18)),
    ListLine(*KEY, 7, "shin"),
)


def cuts(lines: tuple[ListLine, ...]) -> list[tuple[int, str]]:
    return [(line.position, line.cut) for line in lines]


def test_lists_are_told_apart_by_name_species_and_portion() -> None:
    other = KEY._replace(portion="side")
    assert lists_in((*LINES, *as_list(LINES[:1], other))) == {
        KEY: LINES,
        other: (ListLine("Hind", "beef", "side", 1, "rump", Decimal("8.5")),),
    }


def test_a_cut_is_added_once_at_the_end() -> None:
    assert cuts(with_cut(LINES, KEY, "fat")) == [(1, "rump"), (2, "bone"), (3, "shin"), (4, "fat")]
    assert with_cut((), KEY, "fat") == (ListLine(*KEY, 1, "fat"),)
    with pytest.raises(Refusal, match="on this list already"):
        with_cut(LINES, KEY, "bone")


def test_a_cut_is_taken_off() -> None:
    assert cuts(without_cut(LINES, "bone")) == [(1, "rump"), (2, "shin")]


@given(st.permutations(["rump", "bone", "shin"]))
def test_any_order_keeps_every_cut_and_norm(order: list[str]) -> None:
    found = in_order(LINES, order)
    assert cuts(found) == list(enumerate(order, 1))
    assert {line.cut: line.norm_percent for line in found} == {
        line.cut: line.norm_percent for line in LINES
    }


def test_a_cut_that_is_not_named_comes_last() -> None:
    assert cuts(in_order(LINES, ["shin"])) == [(1, "shin"), (2, "rump"), (3, "bone")]


def test_norms_are_set_taken_away_and_added_up() -> None:
    found = with_norms(LINES, {"bone": None, "shin": Decimal("4.6"), "ghost": Decimal(1)})
    assert [line.norm_percent for line in found] == [Decimal("8.5"), None, Decimal("4.6")]
    assert norm_sum(found) == Decimal("13.1")
    assert norm_sum(()) == 0
