"""Drawn lines as plain numbers: reading them, joining them, measuring what they enclose.

A path is written as SVG writes it, in the few commands that a map needs: ``M`` starts a line,
``L`` goes straight, ``C`` curves (a cubic Bézier), ``Z`` closes; coordinates are absolute.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Literal

Point = tuple[float, float]
Letter = Literal["M", "L", "C", "Z"]
Command = tuple[Letter, tuple[Point, ...]]
Path = tuple[Command, ...]

LONGEST_PATH = 20_000
"""Characters of one path; what needs more is no line drawing."""

LARGEST_COORDINATE = 100_000.0

CURVE_STEPS = 16
"""Straight pieces that stand for one curve where areas and hits are computed."""

_SHAPES: dict[str, tuple[Letter, int]] = {
    "M": ("M", 1),
    "L": ("L", 1),
    "C": ("C", 3),
    "Z": ("Z", 0),
}
_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)", re.ASCII)
_WORD = re.compile(_NUMBER.pattern + r"|[^\s,]", re.ASCII)


def read_path(text: str) -> Path:
    """Read one path: a single ``M``, then any ``L`` and ``C``, and at most one ``Z`` as its end.

    Raises:
        ValueError: Another command, too few or too many numbers, a number too large, or another
            order; the message is a sentence that quotes what is wrong.
    """
    if len(text) > LONGEST_PATH:
        raise ValueError(f"A path has more than {LONGEST_PATH} characters: draw it in parts.")
    words = iter(_WORD.findall(text))
    path = tuple(_command(word, words) for word in words)
    letters = "".join(letter for letter, _ in path)
    if not re.fullmatch(r"M[LC]+Z?", letters):
        raise ValueError(
            f"A path reads {letters or 'nothing'!r}: it should start with its only M, go on with "
            "L or C, and have nothing after a Z."
        )
    return path


def _command(word: str, words: Iterator[str]) -> Command:
    if word not in _SHAPES:
        raise ValueError(
            f"{word!r} is not what a path goes on with: write M, L, C or Z, followed by exactly "
            "the numbers of its points."
        )
    letter, count = _SHAPES[word]
    numbers = [_coordinate(next(words, ""), letter) for _ in range(2 * count)]
    return letter, tuple(zip(numbers[::2], numbers[1::2], strict=True))


def _coordinate(word: str, letter: str) -> float:
    if not _NUMBER.fullmatch(word):
        found = f"{word!r}" if word else "the end"
        raise ValueError(f"Command {letter} of a path needs another number, and there is {found}.")
    if abs(float(word)) > LARGEST_COORDINATE:
        raise ValueError(f"The coordinate {word[:20]} is off any sheet: stay within 100000.")
    return float(word)


def start_of(path: Path) -> Point:
    """Return the point where the pen is set down."""
    return path[0][1][0]


def end_of(path: Path) -> Point:
    """Return the point where an open path ends."""
    return path[-1][1][-1]


def reversed_path(path: Path) -> Path:
    """Return the same open line, drawn from its end to its start."""
    points = [point for _, points in path for point in points]
    back: list[Command] = [("M", (points.pop(),))]
    for letter, old in reversed(path[1:]):
        back.append((letter, tuple(points.pop() for _ in old)))
    return tuple(back)


def closed_path(lines: Sequence[Path]) -> Path:
    """Join open lines (without a ``Z``) end to end into one closed path.

    Raises:
        ValueError: No line, or one that does not start exactly where the one before it ended, the
            first after the last.
    """
    if not lines:
        raise ValueError("A border needs at least one line.")
    for before, after in pairwise([*lines, lines[0]]):
        if end_of(before) != start_of(after):
            raise ValueError(
                f"The border is not closed: one line ends at {end_of(before)}, the next starts at "
                f"{start_of(after)}."
            )
    inner: list[Command] = [command for line in lines for command in line[1:]]
    return (lines[0][0], *inner, ("Z", ()))


def polygon_of(path: Path) -> tuple[Point, ...]:
    """Return the corners of a closed path, its curves cut into straight pieces; first not again."""
    corners: list[Point] = []
    for letter, points in path:
        if letter == "C":
            corners += _curve(corners[-1], *points)
        else:
            corners += points
    if len(corners) > 1 and corners[-1] == corners[0]:
        corners.pop()
    return tuple(corners)


def _curve(start: Point, first: Point, second: Point, end: Point) -> list[Point]:
    """Cut a cubic Bézier curve into pieces, without its start and with its exact end."""
    corners: list[Point] = []
    for step in range(1, CURVE_STEPS):
        t = step / CURVE_STEPS
        u = 1 - t
        shares = (u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t)
        along = list(zip(shares, (start, first, second, end), strict=True))
        corners.append((sum(s * p[0] for s, p in along), sum(s * p[1] for s, p in along)))
    return [*corners, end]


def inside(polygon: Sequence[Point], x: float, y: float) -> bool:
    """Tell whether a point lies within a polygon (even-odd rule, a ray to the right)."""
    within = False
    for (x1, y1), (x2, y2) in pairwise([*polygon, polygon[0]]):
        if (y1 > y) != (y2 > y) and x < x1 + (y - y1) * (x2 - x1) / (y2 - y1):
            within = not within
    return within


def area_of(polygon: Sequence[Point]) -> float:
    """Return the area in square units of the drawing; never negative."""
    return abs(_moments(polygon)[0])


def centroid_of(polygon: Sequence[Point]) -> Point:
    """Return the centre of gravity of the area.

    Raises:
        ValueError: The polygon encloses nothing.
    """
    area, about_x, about_y = _moments(polygon)
    if area == 0:
        raise ValueError("A border encloses no area: its lines lie on each other.")
    left, top = polygon[0]
    return left + about_x / area, top + about_y / area


def _moments(polygon: Sequence[Point]) -> tuple[float, float, float]:
    """Return signed area and first moments about the first corner (the shoelace formula)."""
    left, top = polygon[0]
    near = [(x - left, y - top) for x, y in polygon]
    area = about_x = about_y = 0.0
    for (x1, y1), (x2, y2) in pairwise([*near, near[0]]):
        cross = (x1 * y2 - x2 * y1) / 2
        area += cross
        about_x += cross * (x1 + x2) / 3
        about_y += cross * (y1 + y2) / 3
    return area, about_x, about_y
