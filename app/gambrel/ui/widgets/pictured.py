"""What the pictures of flows, yields and costs show, as plain values: no Qt."""

from __future__ import annotations

from dataclasses import dataclass

from gambrel.domain.drawing.flow_layout import Link, needed_height
from gambrel.domain.drawing.lines import DotAxis, Value

SLOT, GAP = 44, 2
"""Pixels: what a finger hits and a label of a flow takes, and between two of them."""


@dataclass(frozen=True, slots=True)
class FlowLabel:
    """One bar: its name, its figure, what a screen reader says, its colour and its amount."""

    name: str
    value: str
    words: str
    colour: str
    amount: int


@dataclass(frozen=True, slots=True)
class FlowPlan:
    """Columns of bars and what joins them, with so many bars as a height has room for."""

    columns: tuple[tuple[FlowLabel, ...], ...]
    links: tuple[Link, ...]

    @property
    def height(self) -> int:
        """How tall the picture has to be."""
        return int(needed_height([len(column) for column in self.columns], SLOT, GAP)) + 2


@dataclass(frozen=True, slots=True)
class YieldRowText:
    """One row: its name and what is said below it, its figures, and its dots on an axis.

    ``outside`` tells which dots are outside the limits, ``dots`` what each is. ``leads`` says
    that the row itself opens.
    """

    name: str
    note: str
    figures: str
    below: str
    words: str
    axis: DotAxis
    dots: tuple[str, ...]
    outside: tuple[bool, ...]
    leads: bool


@dataclass(frozen=True, slots=True)
class CostRowText:
    """One line: its name, its values (None is a gap), the last in figures, and what changed.

    ``words`` say it all for a screen reader; ``leads`` that it opens.
    """

    name: str
    values: tuple[Value, ...]
    last: str
    change: str
    words: str
    leads: bool
