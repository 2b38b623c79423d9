"""What a week's sheet should say aloud: exceptions in plain sentences.

The limits are common practice, no source; a later issue takes them from the shop's own history.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from decimal import Decimal

from gambrel.domain.numbers.money import extend
from gambrel.domain.numbers.scales import agree
from gambrel.domain.sheets.cut_rows import CutRow
from gambrel.domain.sheets.sections import Section
from gambrel.domain.sheets.week_sheet import WeekSheet
from gambrel.domain.sheets.yields import YieldDot, YieldRow
from gambrel.domain.trade.formats import Formats
from gambrel.domain.trade.records import PricedOn, Source, StageKind

_SAID_ALREADY = frozenset({"open", "overweight"})
"""Notes of the costing that the sentences here tell better."""

_KINDS = {StageKind.BREAK: "break", StageKind.TRIMOUT: "trim-out", StageKind.BLEND: "blend"}


def remarks(sheet: WeekSheet, formats: Formats) -> list[str]:
    """Every exception of a week as a sentence, what cost most money first in kind."""
    return [
        *_losses(sheet, formats),
        *_dockets(sheet, formats),
        *_still_open(sheet, formats),
        *_off_norm(sheet, formats),
        *_outside(sheet, formats),
        *_thin(sheet, formats),
        *_notes(sheet),
        *_voids(sheet),
    ]


def called(section: Section) -> str:
    """What people call a stage: its bodies, or its kind and what it made."""
    if section.bodies:
        return " + ".join(cost.body.key for cost in section.bodies)
    names = [row.cut.name for row in section.rows]
    if section.stage.kind is StageKind.TRIMOUT or not names:
        names = list(
            dict.fromkeys(row.name for row in section.inputs if row.source is Source.PIECE)
        )
    return f"{_KINDS[section.stage.kind]} {section.stage.key} ({', '.join(names[:2])})"


def _losses(sheet: WeekSheet, formats: Formats) -> Iterator[str]:
    for section in sorted(
        (*sheet.breaks, *sheet.other), key=lambda section: -abs(section.balance.unexplained)
    ):
        balance, share = section.balance, section.balance.unexplained_share
        if share is None:
            continue
        name = _first_capital(called(section))
        if balance.unexplained_g < 0:
            over = formats.kg(-balance.unexplained_g)
            yield f"{name}: {over} kg more came out than went in. Look for a piece weighed twice."
        elif balance.is_unusual:
            lost = formats.kg(balance.unexplained_g)
            money = formats.money(balance.unexplained)
            yield f"{name}: {lost} kg is unexplained, {formats.percent(share)} or {money}."


def _dockets(sheet: WeekSheet, formats: Formats) -> Iterator[str]:
    for row in sheet.arrivals:
        short, body = row.short_g, row.body
        if short is None or agree(body.received_g, body.received_g + short):
            continue
        how = "less" if short > 0 else "more"
        text = (
            f"{body.key} ({row.supplier}) weighed {formats.kg(abs(short))} kg {how} than its docket"
        )
        if body.priced_on is PricedOn.DOCKET and short > 0:
            text += f", and the docket was paid: {formats.money(extend(body.price, short))}"
        yield f"{text}."


def _still_open(sheet: WeekSheet, formats: Formats) -> Iterator[str]:
    for section in (*sheet.breaks, *sheet.other):
        balance = section.balance
        if balance.open and balance.over_g:
            over = formats.kg(balance.over_g)
            yield (
                f"{_first_capital(called(section))} is still open and has weighed {over} kg more "
                "than went in. Look for a piece weighed twice."
            )
        elif balance.open:
            left = formats.kg(balance.on_block_g)
            yield f"{_first_capital(called(section))} is still on the block, {left} kg to weigh."


def _off_norm(sheet: WeekSheet, formats: Formats) -> Iterator[str]:
    for section in sheet.breaks:
        told = [
            f"{row.cut.name} {formats.percent(row.share)} (norm {formats.percent(row.norm)})"
            for row in section.off_norm()[:3]
        ]
        missing = [f"no {name}" for name in section.missing]
        if told or missing:
            yield f"{called(section)} is off its norm: {', '.join(told + missing)}."


def _outside(sheet: WeekSheet, formats: Formats) -> Iterator[str]:
    """Bodies that fell out of the limits of those before: on the whole, and the farthest cut."""
    for found in sheet.yields:
        for dot in found.whole.outside:
            limits = _limits(found.whole, formats)
            yield (
                f"{dot.bodies} gave {formats.percent(dot.share)} for sale; the "
                f"{found.whole.before} cut as {found.list} before gave {limits}."
            )
        cuts = [(row, dot) for row in found.cuts for dot in row.outside]
        if not cuts:
            continue
        row, dot = max(cuts, key=lambda pair: _beyond(*pair))
        told = (
            f"{row.name} of {dot.bodies}, {formats.percent(dot.share)} where it was "
            f"{_limits(row, formats)} before"
        )
        if len(cuts) == 1:
            yield f"{found.list}: one cut fell out of its limits: {told}."
        else:
            count = len(cuts)
            yield f"{found.list}: {count} yields of cuts fell out of their limits; most: {told}."


def _limits(row: YieldRow, formats: Formats) -> str:
    """Between what a row's yields had been falling."""
    if row.limits is None:
        return "not known"
    low, high = (Decimal(max(end, 0.0)) for end in (row.limits.lower, row.limits.upper))
    return f"{formats.percent(low)} to {formats.percent(high)}"


