"""The weekly cost sheet as tables of plain values, for spreadsheets and for programs."""

from __future__ import annotations

from decimal import Decimal

from gambrel.domain.numbers.money import per_kilo
from gambrel.domain.sheets.cut_rows import earning
from gambrel.domain.sheets.remarks import called, remarks
from gambrel.domain.sheets.sections import Section
from gambrel.domain.sheets.week_figures import Figures
from gambrel.domain.sheets.week_sheet import CutLine, SupplierLine, WeekSheet
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.formats import Formats
from gambrel.reports.data_table import DataTable, Field, Value
from gambrel.reports.picture_data import costs_table, flow_table, usual_table, yields_table


def week_data(sheet: WeekSheet, formats: Formats) -> list[DataTable]:
    """Every table of the sheet, the week's figures first."""
    return [
        _figures(sheet),
        _cuts(sheet),
        _bodies(sheet),
        _suppliers(sheet),
        _work(sheet),
        _hanging(sheet),
        _thrown_away(sheet),
        usual_table(sheet),
        flow_table(sheet),
        yields_table(sheet),
        costs_table(sheet),
        DataTable(
            "remarks",
            "What to look at",
            (Field("remark", "What to look at", "text"),),
            [(sentence,) for sentence in remarks(sheet, formats)],
        ),
    ]


_FIGURES = (
    Field("week", "Week", "text"),
    Field("first_day", "First day", "date"),
    Field("bodies_bought", "Bodies bought", "count"),
    Field("bought_kg", "Bought kg", "kg"),
    Field("bought", "Bought", "money"),
    Field("bodies_worked", "Bodies worked", "count"),
    Field("taken_kg", "Taken to the block kg", "kg"),
    Field("taken", "Taken to the block", "money"),
    Field("saleable_kg", "Came off saleable kg", "kg"),
    Field("saleable_share", "Saleable", "share"),
    Field("work", "Work", "money"),
    Field("expected_sales", "Expected sales", "money"),
    Field("expected_sales_before_tax", "Expected sales before tax", "money"),
    Field("cost_of_sales", "Cost of what is for sale", "money"),
    Field("expected_margin", "Expected margin", "money"),
    Field("margin_share", "Margin", "share"),
    Field("unexplained_kg", "Unexplained kg", "kg"),
    Field("unexplained", "Unexplained loss", "money"),
    Field("bodies_hanging", "Bodies hanging", "count"),
    Field("hanging_kg", "Hanging kg", "kg"),
    Field("hanging", "Money on the rail", "money"),
    Field("dried_kg", "Dried on the rail kg", "kg"),
    Field("thrown_away", "Thrown away", "money"),
)


def _figures(sheet: WeekSheet) -> DataTable:
    rows = [
        (sheet.week.name, sheet.week.first, *_figure_row(sheet.now)),
        (sheet.before.name, sheet.before.first, *_figure_row(sheet.last)),
    ]
    return DataTable("week", "Week beside last week", _FIGURES, rows)


def _figure_row(figures: Figures) -> tuple[Value, ...]:
    found, earned = figures.summary, figures.summary.earning
    return (
        figures.bought_count,
        figures.bought_g,
        figures.bought,
        found.bodies,
        found.taken_g,
        found.taken_cost,
        found.saleable_g,
        found.saleable_share,
        found.work,
        earned.sales,
        earned.net_sales,
        earned.cost,
        earned.margin,
        earned.share,
        found.unexplained_g,
        found.unexplained,
        len(figures.hanging),
        figures.hanging_g,
        figures.hanging_cost,
        figures.dried_g,
        figures.written_off,
    )


_CUTS = (
    Field("cut", "Key", "text"),
    Field("name", "Cut", "text"),
    Field("species", "Species", "text"),
    Field("kind", "Kind", "text"),
    Field("weighed_kg", "Weighed kg", "kg"),
    Field("for_sale_kg", "For sale kg", "kg"),
    Field("cost", "Cost", "money"),
    Field("cost_per_kg", "Cost per kg", "money"),
    Field("last_week_cost_per_kg", "Last week's cost per kg", "money"),
    Field("price_per_kg", "Price per kg", "money"),
    Field("margin_share", "Margin", "share"),
    Field("expected_sales", "Expected sales", "money"),
    Field("expected_sales_before_tax", "Expected sales before tax", "money"),
    Field("credit", "By-product credit", "money"),
)


def _cuts(sheet: WeekSheet) -> DataTable:
    return DataTable("cuts", "Cuts", _CUTS, [_cut_row(line) for line in sheet.cuts])


def _cut_row(line: CutLine) -> tuple[Value, ...]:
    row, cut = line.row, line.row.cut
    return (
        cut.key,
        cut.name,
        cut.species,
        cut.kind.value,
        row.net_g,
        row.rest_g if cut.kind.bears_cost else None,
        row.rest_cost,
        row.cost_per_kilo,
        line.last_cost_per_kilo,
        row.price,
        row.margin,
        row.sales,
        row.net_sales,
        row.credit,
    )


