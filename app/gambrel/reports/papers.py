"""The papers that tickets are printed on: pages, the places on them, and how large things are.

Names say what a paper is: the sheet and how many tickets it gives, or the card, or the roll.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

Unit = Literal["beside", "stacked", "under"]


@dataclass(frozen=True, slots=True)
class Paper:
    """One paper. All measures are millimetres, type sizes are points.

    ``pad`` is what stays free inside a ticket's edge; ``name_height`` the room for the name, which
    may take two lines; ``price_cap`` the height of the price's digits where it is short enough.
    The small words stand beside the bars, or over them where ``words_height`` gives them room.
    ``unit`` says where "per kg" goes so that the price stays tall: beside it on one line, beside
    it on two, or under it.
    """

    name: str
    about: str
    page: tuple[float, float]
    columns: int
    rows: int
    cell: tuple[float, float]
    pad: float
    name_size: float
    name_height: float
    price_cap: float
    small: float
    bar_height: float
    words_height: float = 0
    unit: Unit = "beside"

    @property
    def margins(self) -> tuple[float, float]:
        """From the page's left and top edge to the first ticket."""
        return (
            (self.page[0] - self.columns * self.cell[0]) / 2,
            (self.page[1] - self.rows * self.cell[1]) / 2,
        )

    @property
    def is_cut(self) -> bool:
        """Whether a sheet is to be cut into tickets, and so has crop marks."""
        return self.columns * self.rows > 1

    def places(self) -> Iterator[tuple[float, float]]:
        """The left top corner of every ticket on a page, row by row."""
        left, top = self.margins
        for row in range(self.rows):
            for column in range(self.columns):
                yield left + column * self.cell[0], top + row * self.cell[1]


_A4 = (210.0, 297.0)

PAPERS = {
    paper.name: paper
    for paper in (
        Paper("a4-8", "A4 sheet to cut into 8 large tickets", _A4, 2, 4, (95, 67),
              pad=5, name_size=27, name_height=16, price_cap=15.5, small=8.5, bar_height=12),
        Paper("a4-15", "A4 sheet to cut into 15 tickets", _A4, 3, 5, (63, 54),
              pad=4, name_size=18, name_height=11, price_cap=11, small=7.5, bar_height=10,
              words_height=6.6, unit="stacked"),
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
