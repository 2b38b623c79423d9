"""What the Week shows, as texts: made from the week's sheet without Qt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from gambrel.domain.numbers.money import per_kilo
from gambrel.domain.sheets.behind import Wish, WishKind
from gambrel.domain.sheets.sections import Section
from gambrel.domain.sheets.week_figures import USUAL_WEEKS, Usual
from gambrel.domain.sheets.week_sheet import CutLine, WeekSheet
from gambrel.domain.trade.formats import Formats
from gambrel.ui.week.picture_state import (
    CostState,
    FlowState,
    YieldState,
    cost_state,
    flow_state,
    yield_state,
)

NOTHING = "—"


@dataclass(frozen=True, slots=True)
class FigureText:
    """One of the five figures: this week's, what it means, last week's, and the usual."""

    caption: str
    value: str
    more: str
    last: str
    usual: str
    wish: Wish


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
    usual_note: str
    cut_wishes: tuple[Wish, ...]
    body_wishes: tuple[Wish, ...]
    flow: FlowState
    yields: YieldState
    costs: CostState


def describe(sheet: WeekSheet, formats: Formats, exceptions: Sequence[str]) -> WeekState:
    """The week's sheet in words and figures."""
    cuts = sorted(sheet.cuts, key=_dearest_first)
    return WeekState(
        name=sheet.week.name,
        title=f"{sheet.week.name[-3:]}, {formats.week(sheet.week)}",
        is_empty=sheet.is_empty,
        figures=_figures(sheet, formats),
        cuts=tuple(_cut(line, formats) for line in cuts),
        bodies=tuple(
            row
            for section in sheet.breaks
            for row in _bodies(section, sheet.supplier_names, formats)
        ),
        exceptions=tuple(exceptions),
        usual_note=usual_note(sheet.usual),
        cut_wishes=tuple(Wish(WishKind.CUT, line.row.cut.key) for line in cuts),
        body_wishes=tuple(
            Wish(WishKind.BODY, cost.body.key)
            for section in sheet.breaks
            for cost in section.bodies
        ),
        flow=flow_state(sheet.flow, formats),
        yields=yield_state(sheet.yields, formats),
        costs=cost_state(sheet.costs, formats),
    )


def usual_note(found: Usual) -> str:
    """Of how many weeks the usual is the middle."""
    if not found.weeks:
        return "There is no week before with work in it, so nothing is usual yet."
    weeks = "the week" if found.weeks == 1 else f"the {found.weeks} weeks"
    told = f"Usual is the middle of {weeks} with work in the {USUAL_WEEKS} before."
    if found.weeks < USUAL_WEEKS:
        told += " It says more with every week."
    return told


def _figures(sheet: WeekSheet, formats: Formats) -> tuple[FigureText, ...]:
    def kg(grams: int | None) -> str:
        return NOTHING if grams is None else f"{formats.kg(grams, 1)} kg"

    now, last, usual = sheet.now, sheet.last, sheet.usual
    found, before = now.summary, last.summary
    money, percent = formats.money, formats.percent
    rows = (
        (
            "Bought",
            f"{_bodies_told(now.bought_count)}, {kg(now.bought_g)}",
            (money(now.bought), money(last.bought), money(usual.bought)),
            WishKind.BOUGHT,
        ),
        (
            "Taken to the block",
            f"{_bodies_told(found.bodies)}, {money(found.taken_cost)}",
            (kg(found.taken_g), kg(before.taken_g), kg(usual.taken_g)),
            WishKind.TAKEN,
        ),
        (
            "Came off saleable",
            f"{percent(found.saleable_share)} of what came off",
            (kg(found.saleable_g), kg(before.saleable_g), kg(usual.saleable_g)),
            WishKind.SALEABLE,
        ),
        (
            "Expected margin",
            f"{money(found.earning.margin)} before tax",
            (
                percent(found.earning.share),
                percent(before.earning.share),
                percent(usual.margin_share),
            ),
            WishKind.MARGIN,
        ),
        (
            "Unexplained loss",
            f"{formats.kg(found.unexplained_g)} kg",
            (money(found.unexplained), money(before.unexplained), money(usual.unexplained)),
            WishKind.LOSS,
        ),
    )
    return tuple(
        FigureText(
            caption, values[0], more, f"last week {values[1]}", f"usual {values[2]}", Wish(kind)
        )
        for caption, more, values, kind in rows
    )


def _bodies_told(count: int) -> str:
    return f"{count:,} {'body' if count == 1 else 'bodies'}"


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