_BODIES = (
    Field("stage", "Stage", "text"),
    Field("bodies", "Bodies", "text"),
    Field("suppliers", "Suppliers", "text"),
    Field("list", "Cut as", "text"),
    Field("person", "Person", "text"),
    Field("minutes", "Minutes", "count"),
    Field("input_kg", "In kg", "kg"),
    Field("input_cost", "Cost in", "money"),
    Field("work", "Work", "money"),
    Field("came_off_kg", "Came off kg", "kg"),
    Field("saleable_kg", "Saleable kg", "kg"),
    Field("saleable_share", "Saleable", "share"),
    Field("cost_per_kg", "Cost per kg saleable", "money"),
    Field("margin_share", "Margin", "share"),
    Field("on_block_kg", "Still on the block kg", "kg"),
    Field("unexplained_kg", "Unexplained kg", "kg"),
    Field("unexplained", "Unexplained loss", "money"),
)


def _bodies(sheet: WeekSheet) -> DataTable:
    return DataTable("bodies", "Bodies", _BODIES, [_body_row(sheet, row) for row in sheet.breaks])


def _body_row(sheet: WeekSheet, section: Section) -> tuple[Value, ...]:
    balance, stage = section.balance, section.stage
    bodies = [cost.body for cost in section.bodies]
    names = dict.fromkeys(sheet.supplier_names.get(b.supplier, b.supplier) for b in bodies)
    earned, grams = earning(section.rows), section.saleable_g
    return (
        stage.key,
        " + ".join(body.key for body in bodies),
        ", ".join(names),
        stage.list,
        stage.person,
        stage.minutes,
        balance.input_g,
        section.input_cost,
        section.work,
        balance.here_g,
        grams,
        Decimal(grams) / balance.input_g if balance.input_g else None,
        per_kilo(section.saleable_cost, grams) if grams else None,
        earned.share if earned.sales else None,
        balance.on_block_g,
        balance.unexplained_g,
        balance.unexplained,
    )


_SUPPLIERS = (
    Field("supplier", "Supplier", "text"),
    Field("bodies_bought", "Bodies bought", "count"),
    Field("bought_kg", "Bought kg", "kg"),
    Field("bought", "Bought for", "money"),
    Field("under_docket_kg", "Under docket kg", "kg"),
    Field("taken_kg", "Taken to the block kg", "kg"),
    Field("saleable_kg", "Saleable kg", "kg"),
    Field("saleable_cost", "Cost of saleable", "money"),
    Field("unexplained_kg", "Unexplained kg", "kg"),
    Field("unexplained", "Unexplained loss", "money"),
)


def _suppliers(sheet: WeekSheet) -> DataTable:
    rows = [_supplier_row(line) for line in sheet.suppliers]
    return DataTable("suppliers", "Suppliers", _SUPPLIERS, rows)


def _supplier_row(line: SupplierLine) -> tuple[Value, ...]:
    return (
        line.name,
        line.bought_count,
        line.bought_g,
        line.bought,
        line.short_g,
        line.taken_g,
        line.saleable_g,
        line.saleable_cost,
        line.unexplained_g,
        line.unexplained,
    )


_WORK = (
    Field("stage", "Stage", "text"),
    Field("kind", "Kind", "text"),
    Field("about", "Work", "text"),
    Field("person", "Person", "text"),
    Field("minutes", "Minutes", "count"),
    Field("input_kg", "In kg", "kg"),
    Field("output_kg", "Out kg", "kg"),
    Field("input_cost", "Cost in", "money"),
    Field("cost_per_kg", "Cost per kg", "money"),
    Field("unexplained_kg", "Unexplained kg", "kg"),
    Field("unexplained", "Unexplained loss", "money"),
)


def _work(sheet: WeekSheet) -> DataTable:
    rows = []
    for section in sheet.other:
        grams = section.saleable_g
        rows.append(
            (
                section.stage.key,
                section.stage.kind.value,
                called(section),
                section.stage.person,
                section.stage.minutes,
                section.balance.input_g,
                section.balance.here_g,
                section.input_cost,
                per_kilo(section.saleable_cost, grams) if grams else None,
                section.balance.unexplained_g,
                section.balance.unexplained,
            )
        )
    return DataTable("work", "Trim-outs and blends", _WORK, rows)


_HANGING = (
    Field("body", "Body", "text"),
    Field("portion", "Portion", "text"),
    Field("species", "Species", "text"),
    Field("supplier", "Supplier", "text"),
    Field("received_on", "Came", "date"),
    Field("left_kg", "Weighs kg", "kg"),
    Field("left_cost", "Money in it", "money"),
)


def _hanging(sheet: WeekSheet) -> DataTable:
    rows = [
        (
            row.body.key,
            row.body.portion,
            row.body.species,
            sheet.supplier_names.get(row.body.supplier, row.body.supplier),
            business_day(row.body.received_at, sheet.shop),
            row.left_g,
            row.left_cost,
        )
        for row in sheet.now.hanging
    ]
    return DataTable("hanging", "Hanging at the end", _HANGING, rows)


_THROWN = (
    Field("day", "Day", "date"),
    Field("piece", "Piece", "text"),
    Field("cut", "Cut", "text"),
    Field("reason", "Why", "text"),
    Field("kg", "kg", "kg"),
    Field("cost", "Cost", "money"),
)


def _thrown_away(sheet: WeekSheet) -> DataTable:
    rows = [
        (business_day(row.at, sheet.shop), row.piece, row.cut, row.reason, row.grams, row.cost)
        for row in sheet.thrown_away
    ]
    return DataTable("thrown_away", "Thrown away", _THROWN, rows)
