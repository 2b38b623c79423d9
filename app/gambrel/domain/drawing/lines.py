"""Small lines and dots as plain numbers: how a figure went, and where single ones fell.

Screen and paper draw the same points, each in its own unit.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

Value = int | Decimal | None

MARGIN = 1.15
"""How much wider an axis is than what lies farthest from its middle."""


def spark_points(
    values: Sequence[Value], width: float, height: float
) -> list[list[tuple[float, float]]]:
    """Lines through values spread over a width, the highest at the top; a None parts two lines.

    All equal values run through the middle.
    """
    known = [value for value in values if value is not None]
    if not known:
        return []
    low, high = min(known), max(known)
    last = len(values) - 1
    lines: list[list[tuple[float, float]]] = [[]]
    for number, value in enumerate(values):
        if value is None:
            lines.append([])
            continue
        up = float(Decimal(value - low) / Decimal(high - low)) if high > low else 0.5
        lines[-1].append((width * number / last if last else width, height * (1 - up)))
    return [line for line in lines if line]


@dataclass(frozen=True, slots=True)
class DotAxis:
    """Where dots, a band of limits and a line stand on an axis from 0 (left) to 1 (right)."""

    dots: tuple[float, ...]
    line: float | None
    band: tuple[float, float] | None


def dot_axis(
    dots: Sequence[float],
    line: float | None,
    band: tuple[float, float] | None,
    least: float = 0.0,
) -> DotAxis:
    """Spread figures over an axis whose middle is the line, so that lines of rows stand together.

    Args:
        dots: The single figures; one at least.
        line: What they should be; without it the middle of the band or of the dots takes its place.
        band: Between what they have been falling.
        least: How far the axis reaches at least to either side of its middle, as a part of it, so
            that a hair's breadth does not look like a mile.
    """
    if line is not None:
        middle = line
    elif band is not None:
        middle = (band[0] + band[1]) / 2
    else:
        middle = (min(dots) + max(dots)) / 2
    seen = [*dots, *(band or ())]
    farthest = max(abs(value - middle) for value in seen) * MARGIN
    reach = max(farthest, abs(middle) * least) or 1.0

    def place(value: float) -> float:
        return 0.5 + (value - middle) / (2 * reach)

    return DotAxis(
        tuple(place(dot) for dot in dots),
        None if line is None else place(line),
        None if band is None else (place(band[0]), place(band[1])),
    )
