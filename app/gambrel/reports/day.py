"""The daily breakdown sheet: A4, one body at a glance, made to be pinned up."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from gambrel.domain.costing.methods import Method
from gambrel.domain.sheets.day_sheet import DaySheet
from gambrel.domain.sheets.sections import Section
from gambrel.domain.trade.formats import Formats
from gambrel.domain.trade.records import StageKind
from gambrel.reports.body_head import body_head
from gambrel.reports.body_picture import SplitBar
from gambrel.reports.fonts import register_fonts
from gambrel.reports.look import A4, MARGIN, WIDTH, look
from gambrel.reports.pages import Beside, Block, Fresh, Stack, draw_pages
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
from gambrel.reports.yield_picture import LEAST, TOLD, yield_picture

_GAP = 20.0
_ROOM, _TITLE = A4[1] - 2 * MARGIN - 31, 34
"""Points between head and foot of a page (see ``parts.sheet_frame``), and what the first page's
title takes of them."""

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
    register_fonts()
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


def day_blocks(sheet: DaySheet, formats: Formats) -> list[Block | Fresh]:
    """Everything on the sheet, from top to bottom."""
    if sheet.is_empty:
        return [Words(_NOTHING, look().body.at(11), gap=0)]
    totals = _totals(sheet, formats)
    blocks: list[Block | Fresh] = [totals]
    # The first body shares its page with the day's figures; every other has one of its own.
    for n, section in enumerate(sheet.breaks):
        body = _body(sheet, section, formats, _TITLE + totals.height + _GAP if n == 0 else 0)
        blocks.append(Fresh(body) if n else body)
    if sheet.other:
        works = [_work(sheet, section, formats) for section in sheet.other]
        first = Stack([Heading("Trim-outs and blends"), works[0]], gap=18)
        blocks.append(Fresh(first) if sheet.breaks else first)
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


def _body(sheet: DaySheet, section: Section, formats: Formats, above: float) -> Stack:
    """One body at a glance; its map takes the height that the rest leaves of a page."""
    shown = look()
    head = body_head(sheet, section, formats)
    rest: list[Block] = [
        SplitBar(split_parts(section, formats)),
        cut_table(section, formats),
        verdict(section, formats),
        Words(money_line(section, formats), shown.note),
    ]
    if section.missing:
        names = ", ".join(section.missing)
        rest.append(Words(f"On the list and not weighed: {names}.", shown.note))
    return Stack([head, *_picture(section, formats, [head, *rest], above), *rest], gap=_GAP)


def _picture(section: Section, formats: Formats, others: list[Block], above: float) -> list[Block]:
    """The map and what its colours mean, where there is a drawing and room for it."""
    picture = yield_picture(section, formats)
    if picture is None:
        return []
    told = Words(TOLD, look().note, gap=4)
    used = above + sum(block.gap + block.height for block in (*others, told))
    room = _ROOM - used - picture.gap
    if room < LEAST:
        return []
    return [replace(picture, room=room), told]


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
