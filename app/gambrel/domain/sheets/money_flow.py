"""Where a week's money went, as values: from what was paid, through the cuts, to where it ended.

Every unit of money is on one path: a source, a cut (or what stands for one), an end. The three
levels therefore come to the same sum; `money_walk` makes the paths from a costing.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import NamedTuple


class SpotKind(StrEnum):
    """What a spot of the flow is: a source, a cut, or an end. In the order in which they stand."""

    BODY = "body"
    BEFORE = "before"
    BOUGHT_IN = "bought-in"
    WORK = "work"
    FINISH = "finish"
    FEES = "fees"
    SURPLUS = "surplus"
    CUT = "cut"
    TRAY = "tray"
    BLEND = "blend"
    TRIM = "trim"
    CREDIT = "credit"
    BLOCK = "block"
    STRANDED = "stranded"
    THROWN = "thrown"
    LOSS = "loss"


class Spot(NamedTuple):
    """One place that money passes. ``key`` tells spots of a kind apart: a portion, a cut."""

    kind: SpotKind
    key: str = ""


class Way(NamedTuple):
    """The path of some money: where from, as which cut, where to."""

    source: Spot
    middle: Spot
    end: Spot


class Level(StrEnum):
    """The three columns of the flow."""

    SOURCE = "source"
    MIDDLE = "middle"
    END = "end"


class ItemKind(StrEnum):
    """What stands behind a figure."""

    BODY = "body"
    PIECE = "piece"
    STAGE = "stage"


class Item(NamedTuple):
    """One thing behind a spot: a body, a piece or a stage, with its grams and minor units."""

    kind: ItemKind
    key: str
    grams: int
    money: int


SPOT_NAMES = {
    SpotKind.BEFORE: "From weeks before",
    SpotKind.BOUGHT_IN: "Ingredients",
    SpotKind.WORK: "Work",
    SpotKind.FINISH: "Finishing",
    SpotKind.FEES: "Disposal fees",
    SpotKind.SURPLUS: "Credits above cost",
    SpotKind.TRAY: "Trays",
    SpotKind.TRIM: "Trim standing",
    SpotKind.CREDIT: "By-product credits",
    SpotKind.BLOCK: "Still on the block",
    SpotKind.STRANDED: "Nothing to bear it",
    SpotKind.THROWN: "Thrown away",
    SpotKind.LOSS: "Unexplained loss",
}
"""What people call the spots of which there is one."""


@dataclass(frozen=True)
class MoneyFlow:
    """A week's money in minor units, by path; every amount is above zero.

    ``names`` has the words for bodies' portions and for cuts, ``cut_kinds`` the kind of each cut.
    ``items`` are the pieces, bodies and stages behind each spot of each level.
    """

    ways: dict[Way, int]
    names: dict[Spot, str]
    cut_kinds: dict[str, str]
    items: dict[tuple[Level, Spot], tuple[Item, ...]] = field(repr=False)

    @property
    def total(self) -> int:
        """All the money of the week, each unit once."""
        return sum(self.ways.values())

    def amounts(self, level: Level) -> dict[Spot, int]:
        """What passes each spot of a level."""
        found: dict[Spot, int] = {}
        for way, money in self.ways.items():
            spot = at(way, level)
            found[spot] = found.get(spot, 0) + money
        return found

    def ended(self, kind: SpotKind) -> int:
        """What ended in all spots of a kind."""
        return sum(money for way, money in self.ways.items() if way.end.kind is kind)

    def came_from(self, kind: SpotKind) -> int:
        """What came from all spots of a kind."""
        return sum(money for way, money in self.ways.items() if way.source.kind is kind)

    def name(self, spot: Spot) -> str:
        """What people call a spot."""
        return self.names.get(spot) or SPOT_NAMES.get(spot.kind, spot.key)

    def behind(self, level: Level, spot: Spot) -> tuple[Item, ...]:
        """The pieces, bodies and stages behind a spot of a level; their money is all of it."""
        return self.items.get((level, spot), ())


def at(way: Way, level: Level) -> Spot:
    """The spot of a path in one level."""
    if level is Level.SOURCE:
        return way.source
    return way.middle if level is Level.MIDDLE else way.end
