"""The weekly cost sheet: A4, this week beside last, plain and right."""

from __future__ import annotations

from collections.abc import Callable

from gambrel.domain.sheets.remarks import remarks
from gambrel.domain.sheets.week_figures import Figures as WeekFigures
from gambrel.domain.sheets.week_sheet import WeekSheet
from gambrel.domain.trade.catalogue import CutKind
from gambrel.domain.trade.formats import DASH, Formats
from gambrel.reports.cost_picture import cost_picture
from gambrel.reports.day import SHARED_BY
from gambrel.reports.flow_picture import flow_picture
from gambrel.reports.look import WIDTH, look
from gambrel.reports.pages import Beside, Block, Stack, draw_pages
from gambrel.reports.parts import Figure, Figures, Heading, Words, sheet_frame
from gambrel.reports.tables import Column, Row, Table
from gambrel.reports.week_tables import (
    body_table,
    cut_table,
    hanging_table,
    supplier_table,
    thrown_table,
    work_table,
)

_LEFT = WIDTH * 0.44
_NOTHING = "Nothing was bought, worked on or thrown away in this week."
_ALL_WELL = "Nothing stands out this week."


def draw_week(sheet: WeekSheet, formats: Formats) -> bytes:
    """Draw a week's sheet.

    Returns:
        A PDF; the same sheet gives the same bytes.
    """
    title = formats.week(sheet.week)
    side = f"{sheet.week.name}, {SHARED_BY[sheet.method]}"
    first, other = sheet_frame("Weekly cost sheet", title, sheet.shop.name, side)
    return draw_pages(
        week_blocks(sheet, formats),
        first,
        other,
        title=f"Weekly cost sheet, {sheet.week.name}",
        author=sheet.shop.name,
        subject="What was bought, what came off, what it cost and should sell for",
    )


def week_blocks(sheet: WeekSheet, formats: Formats) -> list[Block]:
    """Everything on the sheet, from top to bottom."""
    if sheet.is_empty:
        blocks: list[Block] = [Words(_NOTHING, look().body.at(11), gap=0)]
        if sheet.now.hanging:
            blocks.append(_headed("Hanging at the end of the week", hanging_table(sheet, formats)))
        return blocks
    blocks = [
        _five(sheet, formats),
        Beside(_beside_last(sheet, formats), _said(sheet, formats), _LEFT + 14, gap=14),
    ]
    if sheet.breaks:
        blocks.append(_headed("Bodies", body_table(sheet, formats)))
    if sheet.suppliers:
        blocks.append(_headed("Suppliers", supplier_table(sheet, formats)))
    if sheet.now.hanging:
        blocks.append(_headed("Hanging at the end of the week", hanging_table(sheet, formats)))
    if sheet.cuts:
        after = "weighed this week; cost, price and margin are of what is for sale"
        blocks.append(_headed("Cuts", cut_table(sheet, formats), after))
    if sheet.other:
        blocks.append(_headed("Trim-outs and blends", work_table(sheet, formats)))
    if sheet.thrown_away:
        blocks.append(_headed("Thrown away", thrown_table(sheet, formats)))
    return blocks + _pictures(sheet, formats)


def _pictures(sheet: WeekSheet, formats: Formats) -> list[Block]:
    """Where the money went, and what a kilo cost week by week."""
    found: list[Block] = []
    if (flow := flow_picture(sheet.flow, formats)) is not None:
        after = "loss and what is on the block are told by themselves, not in the cuts"
        found.append(_headed("Where the money went", flow, after))
    if (costs := cost_picture(sheet.costs, formats)) is not None:
        weeks = sheet.costs.weeks
        after = (
            f"{len(weeks)} weeks, {weeks[0].name[-3:]} to {weeks[-1].name[-3:]}; portions (what is "
            "saleable), then the cuts that cost most; the change is since the week that had it last"
        )
        found.append(_headed("Cost per kilo by week", costs, after))
    return found


def _headed(name: str, block: Block, after: str = "") -> Stack:
    return Stack([Heading(name, after), block], gap=15)


