"""One stage's figures as words: the rows of its tables, its balance, its money."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from reportlab.lib.colors import HexColor

from gambrel.domain.numbers.money import per_kilo
from gambrel.domain.sheets.cut_rows import CutRow, Earning, earning
from gambrel.domain.sheets.sections import Balance, Section, WentIn
from gambrel.domain.trade.catalogue import CutKind
from gambrel.domain.trade.formats import DASH, Formats
from gambrel.reports.body_picture import Part
from gambrel.reports.look import look
from gambrel.reports.parts import Verdict
from gambrel.reports.pen import Pen
from gambrel.reports.tables import Column, Row, Table

CUT_COLUMNS = (
    Column("Cut", 35, "left"),
    Column("kg", 11),
    Column("Yield beside norm", 18, "left"),
    Column("Yield", 10),
    Column("Norm", 10),
    Column("Cost / kg", 12),
    Column("Price / kg", 12),
    Column("Margin", 10),
    Column("Sells for", 14),
)


def cut_table(section: Section, formats: Formats) -> Table:
    """What came off a body, in the order of the work, and what it comes to."""
    zero = Decimal(0)
    longest = max((max(row.share or zero, row.norm or zero) for row in section.rows), default=zero)
    off = section.off_norm()
    rows = [_cut_row(row, longest, formats, off=row in off) for row in section.rows]
    rows.append(_total_row(section, formats))
    return Table(CUT_COLUMNS, rows)


def _cut_row(row: CutRow, longest: Decimal, formats: Formats, *, off: bool) -> Row:
    return Row(
        (
            row.cut.name,
            formats.kg(row.net_g),
            lambda pen, x, y, width, height: _yield_bar(pen, row, longest, x, y, width, height),
            formats.percent(row.share),
            formats.percent(row.norm),
            formats.per_kilo(row.cost_per_kilo),
            formats.per_kilo(row.price),
            formats.percent(row.margin),
            formats.money(row.sales),
        ),
        "plain" if row.cut.kind.bears_cost else "soft",
        cut_note(row, formats, off=off),
    )


def cut_note(row: CutRow, formats: Formats, *, off: bool = False) -> str:
    """What else is to be said of a cut: how much went on, what a by-product brought or cost."""
    notes = []
    if off:
        notes.append("far under norm" if (row.share or 0) < (row.norm or 0) else "far over norm")
    if row.went_on_g:
        whole = row.went_on_g == row.net_g
        notes.append("went on" if whole else f"{formats.kg(row.went_on_g)} kg went on")
    if row.credit > 0:
        notes.append(f"brought {formats.money(row.credit)}")
    elif row.credit < 0:
        notes.append(f"cost {formats.money(-row.credit)} to be rid of")
    return ", ".join(notes)


def _yield_bar(
    pen: Pen, row: CutRow, longest: Decimal, x: float, y: float, width: float, height: float
) -> None:
    """The yield as a bar, the norm as a tick over it."""
    shown = look()
    if not longest or row.share is None:
        return
    thick, top = 4.6, y + height / 2 - 2.3
    colour = HexColor(shown.kind(row.cut.kind).fill)
    pen.box(x, top, max(float(row.share / longest) * width, 0.5), thick, fill=colour)
    if row.norm is not None:
        at = x + float(row.norm / longest) * width
        pen.stem(at, top - 2, thick + 4, shown.ink, 1.1)


def _total_row(section: Section, formats: Formats) -> Row:
    earned = earning(section.rows)
    share = Decimal(section.balance.here_g) / (section.balance.input_g or 1)
    grams = section.saleable_g
    cost = per_kilo(section.saleable_cost, grams) if grams else None
    return Row(
        (
            "Together",
            formats.kg(section.balance.here_g),
            "",
            formats.percent(share),
            "",
            formats.per_kilo(cost),
            "",
            formats.percent(earned.share),
            formats.money(earned.sales if _any_sold(section.rows) else None),
        ),
        "strong",
        "cost / kg of tray and trim",
    )


def _any_sold(rows: Sequence[CutRow]) -> bool:
    return any(row.sales is not None for row in rows)


def split_parts(section: Section, formats: Formats) -> list[Part]:
    """What became of a body's weight, for the bar."""
    balance, shown = section.balance, look()
    rest = [
        ("Tray", section.grams(CutKind.TRAY), shown.kind(CutKind.TRAY).fill),
        ("Trim", section.grams(CutKind.TRIM), shown.kind(CutKind.TRIM).fill),
        ("By-product", section.grams(CutKind.BYPRODUCT), shown.kind(CutKind.BYPRODUCT).fill),
        ("Waste", section.grams(CutKind.WASTE), shown.kind(CutKind.WASTE).fill),
        ("Other days", balance.before_g, shown.theme.chosen),
        ("On the block", balance.on_block_g, shown.theme.card),
        ("Unexplained", max(balance.unexplained_g, 0), shown.theme.kinds.loss.fill),
    ]
    whole = balance.input_g or 1
    always = ("Tray", "Trim", "By-product", "Waste")
    return [
        Part(
            name,
            formats.kg(grams, 1),
            formats.percent(Decimal(grams) / whole),
            Decimal(grams) / whole,
            fill,
        )
        for name, grams, fill in rest
        if grams or name in always
    ]


