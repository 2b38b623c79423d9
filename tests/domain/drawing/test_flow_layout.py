"""The geometry of a flow: labels never lie on each other, thickness is amount."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.drawing.flow_layout import (
    LEAST_BAR,
    Frame,
    Link,
    lay_flow,
    needed_height,
    ribbon,
)
from gambrel.domain.drawing.marks import Path

SLOT, GAP = 44.0, 2.0


def frame(height: float) -> Frame:
    return Frame(1000, height, 14, SLOT, GAP, 170, 150, 180)


@st.composite
def flows(draw: st.DrawFn) -> tuple[list[list[int]], list[Link]]:
    """Three columns that come to the same sum, with links that hold it."""
    counts = [draw(st.integers(1, 9)) for _ in range(3)]
    ways: dict[tuple[int, int, int], int] = {}
    for n in range(max(counts) * 2):
        way = tuple(n % count for count in counts)
        ways[way[0], way[1], way[2]] = draw(st.integers(1, 10**9))
    columns = [
        [sum(money for way, money in ways.items() if way[side] == n) for n in range(count)]
        for side, count in enumerate(counts)
    ]
    links: dict[tuple[int, int, int], int] = {}
    for way, money in ways.items():
        for side in (0, 1):
            key = side, way[side], way[side + 1]
            links[key] = links.get(key, 0) + money
    return columns, [Link(*key, money) for key, money in sorted(links.items())]


@given(flow=flows(), spare=st.floats(0, 900))
def test_slots_stand_apart_within_the_frame_and_hold_their_bars(
    flow: tuple[list[list[int]], list[Link]], spare: float
) -> None:
    columns, links = flow
    height = needed_height([len(column) for column in columns], SLOT, GAP) + spare
    layout = lay_flow(columns, links, frame(height))
    for bars in layout.bars:
        assert bars[0].slot_top >= -1e-6
        assert bars[-1].slot_top + bars[-1].slot_height <= height + 1e-6
        for one, other in pairwise(bars):
            assert one.slot_top + one.slot_height + GAP <= other.slot_top + 1e-6
        for bar in bars:
            assert bar.slot_height >= SLOT - 1e-6
            assert bar.slot_top - 1e-6 <= bar.top
            assert bar.top + bar.height <= bar.slot_top + bar.slot_height + 1e-6


@given(flow=flows())
def test_thickness_is_amount_and_a_bars_ribbons_fill_it(
    flow: tuple[list[list[int]], list[Link]],
) -> None:
    columns, links = flow
    height = needed_height([len(column) for column in columns], SLOT, GAP) + 200
    layout = lay_flow(columns, links, frame(height))
    scales = [
        bar.height / amount
        for bars, amounts in zip(layout.bars, columns, strict=True)
        for bar, amount in zip(bars, amounts, strict=True)
        if bar.height > LEAST_BAR
    ]
    if scales:
        assert max(scales) == pytest.approx(min(scales))
    tops: dict[tuple[int, int], float] = {}
    for link, path in zip(links, layout.ribbons, strict=True):
        start = layout.bars[link.column][link.start]
        top = tops.get((link.column, link.start), start.top)
        assert corners(path)[0] == pytest.approx((start.left + start.width, top))
        tops[link.column, link.start] = top + thickness(path)
    for (column, number), end in tops.items():
        bar = layout.bars[column][number]
        if bar.height > LEAST_BAR:
            assert end == pytest.approx(bar.top + bar.height)


def corners(path: Path) -> list[tuple[float, float]]:
    return [points[-1] for letter, points in path if letter != "Z"]


def thickness(path: Path) -> float:
    """Right ends: the upper and the lower corner."""
    found = corners(path)
    return found[2][1] - found[1][1]


def test_a_ribbon_is_as_thick_at_both_ends() -> None:
    start, upper, lower, back = corners(ribbon((0, 10), (100, 50), 7))
    assert (start, upper, lower, back) == ((0, 10), (100, 50), (100, 57), (0, 17))


def test_columns_stand_with_room_for_their_labels() -> None:
    layout = lay_flow([[5], [5], [5]], [Link(0, 0, 0, 5), Link(1, 0, 0, 5)], frame(100))
    first, middle, last = (bars[0] for bars in layout.bars)
    assert first.left == 170
    assert last.left + last.width == 1000 - 180
    before = middle.left - (first.left + first.width)
    behind = last.left - (middle.left + middle.width + 150)
    assert before == pytest.approx(behind)


def test_nothing_to_lay_out_is_no_fault() -> None:
    layout = lay_flow([[], [], []], [], frame(100))
    assert layout.bars == ((), (), ())
    assert needed_height([], SLOT, GAP) == 0
