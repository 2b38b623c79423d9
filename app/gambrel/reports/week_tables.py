"""The tables of the weekly cost sheet."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal
from itertools import groupby

from gambrel.domain.numbers.money import per_kilo
from gambrel.domain.sheets.cut_rows import CutRow, Earning, earning
from gambrel.domain.sheets.remarks import called
from gambrel.domain.sheets.sections import Section
from gambrel.domain.sheets.week_sheet import CutLine, SupplierLine, WeekSheet
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.formats import DASH, Formats
from gambrel.reports.section_text import cut_note
from gambrel.reports.tables import Column, Row, Table


def _table(columns: tuple[Column, ...], rows: list[Row]) -> Table:
    return Table(columns, rows, row=12.2, size=8.0, gap=2)


def _rate(cost: int, grams: int, formats: Formats) -> str:
    return formats.per_kilo(per_kilo(cost, grams)) if grams else DASH


def _share(part: int, whole: int, formats: Formats) -> str:
    return formats.percent(Decimal(part) / whole if whole else None)


def _margin(earned: Earning, formats: Formats) -> str:
    return formats.percent(earned.share if earned.sales else None)


def _each(words: Iterable[str]) -> str:
    return ", ".join(dict.fromkeys(words))


def body_table(sheet: WeekSheet, formats: Formats) -> Table:
    """Every body that was worked on: what it yielded, cost and lost."""
    columns = (
        Column("Body", 15, "left"),
        Column("Supplier", 25, "left"),
        Column("Cut as", 33, "left"),
        Column("In kg", 12),
        Column("In / kg", 11),
        Column("Saleable", 11),
        Column("Cost / kg", 12),
        Column("Margin", 11),
        Column("Unexplained", 15),
        Column("Loss", 11),
    )
    rows = [_body_row(sheet, section, formats) for section in sheet.breaks]
    if len(rows) > 1:
        rows.append(_body_total(sheet.breaks, formats))
    return _table(columns, rows)


def _body_row(sheet: WeekSheet, section: Section, formats: Formats) -> Row:
    balance = section.balance
    bodies = [cost.body for cost in section.bodies]
    names = sheet.supplier_names
    return Row(
        (
            " + ".join(body.key for body in bodies),
            _each(names.get(body.supplier, body.supplier) for body in bodies),
            section.stage.list or _each(body.portion for body in bodies),
            formats.kg(balance.input_g),
            _rate(section.input_cost, balance.input_g, formats),
            _share(section.saleable_g, balance.input_g, formats),
            _rate(section.saleable_cost, section.saleable_g, formats),
            _margin(earning(section.rows), formats),
            "still open" if balance.open else formats.grams(balance.unexplained_g),
            DASH if balance.open else formats.money(balance.unexplained),
        )
    )


def _body_total(breaks: Sequence[Section], formats: Formats) -> Row:
    grams = sum(section.balance.input_g for section in breaks)
    cost = sum(section.input_cost for section in breaks)
    saleable_g = sum(section.saleable_g for section in breaks)
    saleable_cost = sum(section.saleable_cost for section in breaks)
    return Row(
        (
            "Together",
            "",
            "",
            formats.kg(grams),
            _rate(cost, grams, formats),
            _share(saleable_g, grams, formats),
            _rate(saleable_cost, saleable_g, formats),
            _margin(earning(row for section in breaks for row in section.rows), formats),
            formats.grams(sum(section.balance.unexplained_g for section in breaks)),
            formats.money(sum(section.balance.unexplained for section in breaks)),
        ),
        "strong",
    )


def supplier_table(sheet: WeekSheet, formats: Formats) -> Table:
    """What each supplier's bodies weighed, yielded and lost."""
    columns = (
        Column("Supplier", 30, "left"),
        Column("Bodies", 9),
        Column("Bought kg", 14),
        Column("Bought for", 15),
        Column("Under docket", 14),
        Column("Cut kg", 14),
        Column("Saleable", 12),
        Column("Cost / kg", 13),
        Column("Unexplained", 15),
        Column("Loss", 13),
    )
    return _table(columns, [_supplier_row(line, formats) for line in sheet.suppliers])


def _supplier_row(line: SupplierLine, formats: Formats) -> Row:
    return Row(
        (
            line.name,
            str(line.bought_count) if line.bought_count else DASH,
            formats.kg(line.bought_g or None),
            formats.money(line.bought or None),
            formats.grams(line.short_g) if line.bought_count else DASH,
            formats.kg(line.taken_g or None),
            _share(line.saleable_g, line.taken_g, formats),
            _rate(line.saleable_cost, line.saleable_g, formats),
            formats.grams(line.unexplained_g) if line.taken_g else DASH,
            formats.money(line.unexplained) if line.taken_g else DASH,
        )
    )


def work_table(sheet: WeekSheet, formats: Formats) -> Table:
    """Trim-outs and blends: what went in, what came out at what cost."""
    columns = (
        Column("Work", 44, "left"),
        Column("Made", 38, "left"),
        Column("In kg", 12),
        Column("Out kg", 12),
        Column("Cost / kg", 13),
        Column("Margin", 12),
        Column("Unexplained", 15),
    )
    return _table(columns, [_work_row(section, formats) for section in sheet.other])