def _five(sheet: WeekSheet, formats: Formats) -> Figures:
    usual = sheet.usual
    weeks = f" ({usual.weeks} wk)" if usual.weeks else ""

    def figure(
        name: str,
        write: Callable[[WeekFigures], str],
        note: Callable[[WeekFigures], str],
        middle: str,
    ) -> Figure:
        beside = (f"last week {write(sheet.last)}", f"usual {middle}{weeks}")
        return Figure(name, write(sheet.now), "", (note(sheet.now), *beside))

    return Figures(
        (
            figure(
                "Bought",
                lambda f: formats.money(f.bought),
                lambda f: _bodies(f, formats),
                formats.money(usual.bought),
            ),
            figure(
                "Taken to the block",
                lambda f: formats.money(f.summary.taken_cost),
                lambda f: f"{formats.kg(f.summary.taken_g, 1)} kg",
                formats.money(usual.taken_cost),
            ),
            figure(
                "Came off saleable",
                lambda f: f"{formats.kg(f.summary.saleable_g, 1)} kg",
                lambda f: f"{formats.percent(f.summary.saleable_share)} of what was cut",
                DASH if usual.saleable_g is None else f"{formats.kg(usual.saleable_g, 1)} kg",
            ),
            figure(
                "Expected margin",
                lambda f: formats.money(f.summary.earning.margin),
                lambda f: f"{formats.percent(f.summary.earning.share)} of sales",
                formats.money(usual.margin),
            ),
            figure(
                "Unexplained loss",
                lambda f: formats.money(f.summary.unexplained),
                lambda f: f"{formats.kg(f.summary.unexplained_g)} kg",
                formats.money(usual.unexplained),
            ),
        ),
        gap=0,
    )


def _bodies(figures: WeekFigures, formats: Formats) -> str:
    word = "body" if figures.bought_count == 1 else "bodies"
    return f"{figures.bought_count} {word}, {formats.kg(figures.bought_g, 1)} kg"


def _beside_last(sheet: WeekSheet, formats: Formats) -> Stack:
    """The rest of the week's figures in a small table beside last week's."""
    lines: list[tuple[str, Callable[[WeekFigures], str]]] = [
        ("Bodies bought", lambda f: str(f.bought_count)),
        ("Bodies worked", lambda f: str(f.summary.bodies)),
        ("Bodies hanging", lambda f: str(len(f.hanging))),
        ("Hanging, kg", lambda f: formats.kg(f.hanging_g)),
        ("Money on the rail", lambda f: formats.money(f.hanging_cost)),
        ("Dried on the rail, kg", lambda f: formats.kg(f.dried_g)),
        ("Tray, kg", lambda f: formats.kg(f.summary.came_off[CutKind.TRAY])),
        ("Trim, kg", lambda f: formats.kg(f.summary.came_off[CutKind.TRIM])),
        ("By-product and waste, kg", lambda f: formats.kg(_not_saleable(f))),
        ("Still on the block, kg", lambda f: formats.kg(f.summary.on_block_g)),
        ("Work", lambda f: formats.money(f.summary.work)),
        ("Expected sales", lambda f: formats.money(f.summary.earning.net_sales)),
        ("Thrown away", lambda f: formats.money(f.written_off)),
    ]
    rows = [Row((name, write(sheet.now), write(sheet.last))) for name, write in lines]
    columns = (Column("", 24, "left"), Column("This week", 16), Column("Last week", 16))
    table = Table(columns, rows, row=12.6, size=8, width=_LEFT, gap=2)
    return Stack([Heading("Beside last week", width=_LEFT), table])


def _not_saleable(figures: WeekFigures) -> int:
    came_off = figures.summary.came_off
    return came_off[CutKind.BYPRODUCT] + came_off[CutKind.WASTE]


def _said(sheet: WeekSheet, formats: Formats) -> Stack:
    """The exceptions, sentence by sentence."""
    width = WIDTH - _LEFT - 14
    face = look().body.at(8.5)
    told = remarks(sheet, formats) or [_ALL_WELL]
    words: list[Block] = [Words(sentence, face, gap=4, width=width) for sentence in told]
    return Stack([Heading("What to look at", width=width), *words])