def _beyond(row: YieldRow, dot: YieldDot) -> float:
    """How far a dot is out of its limits, in widths of them."""
    if row.limits is None:
        return 0.0
    share, (_, _, lower, upper) = float(dot.share), row.limits
    return max(lower - share, share - upper) / ((upper - lower) or 1.0)


def _thin(sheet: WeekSheet, formats: Formats) -> Iterator[str]:
    sold = [line.row for line in sheet.cuts if line.row.margin is not None]
    sold.sort(key=lambda row: row.margin or Decimal(0))
    below = [row for row in sold if row.margin is not None and row.margin < 0]
    for row in below:
        cost, price = formats.per_kilo(row.cost_per_kilo), formats.per_kilo(row.price)
        yield (
            f"{row.cut.name} sells below its cost: it costs {cost} and sells at {price} a kilo. "
            f"{_without(row, formats)}"
        )
    target = sheet.shop.target_margin_percent / 100
    thin = [row for row in sold if row.margin is not None and 0 <= row.margin < target]
    if thin:
        names = ", ".join(f"{row.cut.name} {formats.percent(row.margin)}" for row in thin[:3])
        yield (
            f"{len(thin)} of {len(sold)} cuts earn less than {formats.percent(target, 0)}; "
            f"the thinnest: {names}."
        )


def _without(row: CutRow, formats: Formats) -> str:
    """A loss is never told alone: what leaving the cut would have changed (`contribution`)."""
    brought = row.contribution or 0
    money = formats.money(abs(brought))
    if brought > 0:
        return f"Without it the week would have earned {money} less."
    return f"It does not pay for its finishing: without it the week would have earned {money} more."


def _notes(sheet: WeekSheet) -> Iterator[str]:
    for note in sheet.notes:
        if note.code not in _SAID_ALREADY:
            yield f"{_first_capital(note.sentence)}."


def _voids(sheet: WeekSheet) -> Iterator[str]:
    if not sheet.taken_back:
        return
    reasons = Counter(row.reason or "no reason given" for row in sheet.taken_back)
    told = ", ".join(f"{reason} {count}" for reason, count in reasons.most_common())
    count = len(sheet.taken_back)
    yield f"{count} weighing{'s were' if count > 1 else ' was'} taken back: {told}."


def _first_capital(text: str) -> str:
    return text[:1].upper() + text[1:]