def _work_row(section: Section, formats: Formats) -> Row:
    balance = section.balance
    made = [row.cut.name for row in section.rows if row.cut.kind.bears_cost]
    name = called(section)
    return Row(
        (
            name[:1].upper() + name[1:],
            _each(made) or DASH,
            formats.kg(balance.input_g),
            formats.kg(balance.here_g),
            _rate(section.saleable_cost, section.saleable_g, formats),
            _margin(earning(section.rows), formats),
            "still open" if balance.open else formats.grams(balance.unexplained_g),
        )
    )


def hanging_table(sheet: WeekSheet, formats: Formats) -> Table:
    """What hangs when the week is over, oldest first."""
    columns = (
        Column("Body", 18, "left"),
        Column("Portion", 26, "left"),
        Column("Supplier", 36, "left"),
        Column("Came", 14, "left"),
        Column("Days", 8),
        Column("Weighs kg", 16),
        Column("Money in it", 16),
        Column("So far / kg", 14),
    )
    rows = []
    for hanging in sheet.now.hanging:
        body = hanging.body
        came = business_day(body.received_at, sheet.shop)
        rows.append(
            Row(
                (
                    body.key,
                    f"{body.portion}, {body.species}",
                    sheet.supplier_names.get(body.supplier, body.supplier),
                    formats.short_day(came),
                    str((sheet.week.last - came).days),
                    formats.kg(hanging.left_g),
                    formats.money(hanging.left_cost),
                    _rate(hanging.left_cost, hanging.left_g, formats),
                )
            )
        )
    return _table(columns, rows)


def thrown_table(sheet: WeekSheet, formats: Formats) -> Table:
    """Write-offs with their part of the pieces' cost."""
    columns = (
        Column("Day", 14, "left"),
        Column("Piece", 40, "left"),
        Column("Why", 60, "left"),
        Column("kg", 14),
        Column("Cost", 14),
    )
    rows = [
        Row(
            (
                formats.short_day(business_day(row.at, sheet.shop)),
                f"{row.cut}, {row.piece}",
                row.reason or DASH,
                formats.kg(row.grams),
                formats.money(row.cost),
            )
        )
        for row in sheet.thrown_away
    ]
    if len(rows) > 1:
        grams = formats.kg(sum(row.grams for row in sheet.thrown_away))
        rows.append(
            Row(("Together", "", "", grams, formats.money(sheet.now.written_off)), "strong")
        )
    return _table(columns, rows)


def _species(line: CutLine) -> str:
    return line.row.cut.species


def cut_table(sheet: WeekSheet, formats: Formats) -> Table:
    """Every cut that was weighed this week, by species."""
    columns = (
        Column("Cut", 44, "left"),
        Column("Weighed kg", 14),
        Column("For sale kg", 14),
        Column("Cost / kg", 12),
        Column("Last week", 12),
        Column("Price / kg", 12),
        Column("Margin", 11),
        Column("Sells for", 15),
        Column("Leaves", 14),
    )
    rows: list[Row] = []
    by_species = sorted(sheet.cuts, key=_species)
    for species, lines in groupby(by_species, _species):
        found = list(lines)
        rows.append(Row((species.capitalize(),), "group"))
        rows.extend(_cut_row(line, formats) for line in found if line.row.cut.kind.bears_cost)
        rows.extend(_rest_row([line.row for line in found], formats))
    rows.append(_cut_total(sheet, formats))
    return _table(columns, rows)


def _cut_row(line: CutLine, formats: Formats) -> Row:
    row = line.row
    left = None if row.net_sales is None else row.net_sales - row.rest_cost
    return Row(
        (
            row.cut.name,
            formats.kg(row.net_g),
            formats.kg(row.rest_g),
            formats.per_kilo(row.cost_per_kilo),
            formats.per_kilo(line.last_cost_per_kilo),
            formats.per_kilo(row.price),
            formats.percent(row.margin),
            formats.money(row.sales),
            formats.money(left),
        ),
        note=cut_note(row, formats),
    )


def _rest_row(rows: list[CutRow], formats: Formats) -> list[Row]:
    """A species' bone, fat and waste in one line; the spreadsheet has them one by one."""
    rest = [row for row in rows if not row.cut.kind.bears_cost]
    if not rest:
        return []
    credit = sum(row.credit for row in rest)
    brought = f"brought {formats.money(credit)}" if credit >= 0 else _disposal(credit, formats)
    cells = ("By-products and waste", formats.kg(sum(row.net_g for row in rest)), *[DASH] * 7)
    return [Row(cells, "soft", brought if credit else "")]


def _disposal(credit: int, formats: Formats) -> str:
    return f"cost {formats.money(-credit)} to be rid of"


def _cut_total(sheet: WeekSheet, formats: Formats) -> Row:
    rows = [line.row for line in sheet.cuts if line.row.cut.kind.bears_cost]
    earned = sheet.now.summary.earning
    rest_g = sum(row.rest_g for row in rows)
    cost = sum(row.rest_cost for row in rows)
    return Row(
        (
            "Together",
            "",
            formats.kg(rest_g),
            _rate(cost, rest_g, formats),
            "",
            "",
            _margin(earned, formats),
            formats.money(earned.sales),
            formats.money(earned.margin),
        ),
        "strong",
    )
