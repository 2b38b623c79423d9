"""What the Week shows, as texts: made from the week's sheet without Qt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from gambrel.domain.numbers.money import per_kilo
from gambrel.domain.sheets.sections import Section
from gambrel.domain.sheets.week_figures import Figures
from gambrel.domain.sheets.week_sheet import CutLine, WeekSheet
from gambrel.domain.trade.formats import Formats

NOTHING = "—"


@dataclass(frozen=True, slots=True)
class FigureText:
    """One of the five figures: what it is, this week's, what it means, and last week's."""

    caption: str
    value: str
    more: str
    last: str


@dataclass(frozen=True, slots=True)
class WeekState:
    """All that the screen says about one week."""

    name: str
    title: str
    is_empty: bool
    figures: tuple[FigureText, ...]
    cuts: tuple[tuple[str, ...], ...]
    bodies: tuple[tuple[str, ...], ...]
    exceptions: tuple[str, ...]


def describe(sheet: WeekSheet, formats: Formats, exceptions: Sequence[str]) -> WeekState:
    """The week's sheet in words and figures."""
    return WeekState(
        name=sheet.week.name,
        title=f"{sheet.week.name[-3:]}, {formats.week(sheet.week)}",
        is_empty=sheet.is_empty,
        figures=_figures(sheet.now, sheet.last, formats),
        cuts=tuple(_cut(line, formats) for line in sorted(sheet.cuts, key=_dearest_first)),
        bodies=tuple(
            row
            for section in sheet.breaks
            for row in _bodies(section, sheet.supplier_names, formats)
        ),
        exceptions=tuple(exceptions),
    )


def _figures(now: Figures, last: Figures, formats: Formats) -> tuple[FigureText, ...]:
    def kg(grams: int) -> str:
        return f"{formats.kg(grams, 1)} kg"

    earned, before = now.summary.earning, last.summary.earning
    return (
        FigureText(
            "Bought",
            formats.money(now.bought),
            f"{now.bought_count} bodies, {kg(now.bought_g)}",
            f"last week {formats.money(last.bought)}",
        ),
        FigureText(
            "Taken to the block",
            kg(now.summary.taken_g),
            f"{now.summary.bodies} bodies, {formats.money(now.summary.taken_cost)}",
            f"last week {kg(last.summary.taken_g)}",
        ),
        FigureText(
            "Came off saleable",
            kg(now.summary.saleable_g),
            f"{formats.percent(now.summary.saleable_share)} of what came off",
            f"last week {kg(last.summary.saleable_g)}",
        ),
        FigureText(
            "Expected margin",
            formats.percent(earned.share),
            f"{formats.money(earned.margin)} before tax",
            f"last week {formats.percent(before.share)}",
        ),
        FigureText(
            "Unexplained loss",
            formats.money(now.summary.unexplained),
            f"{formats.kg(now.summary.unexplained_g)} kg",
            f"last week {formats.money(last.summary.unexplained)}",
        ),
    )


def _dearest_first(line: CutLine) -> tuple[bool, int]:
    """What brings money in stands first, the most of it at the top; bone and waste below."""
    return not line.row.cut.kind.bears_cost, -(line.row.sales or 0)


def _cut(line: CutLine, formats: Formats) -> tuple[str, ...]:
    row = line.row
    return (
        row.cut.name,
        formats.kg(row.net_g),
        formats.per_kilo(row.cost_per_kilo),
        formats.per_kilo(line.last_cost_per_kilo),
        formats.per_kilo(row.price),
        formats.money(row.sales),
        formats.percent(row.margin),
    )


def _bodies(section: Section, suppliers: dict[str, str], formats: Formats) -> list[tuple[str, ...]]:
    lost = "on the block" if section.balance.open else formats.money(section.balance.unexplained)
    return [
        (
            cost.body.key,
            suppliers.get(cost.body.supplier, cost.body.supplier),
            section.stage.list or NOTHING,
            formats.kg(cost.input_g),
            formats.percent(_share(cost.saleable_percent)),
            _per_saleable(section, formats),
            lost,
        )
        for cost in section.bodies
    ]


def _share(percent: Decimal | None) -> Decimal | None:
    return None if percent is None else percent / 100


def _per_saleable(section: Section, formats: Formats) -> str:
    if section.balance.open or not section.saleable_g:
        return NOTHING
    return formats.per_kilo(per_kilo(section.saleable_cost, section.saleable_g))
