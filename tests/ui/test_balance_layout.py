"""The parts of a balance bar: proportions kept, nothing outside, labels where they fit."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from gambrel.ui.widgets.balance_layout import PAD, Segment, lay_outside, lay_spans

GRAMS = st.lists(st.integers(-5, 200_000), max_size=6)


def measured(text: str) -> float:
    return 8.0 * len(text)


def parts(grams: list[int]) -> list[Segment]:
    return [Segment(f"Part {n}", str(g), g, "tray") for n, g in enumerate(grams)]


@given(GRAMS, st.integers(0, 500_000), st.floats(50, 2000))
def test_parts_stand_in_order_within_the_bar_and_by_weight(
    grams: list[int], total: int, width: float
) -> None:
    spans = lay_spans(parts(grams), total, width, measured)
    assert [span.segment.grams for span in spans] == grams
    whole = max(total, sum(g for g in grams if g > 0), 1)
    for span in spans:
        assert abs(span.width - width * max(span.segment.grams, 0) / whole) < 1e-6
        assert -1e-6 <= span.left
        assert span.left + span.width <= width + 1e-6
    for before, after in pairwise(spans):
        assert abs(before.left + before.width - after.left) < 1e-6


@given(GRAMS, st.integers(1, 500_000), st.floats(50, 2000))
def test_a_label_inside_has_room(grams: list[int], total: int, width: float) -> None:
    for span in lay_spans(parts(grams), total, width, measured):
        assert span.inside == (
            span.segment.grams > 0 and measured(span.segment.text) + 2 * PAD <= span.width
        )


@given(GRAMS, st.floats(0, 500), st.floats(0, 1500))
def test_labels_outside_do_not_overlap_or_leave_their_room(
    grams: list[int], left: float, right: float
) -> None:
    placed = lay_outside(parts(grams), left, right, measured)
    for label in placed:
        assert left <= label.left
        assert label.left + label.width <= right
    for before, after in pairwise(placed):
        assert before.left + before.width <= after.left


def test_more_than_the_total_fills_the_bar() -> None:
    spans = lay_spans(parts([60, 60]), 100, 120.0, measured)
    assert [span.width for span in spans] == [60.0, 60.0]
