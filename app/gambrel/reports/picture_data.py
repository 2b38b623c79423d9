"""The week's pictures as tables of plain values: every path of money, every dot, every week."""

from __future__ import annotations

from decimal import Decimal

from gambrel.domain.sheets.money_flow import SpotKind
from gambrel.domain.sheets.week_sheet import WeekSheet
from gambrel.domain.sheets.yields import YieldDot, YieldRow
from gambrel.reports.data_table import DataTable, Field, Value

_USUAL = (
    Field("weeks", "Weeks", "count"),
    Field("bought", "Bought", "money"),
    Field("taken_kg", "Taken to the block kg", "kg"),
    Field("taken", "Taken to the block", "money"),
    Field("saleable_kg", "Came off saleable kg", "kg"),
    Field("expected_margin", "Expected margin", "money"),
    Field("margin_share", "Margin", "share"),
    Field("unexplained", "Unexplained loss", "money"),
)


def usual_table(sheet: WeekSheet) -> DataTable:
    """The middles of the weeks before, and of how many they are."""
    found = sheet.usual
    row = (
        found.weeks,
        found.bought,
        found.taken_g,
        found.taken_cost,
        found.saleable_g,
        found.margin,
        found.margin_share,
        found.unexplained,
    )
    return DataTable("usual", "Usual", _USUAL, [row])


_FLOW = (
    Field("from", "From", "text"),
    Field("as", "As", "text"),
    Field("to", "To", "text"),
    Field("money", "Money", "money"),
)


def flow_table(sheet: WeekSheet) -> DataTable:
    """Every path of the week's money; what passed without being a cut has no "as"."""
    flow = sheet.flow
    rows: list[tuple[Value, ...]] = [
        (
            flow.name(way.source),
            flow.name(way.middle) if way.middle.kind is SpotKind.CUT else None,
            flow.name(way.end),
            money,
        )
        for way, money in sorted(flow.ways.items(), key=lambda pair: (-pair[1], pair[0]))
    ]
    return DataTable("flow", "Where the money went", _FLOW, rows)


_YIELDS = (
    Field("list", "Cutting list", "text"),
    Field("cut", "Cut", "text"),
    Field("bodies", "Bodies", "text"),
    Field("share", "Yield", "share"),
    Field("norm", "Norm", "share"),
    Field("bodies_before", "Bodies before", "count"),
    Field("lower", "Lower limit", "share"),
    Field("upper", "Upper limit", "share"),
    Field("outside", "Outside", "text"),
)


def yields_table(sheet: WeekSheet) -> DataTable:
    """Every yield of the week; the row without a cut is all that was saleable."""
    rows = [
        _yield(row, dot)
        for found in sheet.yields
        for row in (found.whole, *found.cuts)
        for dot in row.dots
    ]
    return DataTable("yields", "Yields", _YIELDS, rows)


def _yield(row: YieldRow, dot: YieldDot) -> tuple[Value, ...]:
    limits = row.limits
    return (
        row.list,
        row.name if row.cut else None,
        dot.bodies,
        dot.share,
        row.norm,
        row.before,
        None if limits is None else Decimal(limits.lower),
        None if limits is None else Decimal(limits.upper),
        "yes" if dot.outside else None,
    )


_COSTS = (
    Field("kind", "Kind", "text"),
    Field("name", "Name", "text"),
    Field("week", "Week", "text"),
    Field("cost_per_kg", "Cost/kg", "money"),
)


def costs_table(sheet: WeekSheet) -> DataTable:
    """What a kilo cost in each week that had it, of cuts and of portions' saleable kilos."""
    costs = sheet.costs
    rows: list[tuple[Value, ...]] = [
        (kind, line.name, week.name, value)
        for kind, lines in (("portion", costs.portions), ("cut", costs.cuts))
        for line in lines
        for week, value in zip(costs.weeks, line.values, strict=True)
        if value is not None
    ]
    return DataTable("cost_by_week", "Cost by week", _COSTS, rows)
