"""The papers of tickets and labels: pages, the places on them, and how large things are.

Names say what a paper is: the sheet and how many tickets it gives, or the card, or the roll, or the
label by its width and height.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, NamedTuple

from gambrel.domain.refusals import Refusal

Unit = Literal["beside", "stacked", "under"]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A page and the places on it, all of one size; millimetres."""

    name: str
    about: str
    page: tuple[float, float]
    columns: int
    rows: int
    cell: tuple[float, float]

    @property
    def margins(self) -> tuple[float, float]:
        """From the page's left and top edge to the first place."""
        return (
            (self.page[0] - self.columns * self.cell[0]) / 2,
            (self.page[1] - self.rows * self.cell[1]) / 2,
        )

    @property
    def count(self) -> int:
        """How many places a page has."""
        return self.columns * self.rows

    @property
    def is_cut(self) -> bool:
        """Whether a sheet is to be cut, and so has crop marks."""
        return self.count > 1

    def places(self) -> Iterator[tuple[float, float]]:
        """The left top corner of every place on a page, row by row."""
        left, top = self.margins
        for row in range(self.rows):
            for column in range(self.columns):
                yield left + column * self.cell[0], top + row * self.cell[1]


@dataclass(frozen=True, slots=True)
class Paper(Sheet):
    """A paper for shelf tickets. All measures are millimetres, type sizes are points.

    ``pad`` is what stays free inside a ticket's edge; ``name_height`` the room for the name, which
    may take two lines; ``price_cap`` the height of the price's digits where it is short enough.
    The small words stand beside the bars, or over them where ``words_height`` gives them room.
    ``unit`` says where "per kg" goes so that the price stays tall: beside it on one line, beside
    it on two, or under it.
    """

    pad: float
    name_size: float
    name_height: float
    price_cap: float
    small: float
    bar_height: float
    words_height: float = 0
    unit: Unit = "beside"


FARTHEST_SHIFT = 10.0
"""Millimetres: a printer that is farther off wants its own settings looked at."""


_HAIR = 1e-6


class Placing(NamedTuple):
    """Where printing begins on a sheet of labels, and how far this printer is off.

    ``start`` counts places from 1; ``right`` and ``down`` are millimetres, either may be negative.
    """

    start: int = 1
    right: float = 0.0
    down: float = 0.0

    def check(self, sheet: Sheet, pad: float) -> None:
        """See that a sheet has such a place, and that the shift keeps all places on the paper.

        Args:
            sheet: Pages and their places.
            pad: Millimetres inside a place's edge that stay free.
        Raises:
            Refusal: It has not, or the shift is too far.
        """
        if not 1 <= self.start <= sheet.count:
            places = f"{sheet.count} places" if sheet.count > 1 else "one place"
            raise Refusal(
                f"{sheet.name} has {places} a page, so printing cannot start at {self.start}; "
                f"start at 1 to {sheet.count}."
            )
        if max(abs(self.right), abs(self.down)) > FARTHEST_SHIFT:
            raise Refusal(
                f"A shift of {self.right:g},{self.down:g} mm is too far; give at most "
                f"{FARTHEST_SHIFT:g} mm each way, or set the paper straight."
            )
        free = tuple(margin + pad for margin in sheet.margins)
        if abs(self.right) > free[0] + _HAIR or abs(self.down) > free[1] + _HAIR:
            raise Refusal(
                f"A shift of {self.right:g},{self.down:g} mm would print beside the paper: "
                f"{sheet.name} has room for {free[0]:g} mm sideways and {free[1]:g} mm up or down. "
                "Set the paper straight in the printer."
            )


FROM_THE_FIRST = Placing()
"""From the first place on, on a printer that is straight."""

_A4 = (210.0, 297.0)

PAPERS = {
    paper.name: paper
    for paper in (
        Paper("a4-8", "A4 sheet to cut into 8 large tickets", _A4, 2, 4, (95, 67),
              pad=5, name_size=27, name_height=16, price_cap=15.5, small=8.5, bar_height=12),
        Paper("a4-15", "A4 sheet to cut into 15 tickets", _A4, 3, 5, (63, 54),
              pad=4, name_size=18, name_height=11, price_cap=11, small=7.5, bar_height=7.4,
              words_height=9.2, unit="stacked"),
        Paper("a4-24", "A4 sheet to cut into 24 small tickets", _A4, 3, 8, (66, 35.6),
              pad=2.7, name_size=12.5, name_height=4.6, price_cap=10, small=7, bar_height=7.7),
        Paper("card-a6", "A6 card, one a page", (148, 105), 1, 1, (148, 105),
              pad=9, name_size=44, name_height=26, price_cap=24, small=12, bar_height=17),
        Paper("card-a7", "A7 card, one a page", (105, 74), 1, 1, (105, 74),
              pad=6, name_size=30, name_height=17, price_cap=16, small=8.5, bar_height=12),
        Paper("roll-58", "58 mm roll, one ticket a cut", (58, 66), 1, 1, (58, 66),
              pad=5, name_size=17, name_height=11.5, price_cap=10, small=7.5, bar_height=10,
              words_height=10, unit="under"),
    )
}  # fmt: skip
"""Every paper by its name."""


def paper_names() -> tuple[str, ...]:
    """The names by which papers are chosen."""
    return tuple(PAPERS)


LABELS = ("label-58x40", "label-58x60", "label-80x50", "label-100x60")
"""Sizes of label rolls that are offered by name (common practice, no source); any other is read."""

LABEL_WIDTHS = (30.0, 210.0)
LABEL_HEIGHTS = (20.0, 297.0)

_LABEL = re.compile(r"(?:label-)?(\d{1,3}(?:\.\d)?)x(\d{1,3}(?:\.\d)?)(?:mm)?", re.ASCII)


def label_sheet(name: str) -> Sheet:
    """The sheet of tray labels with a name: a label of a roll, or a sheet of labels to cut.

    Args:
        name: ``label-58x40`` or ``58x40mm`` (width and height in millimetres), or the name of a
            sheet of tickets, for example ``a4-24``, whose places then hold labels.
    Raises:
        Refusal: Not such a name, or a label that is too small or too large to print.
    """
    if name in PAPERS:
        return PAPERS[name]
    found = _LABEL.fullmatch(name.strip().lower())
    if found is None:
        known = ", ".join([*LABELS, *(paper.name for paper in PAPERS.values() if paper.is_cut)])
        raise Refusal(
            f"There is no label paper {name!r}; choose one of {known}, or give width and height "
            "in millimetres, for example 58x40mm."
        )
    width, height = float(found[1]), float(found[2])
    _within(name, "wide", width, LABEL_WIDTHS)
    _within(name, "high", height, LABEL_HEIGHTS)
    size = f"{width:g}x{height:g}"
    about = f"labels of {width:g} by {height:g} mm"
    return Sheet(f"label-{size}", about, (width, height), 1, 1, (width, height))


def _within(name: str, how: str, measure: float, bounds: tuple[float, float]) -> None:
    least, most = bounds
    if not least <= measure <= most:
        raise Refusal(
            f"A label of {name} is {measure:g} mm {how}; expected {least:g} to {most:g} mm."
        )
