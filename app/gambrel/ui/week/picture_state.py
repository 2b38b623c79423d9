"""The week's three pictures as texts and figures: made from the sheet without Qt."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from gambrel.domain.drawing.lines import dot_axis
from gambrel.domain.sheets.behind import Wish, WishKind
from gambrel.domain.sheets.cost_weeks import CostLine, CostWeeks
from gambrel.domain.sheets.flow_nodes import LEVELS, FlowColumns, FlowNode, flow_columns, flow_share
from gambrel.domain.sheets.money_flow import MoneyFlow, SpotKind
from gambrel.domain.sheets.opening import spot_text
from gambrel.domain.sheets.yields import ListYields, YieldDot, YieldRow
from gambrel.domain.trade.formats import Formats
from gambrel.ui.widgets.pictured import CostRowText, FlowLabel, FlowPlan, YieldRowText

PLANS = (5, 6, 7, 8, 10, 13)
"""How many bars the columns of the flow have, from a low to a high screen."""

REACH_WHOLE, REACH_CUT = 0.05, 0.2
"""How far the axis of a yield reaches at least, as a part of its norm: for all that is saleable,
and for a cut (there a fifth is what the sheet calls off its norm)."""

NAMED = 6
"""So many of the small ones that stand together are named where they are told."""


@dataclass(frozen=True, slots=True)
class FlowState:
    """Where the money went: plans of the picture, and what each of its bars opens."""

    plans: tuple[FlowPlan, ...]
    wishes: tuple[tuple[tuple[Wish, ...], ...], ...]
    words: str


@dataclass(frozen=True, slots=True)
class YieldPage:
    """Rows of yields under a title. ``rows_lead`` are what rows open: a page of their cuts."""

    title: str
    rows: tuple[YieldRowText, ...]
    stages: tuple[tuple[Wish, ...], ...]
    words: str


@dataclass(frozen=True, slots=True)
class YieldState:
    """The yields of every cutting list, and a page of cuts for each of its rows."""

    lists: YieldPage
    cuts: tuple[YieldPage, ...]


@dataclass(frozen=True, slots=True)
class CostPage:
    """Lines of cost per kilo with what each opens."""

    rows: tuple[CostRowText, ...]
    wishes: tuple[Wish, ...]
    words: str


@dataclass(frozen=True, slots=True)
class CostState:
    """The lines of cuts and of portions."""

    cuts: CostPage
    portions: CostPage


# Where the money went


def flow_state(flow: MoneyFlow, formats: Formats) -> FlowState:
    """The flow with few bars, with some and with many."""
    found = [flow_columns(flow, most) for most in PLANS] if flow.total else []
    return FlowState(
        plans=tuple(_plan(flow, columns, formats) for columns in found),
        wishes=tuple(
            tuple(
                tuple(_spots_wish(level, node) for node in column)
                for level, column in zip(LEVELS, columns.columns, strict=True)
            )
            for columns in found
        ),
        words=flow_words(flow, formats),
    )


def _spots_wish(level: str, node: FlowNode) -> Wish:
    return Wish(WishKind.SPOTS, level, tuple(spot_text(spot) for spot in node.spots))


def _plan(flow: MoneyFlow, found: FlowColumns, formats: Formats) -> FlowPlan:
    columns = tuple(
        tuple(_label(flow, node, formats) for node in column) for column in found.columns
    )
    return FlowPlan(columns, found.links)


def _label(flow: MoneyFlow, node: FlowNode, formats: Formats) -> FlowLabel:
    money, share = formats.money(node.money), flow_share(node.money, flow.total, formats)
    words = f"{node.name}, {money}, {share} of the week\N{RIGHT SINGLE QUOTATION MARK}s money"
    if len(node.spots) > 1:
        named = [flow.name(spot) for spot in node.spots[:NAMED]]
        dots = "" if len(node.spots) <= NAMED else " and more"
        words += f": {', '.join(named)}{dots}"
    return FlowLabel(node.name, f"{money}, {share}", words, node.colour, node.money)


def flow_words(flow: MoneyFlow, formats: Formats) -> str:
    """What the picture says, in a sentence."""
    if not flow.total:
        return "No money was moved at the block in this week."
    share = {kind: formats.percent(Decimal(flow.ended(kind)) / flow.total) for kind in SpotKind}
    told = f"Of {formats.money(flow.total)} went {share[SpotKind.TRAY]} to trays"
    if flow.ended(SpotKind.BLEND):
        told += f" and {share[SpotKind.BLEND]} to blends"
    lost = flow.ended(SpotKind.LOSS) + flow.ended(SpotKind.THROWN)
    gone = formats.percent(Decimal(lost) / flow.total)
    return f"{told}; {gone if lost else 'nothing'} was lost or thrown away."


# Yields


def yield_state(found: tuple[ListYields, ...], formats: Formats) -> YieldState:
    """A row for each cutting list, and for each of them a row for every cut."""
    wholes = [each.whole for each in found]
    outside = sum(len(row.outside) for row in wholes)
    words = f"{len(found)} cutting lists; {outside or 'no'} yields outside their limits."
    lists = _yield_page("Saleable yield", wholes, words, formats, leads=True)
    return YieldState(
        lists,
        tuple(
            _yield_page(each.list, list(each.cuts), f"{each.list}, cut by cut.", formats)
            for each in found
        ),
    )


def _yield_page(
    title: str, rows: list[YieldRow], words: str, formats: Formats, *, leads: bool = False
) -> YieldPage:
    return YieldPage(
        title,
        tuple(_yield_row(row, formats, leads=leads) for row in rows),
        tuple(tuple(Wish(WishKind.STAGE, dot.stage) for dot in row.dots) for row in rows),
        words,
    )


def _yield_row(row: YieldRow, formats: Formats, *, leads: bool) -> YieldRowText:
    shares = [dot.share for dot in row.dots]
    band = None if row.limits is None else (row.limits.lower, row.limits.upper)
    norm = None if row.norm is None else float(row.norm)
    note = "no norm" if row.norm is None else f"norm {formats.percent(row.norm)}"
    if len(shares) > 1:
        note = f"{len(shares):,} bodies, {note}"
    figures, below = _spread(shares, formats), _limits(row, formats)
    return YieldRowText(
        name=row.name,
        note=note,
        figures=figures,
        below=below,
        words=f"{row.name}: {figures}, {note}, {below}",
        axis=dot_axis(
            [float(share) for share in shares], norm, band, REACH_CUT if row.cut else REACH_WHOLE
        ),
        dots=tuple(_dot_words(row, dot, formats) for dot in row.dots),
        outside=tuple(dot.outside for dot in row.dots),
        leads=leads,
    )


def _spread(shares: list[Decimal], formats: Formats) -> str:
    low, high = formats.percent(min(shares)), formats.percent(max(shares))
    return low if low == high else f"{low} to {high}"


def _limits(row: YieldRow, formats: Formats) -> str:
    if row.limits is None:
        return f"limits after {row.wanting} more {'body' if row.wanting == 1 else 'bodies'}"
    low = formats.percent(Decimal(max(row.limits.lower, 0.0)))
    high = formats.percent(Decimal(row.limits.upper))
    outside = f"{len(row.outside)} outside" if row.outside else "limits"
    return f"{outside} {low} to {high}"


def _dot_words(row: YieldRow, dot: YieldDot, formats: Formats) -> str:
    where = ", outside the limits" if dot.outside else ""
    return f"{dot.bodies}, {row.name}: {formats.percent(dot.share)}{where}"


# Cost per kilo


def cost_state(costs: CostWeeks, formats: Formats) -> CostState:
    """A line for every cut and for every portion."""
    span = f"{len(costs.weeks)} weeks, {costs.weeks[0].name[-3:]} to {costs.weeks[-1].name[-3:]}"
    cuts, portions = (
        CostPage(
            tuple(_cost_row(line, costs, formats) for line in lines),
            tuple(Wish(kind, line.key) for line in lines),
            f"Cost per {what} over {span}.",
        )
        for lines, kind, what in (
            (costs.cuts, WishKind.CUT, "kilo of every cut"),
            (costs.portions, WishKind.PORTION, "saleable kilo of every portion"),
        )
    )
    return CostState(cuts, portions)


def _cost_row(line: CostLine, costs: CostWeeks, formats: Formats) -> CostRowText:
    last = formats.per_kilo(line.last)
    change = cost_change(line, costs, formats)
    return CostRowText(
        name=line.name,
        values=line.values,
        last=last,
        change=change,
        words=f"{line.name}: {last} a kilo, {change}",
        leads=line.last is not None,
    )


def cost_change(line: CostLine, costs: CostWeeks, formats: Formats) -> str:
    """What a kilo costs more or less than in the week before that had the cut."""
    if line.before is None:
        return "first in these weeks"
    week = costs.weeks[line.before].name[-3:]
    was = line.values[line.before] or Decimal(0)
    if line.last is None or not was:
        return f"{week} {formats.per_kilo(was)}"
    return f"{formats.percent((line.last - was) / was, signed=True)} since {week}"
