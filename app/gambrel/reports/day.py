"""The daily breakdown sheet: A4, one body at a glance, made to be pinned up."""

from __future__ import annotations

from decimal import Decimal

from gambrel.domain.costing.methods import Method
from gambrel.domain.sheets.day_sheet import DaySheet
from gambrel.domain.sheets.sections import Section
from gambrel.domain.trade.formats import Formats
from gambrel.domain.trade.records import StageKind
from gambrel.reports.body_head import body_head
from gambrel.reports.body_picture import SplitBar
from gambrel.reports.look import WIDTH, look
from gambrel.reports.pages import Beside, Block, Stack, draw_pages
from gambrel.reports.parts import Figure, Figures, Heading, Words, sheet_frame
from gambrel.reports.section_text import (
    cut_table,
    in_table,
    money_line,
    out_table,
    split_parts,
    verdict,
)
from gambrel.reports.tables import Column, Row, Table

SHARED_BY = {
    Method.WEIGHT: "cost shared by weight",
    Method.SALES_VALUE: "cost shared by sales value",
    Method.NRV: "cost shared by net realisable value",
    Method.CONSTANT_MARGIN: "cost shared at one margin for all",
}
_KINDS = {StageKind.BREAK: "Break", StageKind.TRIMOUT: "Trim-out", StageKind.BLEND: "Blend"}
_NOTHING = (
    "Nothing was received, broken, trimmed, blended, taken back or thrown away "
    "on this business day."
)


def draw_day(sheet: DaySheet, formats: Formats) -> bytes:
    """Draw a day's sheet.

    Returns:
        A PDF; the same sheet gives the same bytes.
    """
    title = formats.day(sheet.day)
    first, other = sheet_frame("Daily breakdown", title, sheet.shop.name, SHARED_BY[sheet.method])
    return draw_pages(
        day_blocks(sheet, formats),
        first,
        other,
        title=f"Daily breakdown, {title}",
        author=sheet.shop.name,
        subject="What each body cost and weighed, and what came off it",
    )


def day_blocks(sheet: DaySheet, formats: Formats) -> list[Block]:
    """Everything on the sheet, from top to bottom."""
    if sheet.is_empty:
        return [Words(_NOTHING, look().body.at(11), gap=0)]
    blocks: list[Block] = [_totals(sheet, formats)]
    blocks.extend(_body(sheet, section, formats) for section in sheet.breaks)
    if sheet.other:
        works = [_work(sheet, section, formats) for section in sheet.other]
        blocks.append(Stack([Heading("Trim-outs and blends"), works[0]], gap=18))
        blocks.extend(works[1:])
    blocks.extend(_lists(sheet, formats))
    return blocks


def _totals(sheet: DaySheet, formats: Formats) -> Figures:
    found = sheet.summary
    count = f"{found.bodies} {'body' if found.bodies == 1 else 'bodies'}"
    left = f"{formats.kg(found.on_block_g)} kg on the block" if found.on_block_g else ""
    return Figures(
        (
            Figure(
                "Taken to the block",
                formats.kg(found.taken_g),
                "kg",
                (f"{count}, {formats.money(found.taken_cost)}", left),
            ),
            Figure(
                "Came off saleable",
                formats.kg(found.saleable_g),
                "kg",
                (f"{formats.percent(found.saleable_share)} of what was cut",),
            ),
            Figure(
                "Work",
                formats.money(found.work),
                "",
                (formats.minutes(_minutes(sheet)),),
            ),
            Figure(
                "Expected margin",
                formats.money(found.earning.margin),
                "",
                (
                    (
                        f"{formats.percent(found.earning.share)} of "
                        f"{formats.money(found.earning.net_sales)} sales"
                    ),
                ),
            ),
            Figure(
                "Unexplained",
                formats.money(found.unexplained),
                "",
                (f"{formats.kg(found.unexplained_g)} kg",),
            ),
        ),
        gap=0,
    )


def _minutes(sheet: DaySheet) -> Decimal:
    started = (section for section in (*sheet.breaks, *sheet.other) if section.started)
    return sum((section.stage.minutes for section in started), Decimal(0))


def _body(sheet: DaySheet, section: Section, formats: Formats) -> Stack:
    shown = look()
    blocks: list[Block] = [
        body_head(sheet, section, formats),
        SplitBar(split_parts(section, formats)),
        cut_table(section, formats),
        verdict(section, formats),
        Words(money_line(section, formats), shown.note),
    ]
    if section.missing:
        names = ", ".join(section.missing)
        blocks.append(Words(f"On the list and not weighed: {names}.", shown.note))
    return Stack(blocks, gap=20)


def _work(sheet: DaySheet, section: Section, formats: Formats) -> Stack:
    shown, stage = look(), section.stage
    half = WIDTH * 0.44
    started = formats.time(stage.started_at, sheet.shop)
    head = (
        f"{_KINDS[stage.kind]} {stage.key} \N{MIDDLE DOT} {stage.person} from {started}, "
        f"{formats.minutes(stage.minutes)}"
    )
    return Stack(
        [
            Words(head, shown.strong.at(9)),
            Beside(
                in_table(section, formats, half - 14),
                out_table(section, formats, WIDTH - half),
                half,
                gap=2,
            ),
            verdict(section, formats),
            Words(money_line(section, formats), shown.note),
        ],
        gap=12,
    )


def _lists(sheet: DaySheet, formats: Formats) -> list[Block]:
    found = [_received(sheet, formats), _thrown_away(sheet, formats), _taken_back(sheet, formats)]
    return [stack for stack in found if stack is not None]


def _received(sheet: DaySheet, formats: Formats) -> Stack | None:
    rows = [
        Row(
            (
                row.body.key,
                row.body.portion,
                row.supplier,
                formats.kg(row.body.docket_g),
                formats.kg(row.body.received_g),
                formats.per_kilo(row.body.price),
                formats.money(row.body.bought),
            )
        )
        for row in sheet.arrivals
    ]
    columns = (
        Column("Body", 14, "left"),
        Column("Portion", 16, "left"),
        Column("Supplier", 30, "left"),
        Column("Docket kg", 12),
        Column("Scale kg", 12),
        Column("Price / kg", 12),
        Column("Cost", 14),
    )
    return _list("Came in", columns, rows)


def _thrown_away(sheet: DaySheet, formats: Formats) -> Stack | None:
    rows = [
        Row(
            (
                formats.time(row.at, sheet.shop),
                f"{row.cut}, {row.piece}",
                row.reason,
                formats.kg(row.grams),
                formats.money(row.cost),
            )
        )
        for row in sheet.thrown_away
    ]
    columns = (
        Column("At", 8, "left"),
        Column("Piece", 30, "left"),
        Column("Why", 44, "left"),
        Column("kg", 12),
        Column("Cost", 14),
    )
    return _list("Thrown away", columns, rows)


def _taken_back(sheet: DaySheet, formats: Formats) -> Stack | None:
    rows = [
        Row(
            (
                formats.time(row.at, sheet.shop),
                f"{row.cut}, {row.piece}",
                row.reason,
                row.person,
                formats.kg(row.net_g),
            )
        )
        for row in sheet.taken_back
    ]
    columns = (
        Column("At", 8, "left"),
        Column("Weighing", 30, "left"),
        Column("Why", 44, "left"),
        Column("Who", 14, "left"),
        Column("kg", 12),
    )
    return _list("Weighings taken back", columns, rows)


def _list(name: str, columns: tuple[Column, ...], rows: list[Row]) -> Stack | None:
    return Stack([Heading(name), Table(columns, rows, gap=2)], gap=16) if rows else None
