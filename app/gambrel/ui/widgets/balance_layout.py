"""Where the parts of a balance bar and their labels stand. Pure: no Qt."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

PAD = 10.0
"""Pixels between a label and the end of its part."""

MARK = 14.0
"""Side of the coloured square before a label that stands outside."""


@dataclass(frozen=True, slots=True)
class Segment:
    """One part of a balance: its name and figure as texts, its grams, and its kind.

    ``kind`` is a kind of the tokens: "tray", "trim", "byproduct", "waste" or "loss".
    """

    name: str
    figure: str
    grams: int
    kind: str

    @property
    def text(self) -> str:
        """What stands in the bar."""
        return f"{self.name} {self.figure}".strip()


@dataclass(frozen=True, slots=True)
class Span:
    """One part in pixels, and whether its label fits within."""

    segment: Segment
    left: float
    width: float
    inside: bool


@dataclass(frozen=True, slots=True)
class Outside:
    """A label beside the bar: where its coloured square begins."""

    segment: Segment
    left: float
    width: float


def lay_spans(
    segments: Sequence[Segment], total: int, width: float, measure: Callable[[str], float]
) -> list[Span]:
    """Divide a width by grams; parts heavier than the total together fill it all.

    Args:
        segments: In the order in which they stand; weights of zero or less have no width.
        total: The grams that the whole width stands for.
        width: Pixels.
        measure: The width of a text in pixels.
    """
    grams = [max(segment.grams, 0) for segment in segments]
    whole = max(total, sum(grams), 1)
    spans, done = [], 0
    for segment, part in zip(segments, grams, strict=True):
        left, right = width * done / whole, width * (done + part) / whole
        fits = part > 0 and measure(segment.text) + 2 * PAD <= right - left
        spans.append(Span(segment, left, right - left, fits))
        done += part
    return spans


def lay_outside(
    segments: Sequence[Segment], left: float, right: float, measure: Callable[[str], float]
) -> list[Outside]:
    """Place labels one after the other between two edges; those that do not fit are left out."""
    placed: list[Outside] = []
    for segment in segments:
        wide = MARK + 6 + measure(segment.text)
        if left + wide <= right:
            placed.append(Outside(segment, left, wide))
            left += wide + 2 * PAD
    return placed
