"""Paths: reading, turning round, joining, and what they enclose."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.drawing.marks import (
    Path,
    area_of,
    centroid_of,
    closed_path,
    end_of,
    inside,
    polygon_of,
    read_path,
    reversed_path,
    start_of,
)

SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
ARC = 0.5522847498  # a cubic curve's handle for a quarter of a unit circle, from memory
CIRCLE = (
    f"M 1 0 C 1 {ARC} {ARC} 1 0 1 C -{ARC} 1 -1 {ARC} -1 0 "
    f"C -1 -{ARC} -{ARC} -1 0 -1 C {ARC} -1 1 -{ARC} 1 0 Z"
)
whole = st.integers(-1000, 1000).map(float)
points = st.tuples(whole, whole)


@st.composite
def open_paths(draw: st.DrawFn) -> Path:
    steps = st.one_of(
        st.tuples(st.just("L"), st.tuples(points)),
        st.tuples(st.just("C"), st.tuples(points, points, points)),
    )
    return (("M", (draw(points),)), *draw(st.lists(steps, min_size=1, max_size=8)))  # type: ignore[arg-type]


def written(path: Path) -> str:
    return " ".join(
        letter + "".join(f" {x:.3f},{y:.3f}" for x, y in points) for letter, points in path
    )


def test_a_path_is_read_into_its_commands() -> None:
    assert read_path("M1,2 L 3-4C.5 6 7 8 +9 10Z") == (
        ("M", ((1, 2),)),
        ("L", ((3, -4),)),
        ("C", ((0.5, 6), (7, 8), (9, 10))),
        ("Z", ()),
    )


@given(path=open_paths())
def test_what_is_written_is_read_back(path: Path) -> None:
    assert read_path(written(path)) == path


@given(path=open_paths())
def test_turning_round_swaps_the_ends_and_twice_is_nothing(path: Path) -> None:
    back = reversed_path(path)
    assert (start_of(back), end_of(back)) == (end_of(path), start_of(path))
    assert reversed_path(back) == path


@given(path=open_paths())
def test_a_line_and_the_same_line_back_enclose_nothing(path: Path) -> None:
    polygon = polygon_of(closed_path([path, reversed_path(path)]))
    assert area_of(polygon) == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "reads 'nothing'"),
        ("M 1 2", "reads 'M'"),
        ("L 1 2", "reads 'L'"),
        ("M 1 2 L 3 4 M 5 6", "reads 'MLM'"),
        ("M 1 2 L 3 4 Z L 5 6", "reads 'MLZL'"),
        ("M 1 2 Q 3 4 5 6", "'Q' is not what"),
        ("M 1 2 l 3 4", "'l' is not what"),
        ("M 1 2 L 3 4 5 6", "'5' is not what"),
        ("M 1 2 L 3", "needs another number, and there is the end"),
        ("M 1 2 L 3 Z", "needs another number, and there is 'Z'"),
        ("M 1 2 L nan 4", "needs another number, and there is 'n'"),
        ("M 1 2 L 1e9 4", "needs another number, and there is 'e'"),
        ("M 1 2 L 100001 4", "off any sheet"),
        ("M 1 2 L " + "9" * 400 + " 4", "off any sheet"),
        ("M 1 2 L ٣ 4", "needs another number"),
        ("M 0 0" + " L 1 1" * 5000, "more than 20000 characters"),
    ],
)
def test_a_bad_path_is_refused_in_a_sentence(text: str, why: str) -> None:
    with pytest.raises(ValueError, match=r"\.$") as refused:
        read_path(text)
    assert why in str(refused.value)


@given(text=st.text(alphabet="MLCZ 0123456789.-,+\n", max_size=60))
def test_any_text_of_the_right_letters_is_read_or_refused(text: str) -> None:
    try:
        path = read_path(text)
    except ValueError:
        return
    assert path[0][0] == "M"


def test_a_border_that_does_not_close_is_refused() -> None:
    there, back = read_path("M 0 0 L 10 0"), read_path("M 10 0 L 5 5 L 0 0.1")
    with pytest.raises(ValueError, match=r"not closed: one line ends at \(0\.0, 0\.1\)"):
        closed_path([there, back])
    with pytest.raises(ValueError, match="at least one line"):
        closed_path([])


def test_a_circle_has_the_area_and_the_middle_of_a_circle() -> None:
    polygon = polygon_of(read_path(CIRCLE))
    assert area_of(polygon) == pytest.approx(math.pi, rel=0.003)
    assert centroid_of(polygon) == pytest.approx((0, 0), abs=1e-9)
    assert inside(polygon, 0.7, 0.7)
    assert not inside(polygon, 0.75, 0.75)


@given(x=st.floats(-20, 20), y=st.floats(-20, 20))
def test_inside_a_square_is_what_it_says(x: float, y: float) -> None:
    if min(abs(x), abs(x - 10), abs(y), abs(y - 10)) > 1e-9:
        assert inside(SQUARE, x, y) == (0 < x < 10 and 0 < y < 10)


@given(right=whole, down=whole)
def test_moving_a_shape_moves_its_middle_and_keeps_its_area(right: float, down: float) -> None:
    moved = tuple((x + right, y + down) for x, y in SQUARE)
    assert area_of(moved) == pytest.approx(100)
    assert centroid_of(moved) == pytest.approx((5 + right, 5 + down))


def test_what_has_no_area_has_no_middle() -> None:
    with pytest.raises(ValueError, match="encloses no area"):
        centroid_of([(0, 0), (1, 1), (2, 2)])
