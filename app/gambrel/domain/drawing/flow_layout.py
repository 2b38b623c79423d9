"""Laying out a flow: columns of bars joined by ribbons, every bar with room for its label.

Screen and paper draw the same geometry, each in its own unit. Heights of bars and ribbons are in
one proportion to their amounts, so that what is twice as thick is twice as much.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from gambrel.domain.drawing.marks import Path

LEAST_BAR = 1.5
"""How tall the smallest bar is drawn at least, so that it is seen."""


class Link(NamedTuple):
    """What goes from a bar of a column to one of the next; ``column`` is that on the left."""

    column: int
    start: int
    end: int
    amount: int


_Key = Callable[[Link], tuple[int, int]]


@dataclass(frozen=True, slots=True)
class Frame:
    """The room for a flow of three columns.

    ``left``, ``middle`` and ``right`` are the widths of the labels before the first bars and
    behind the others; ``slot`` is the height that a label needs, ``gap`` lies between slots.
    """

    width: float
    height: float
    bar: float
    slot: float
    gap: float
    left: float
    middle: float
    right: float


@dataclass(frozen=True, slots=True)
class Bar:
    """A bar, in the middle of the slot that belongs to it and to its label."""

    left: float
    top: float
    width: float
    height: float
    slot_top: float
    slot_height: float


@dataclass(frozen=True, slots=True)
class FlowLayout:
    """Where everything stands; ``ribbons`` in the order of the links."""

    bars: tuple[tuple[Bar, ...], ...]
    ribbons: tuple[Path, ...]


def needed_height(counts: Sequence[int], slot: float, gap: float) -> float:
    """How tall a flow has to be for columns of so many bars."""
    most = max(counts, default=0)
    return most * slot + max(most - 1, 0) * gap


def lay_flow(columns: Sequence[Sequence[int]], links: Sequence[Link], frame: Frame) -> FlowLayout:
    """Lay out three columns of amounts within a frame.

    Args:
        columns: The amounts, from top to bottom; each column comes to the same sum.
        links: What goes between them; a bar's links on a side come to its amount.
        frame: At least as tall as `needed_height` says; a lower one is overrun.
    """
    scale = min((_scale(amounts, frame) for amounts in columns if amounts), default=0.0)
    lefts = _lefts(frame)
    bars = tuple(
        _column(amounts, left, scale, frame) for amounts, left in zip(columns, lefts, strict=True)
    )
    return FlowLayout(bars, _ribbons(bars, links, scale))


def _lefts(frame: Frame) -> tuple[float, float, float]:
    """Where the bars of each column begin: ribbons have the same run on both sides."""
    first, last = frame.left, frame.width - frame.right - frame.bar
    run = last - first - 2 * frame.bar - frame.middle
    return first, first + frame.bar + run / 2, last


def _scale(amounts: Sequence[int], frame: Frame) -> float:
    """The height of a unit at which a column fills the frame; small bars keep their slots."""
    room = frame.height - (len(amounts) - 1) * frame.gap
    rising = sorted(amounts)
    whole = sum(rising)
    for small in range(len(rising)):
        scale = (room - small * frame.slot) / whole if whole else 0.0
        if rising[small] * scale >= frame.slot:
            return max(scale, 0.0)
        whole -= rising[small]
    largest = rising[-1]
    return frame.slot / largest if largest else 0.0


def _column(amounts: Sequence[int], left: float, scale: float, frame: Frame) -> tuple[Bar, ...]:
    """One column, spread over the height where it leaves some."""
    slots = [max(amount * scale, frame.slot) for amount in amounts]
    spare = max(frame.height - sum(slots) - (len(slots) - 1) * frame.gap, 0.0)
    space = spare / (len(slots) + 1)
    bars, top = [], space
    for amount, slot in zip(amounts, slots, strict=True):
        height = max(amount * scale, LEAST_BAR)
        bars.append(Bar(left, top + (slot - height) / 2, frame.bar, height, top, slot))
        top += slot + frame.gap + space
    return tuple(bars)


def _ribbons(
    bars: tuple[tuple[Bar, ...], ...], links: Sequence[Link], scale: float
) -> tuple[Path, ...]:
    """Ribbons leave and reach each bar side by side, in the order of what they join."""
    out = _offsets(links, scale, lambda link: (link.start, link.end))
    into = _offsets(links, scale, lambda link: (link.end, link.start))
    found = []
    for number, link in enumerate(links):
        start, end = bars[link.column][link.start], bars[link.column + 1][link.end]
        thick = link.amount * scale
        found.append(
            ribbon(
                (start.left + start.width, start.top + out[number]),
                (end.left, end.top + into[number]),
                thick,
            )
        )
    return tuple(found)


def _offsets(links: Sequence[Link], scale: float, key: _Key) -> list[float]:
    """How far below its bar's top each link begins, the links of a bar in order."""
    order = sorted(range(len(links)), key=lambda n: (links[n].column, *key(links[n])))
    offsets = [0.0] * len(links)
    for before, after in pairwise(order):
        one, other = links[before], links[after]
        if one.column == other.column and key(one)[0] == key(other)[0]:
            offsets[after] = offsets[before] + one.amount * scale
    return offsets


def ribbon(start: tuple[float, float], end: tuple[float, float], thick: float) -> Path:
    """A band of one thickness that leaves and arrives level; the points are its upper corners."""
    (x0, y0), (x1, y1) = start, end
    half = (x0 + x1) / 2
    return (
        ("M", ((x0, y0),)),
        ("C", ((half, y0), (half, y1), (x1, y1))),
        ("L", ((x1, y1 + thick),)),
        ("C", ((half, y1 + thick), (half, y0 + thick), (x0, y0 + thick))),
        ("Z", ()),
    )
