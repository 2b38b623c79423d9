"""What a kilo cost week by week: of every cut, and of what every portion gave for sale."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from gambrel.domain.costing.costing import PieceCost
from gambrel.domain.costing.ledger import Ledger
from gambrel.domain.numbers.money import per_kilo
from gambrel.domain.sheets.cut_rows import cut_rows
from gambrel.domain.sheets.sections import Section
from gambrel.domain.sheets.week_figures import WeekWork
from gambrel.domain.trade.clock import TradeWeek
from gambrel.domain.trade.titles import portion_title

COST_WEEKS = 13
"""A quarter of a year: what a supplier's price and a season do is seen (common practice)."""


@dataclass(frozen=True, slots=True)
class CostLine:
    """Minor units per kilogram by week, the oldest first; None for a week without.

    ``key`` is a cut's, or a portion as ``beef hindquarter``.
    """

    key: str
    name: str
    values: tuple[Decimal | None, ...]

    @property
    def last(self) -> Decimal | None:
        """This week's."""
        return self.values[-1]

    @property
    def before(self) -> int | None:
        """The place of the latest week before this one that has a value."""
        places = [n for n, value in enumerate(self.values[:-1]) if value is not None]
        return places[-1] if places else None


@dataclass(frozen=True, slots=True)
class CostWeeks:
    """The lines over ``weeks``, the oldest first; this week's most cost comes first."""

    weeks: tuple[TradeWeek, ...]
    cuts: tuple[CostLine, ...]
    portions: tuple[CostLine, ...]


def cost_weeks(ledger: Ledger, works: Sequence[WeekWork]) -> CostWeeks:
    """Put the cost per kilo of some weeks in lines.

    Args:
        ledger: The book.
        works: The weeks, one after another, the oldest first.
    """
    weeks = tuple(work.week for work in works)
    return CostWeeks(weeks, _cut_lines(ledger, weeks), _portion_lines(works))


def _cut_lines(ledger: Ledger, weeks: Sequence[TradeWeek]) -> tuple[CostLine, ...]:
    begins = [ledger.week(week).begins for week in weeks]
    ends = ledger.week(weeks[-1]).ends
    by_week: list[list[PieceCost]] = [[] for _ in weeks]
    for part in ledger.costing.pieces:
        moment = part.piece.weighed_at
        if begins[0] <= moment < ends:
            by_week[bisect_right(begins, moment) - 1].append(part)
    found: dict[str, list[Decimal | None]] = {}
    size: dict[str, int] = {}
    names: dict[str, str] = {}
    for number, pieces in enumerate(by_week):
        for row in cut_rows(ledger, pieces):
            line = found.setdefault(row.cut.key, [None] * len(weeks))
            line[number] = row.cost_per_kilo
            names[row.cut.key] = row.cut.name
            size[row.cut.key] = row.cost if number == len(weeks) - 1 else 0
    return _in_order(found, names, size)


def _portion_lines(works: Sequence[WeekWork]) -> tuple[CostLine, ...]:
    """A portion's saleable kilos of a week at their cost; what is open is left out."""
    found: dict[str, list[Decimal | None]] = {}
    size: dict[str, int] = {}
    names: dict[str, str] = {}
    for number, work in enumerate(works):
        for key, parts in _by_portion(work.sections).items():
            grams = sum(part.saleable_g for part in parts)
            cost = sum(part.saleable_cost for part in parts)
            line = found.setdefault(key, [None] * len(works))
            line[number] = per_kilo(cost, grams) if grams else None
            size[key] = cost if number == len(works) - 1 else 0
            species, _, portion = key.partition(" ")
            names[key] = portion_title(species, portion)
    return _in_order(found, names, size)


def _by_portion(found: Sequence[Section]) -> dict[str, list[Section]]:
    parts: dict[str, list[Section]] = {}
    for section in found:
        if section.bodies and not section.balance.open:
            parts.setdefault(portion_of(section), []).append(section)
    return parts


def portion_of(section: Section) -> str:
    """The species and portion of a section's bodies: of the first, where they differ."""
    first = section.bodies[0].body
    return f"{first.species} {first.portion}"


def _in_order(
    found: dict[str, list[Decimal | None]], names: dict[str, str], size: dict[str, int]
) -> tuple[CostLine, ...]:
    """Lines with any cost; the dearest of this week first, then by name."""
    lines = [
        CostLine(key, names[key], tuple(values))
        for key, values in found.items()
        if any(value is not None for value in values)
    ]
    return tuple(sorted(lines, key=lambda line: (-size[line.key], line.name)))