def verdict(section: Section, formats: Formats) -> Verdict:
    """How a stage's balance stands, as a mark, a word and a sentence."""
    balance = section.balance
    before = f" + {formats.kg(balance.before_g)} on other days" if balance.before_g else ""
    sums = f"{formats.kg(balance.input_g)} kg in, {formats.kg(balance.here_g)}{before} out"
    if balance.open and balance.over_g:
        over = formats.kg(balance.over_g)
        sentence = f"{sums}: {over} kg more than went in, and still open"
        return Verdict("watch", "Look again", sentence)
    if balance.open:
        left = formats.kg(balance.on_block_g)
        return Verdict("open", "Still on the block", f"{sums}, {left} kg still to weigh")
    return _closed(balance, sums, formats)


def _closed(balance: Balance, sums: str, formats: Formats) -> Verdict:
    grams, share = balance.unexplained_g, balance.unexplained_share
    if grams < 0:
        over = formats.grams(-grams)
        sentence = f"{sums}: {over} more than went in; was a piece weighed twice?"
        return Verdict("watch", "Look again", sentence)
    lost = f"{formats.grams(grams)} unexplained, {formats.percent(share)} or"
    sentence = f"{sums}, {lost} {formats.money(balance.unexplained)} at what it cost"
    if balance.is_unusual:
        return Verdict("watch", "Look again", sentence)
    return Verdict("fine", "Balanced", sentence)


def money_line(section: Section, formats: Formats) -> str:
    """Where a stage's money came from and where it stands, as one sum."""
    finish = sum(row.finish for row in section.rows)
    parts = [f"Input {formats.money(section.input_cost)}"]
    if section.work:
        minutes = formats.minutes(section.stage.minutes)
        parts.append(f"+ work {formats.money(section.work)} ({minutes})")
    credit = sum(row.credit for row in section.rows)
    if credit:
        sign = "\N{MINUS SIGN}" if credit > 0 else "+"
        parts.append(f"{sign} by-products {formats.money(abs(credit))}")
    if finish:
        parts.append(f"+ finishing {formats.money(finish)}")
    cost = sum(row.cost for row in section.rows)
    ended = f"= {formats.money(cost)} on what came off"
    if section.balance.before_g or section.balance.here_g != section.output_g:
        ended = f"; {formats.money(cost)} of it on what came off this day"
    if section.stranded:
        ended += f", {formats.money(section.stranded)} stranded"
    return " ".join(parts) + (f" {ended}" if ended.startswith("=") else ended) + "."


def in_table(section: Section, formats: Formats, width: float) -> Table:
    """What went into a trim-out or a blend; the same cut from many pieces is one row."""
    rows = [
        Row((name, formats.kg(grams), formats.money(cost)))
        for name, grams, cost in _gathered(section.inputs)
    ]
    if len(rows) > 1:
        total = formats.money(sum(row.cost for row in section.inputs))
        rows.append(Row(("Together", formats.kg(section.balance.input_g), total), "strong"))
    columns = (Column("Went in", 30, "left"), Column("kg", 12), Column("Cost", 14))
    return Table(columns, rows, width=width)


def _gathered(inputs: Sequence[WentIn]) -> list[tuple[str, int, int]]:
    sums: dict[str, tuple[int, int]] = {}
    for row in inputs:
        grams, cost = sums.get(row.name, (0, 0))
        sums[row.name] = grams + row.grams, cost + row.cost
    return [(name, grams, cost) for name, (grams, cost) in sums.items()]


def out_table(section: Section, formats: Formats, width: float) -> Table:
    """What a trim-out or a blend made."""
    rows = [
        Row(
            (
                row.cut.name,
                formats.kg(row.net_g),
                formats.per_kilo(row.cost_per_kilo),
                formats.per_kilo(row.price),
                formats.percent(row.margin),
            ),
            "plain" if row.cut.kind.bears_cost else "soft",
            cut_note(row, formats),
        )
        for row in section.rows
    ]
    if len(rows) > 1:
        rows.append(_out_total(section, earning(section.rows), formats))
    columns = (
        Column("Came out", 34, "left"),
        Column("kg", 11),
        Column("Cost / kg", 12),
        Column("Price / kg", 12),
        Column("Margin", 11),
    )
    return Table(columns, rows, width=width)


def _out_total(section: Section, earned: Earning, formats: Formats) -> Row:
    grams = section.saleable_g
    cost = per_kilo(section.saleable_cost, grams) if grams else None
    cells = (
        "Together",
        formats.kg(section.balance.here_g),
        formats.per_kilo(cost),
        "",
        formats.percent(earned.share) if earned.sales else DASH,
    )
    return Row(cells, "strong")
