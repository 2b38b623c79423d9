"""The trace sheet: A4, what an inspector takes away of one recall."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from zoneinfo import ZoneInfo

from gambrel.domain.review.trace import Trace, TracedPiece
from gambrel.domain.sheets.trace_sheet import TraceSheet
from gambrel.domain.sheets.trace_words import Group, TraceWords
from gambrel.domain.trade.formats import Formats
from gambrel.reports.fonts import register_fonts, width_of
from gambrel.reports.look import WIDTH, look
from gambrel.reports.pages import Block, Fresh, Stack, draw_pages
from gambrel.reports.parts import Figure, Figures, Heading, Words, sheet_frame
from gambrel.reports.pen import LEAST_SHRINK
from gambrel.reports.tables import PAD, Column, Row, Table

_LONG_KEY = 12
"""Letters of a key that fit a narrow column; those that the bench made have 26."""
_NARROW, _WIDE, _OTHERS = 13, 42, 108
"""Shares of a table's width: a column of short keys, one of long keys, all other columns."""


def draw_trace(sheet: TraceSheet, formats: Formats, now: datetime) -> bytes:
    """Draw all that a word names, each on pages of its own.

    Args:
        sheet: What was traced.
        formats: How the shop writes its numbers.
        now: When the book was read; it stands in the masthead.
    Returns:
        A PDF; the same sheet at the same moment gives the same bytes.
    """
    register_fonts()
    side = f"as the book stood at {now.astimezone(ZoneInfo(sheet.shop.time_zone)):%Y-%m-%d %H:%M}"
    first, other = sheet_frame("Trace", sheet.word, sheet.shop.name, side)
    blocks: list[Block | Fresh] = []
    for number, found in enumerate(sheet.traces):
        head, *rest = _blocks(sheet, found, formats)
        blocks += [Fresh(head) if number else head, *rest]
    return draw_pages(
        blocks,
        first,
        other,
        title=f"Trace, {sheet.word}",
        author=sheet.shop.name,
        subject="Back to the dockets and forward to the trays",
    )


def _blocks(sheet: TraceSheet, found: Trace, formats: Formats) -> Iterator[Block]:
    words, shown = TraceWords(sheet, found), look()
    yield Words(sheet.title(found), shown.strong.at(12), gap=0)
    yield _figures(found, formats)
    yield Words(sheet.cautions(found), shown.note, gap=8)
    yield from _back(found, words)
    yield _balance(words)  # before the long list, so that whoever checks it finds it at once
    yield from _forward(sheet, words)


def _figures(found: Trace, formats: Formats) -> Figures:
    balance, ends = found.balance, found.forward.ends
    pieces = f"in {len(ends)} {'piece' if len(ends) == 1 else 'pieces'}"
    gone = balance.hang_loss_g + balance.lost_g
    hangs = balance.on_rail_g + balance.on_block_g
    return Figures(
        (
            Figure("Came in", formats.kg(balance.went_in_g), "kg"),
            Figure("Left at the end, of it", formats.kg(balance.at_end_g), "kg", (pieces,)),
            Figure("Not cut yet", formats.kg(hangs), "kg"),
            Figure("Dried and lost", formats.kg(gone), "kg"),
            Figure("Written off", formats.kg(balance.written_off_g), "kg"),
            Figure("Difference", formats.kg(balance.difference_g), "kg"),
        ),
        gap=10,
    )


def _back(found: Trace, words: TraceWords) -> Iterator[Block]:
    back = found.back
    items: list[Block] = [_item(fate.body.key, words.body(fate)) for fate in back.bodies]
    items += [
        _item(each.stage.key, [words.stage(each.stage), f"took {words.took(each)}"])
        for each in back.stages
    ]
    if not back.stages:
        items += [_item(row.stage, [f"took {words.added(row)}"]) for row in back.added]
    first, *others = items or [Words("Nothing in the book says.", look().body, gap=6)]
    yield Stack([Heading("Back", "where it came from"), first], gap=18)
    yield from others


def _item(key: str, lines: list[str]) -> Stack:
    """A key with what is told of it beneath."""
    shown = look()
    told = [Words(line, shown.body, gap=1.5) for line in lines]
    return Stack([Words(key, shown.strong.at(9), gap=6), *told], gap=8)


def _forward(sheet: TraceSheet, words: TraceWords) -> Iterator[Block]:
    heading = Heading("Forward", "what came of it")
    parts: list[Block] = [_group(sheet, words, group) for group in words.groups()]
    first, *others = parts or [Words(words.ends(), look().body, gap=6)]
    yield Stack([heading, first], gap=18)
    yield from others
    if parts and words.ends():
        yield Words(words.ends(), look().strong.at(9), gap=10)


def _group(sheet: TraceSheet, words: TraceWords, group: Group) -> Stack:
    shown = look()
    blocks: list[Block] = [
        Words(f"{group.stage.key} \N{MIDDLE DOT} {words.stage(group.stage)}", shown.strong.at(9))
    ]
    if group.took:
        blocks.append(Words(group.took, shown.body, gap=1.5))
    if group.pieces:
        blocks.append(_pieces(sheet, words, group))
    remarks = [(each.piece.key, line) for each in group.pieces for line in _remarks(words, each)]
    for gone in group.taken_back:
        lines = [words.taken_back(gone), *words.labels(gone.piece)]
        remarks += [(gone.piece.key, line) for line in lines]
    blocks += [Words(f"{key}: {line}", shown.note, gap=1.5) for key, line in remarks]
    return Stack(blocks, gap=12, lead=2)


def _remarks(words: TraceWords, each: TracedPiece) -> list[str]:
    """What is said of a piece beneath its table; a key that is cut short there stands here."""
    room = WIDTH * _WIDE / (_WIDE + _OTHERS) - PAD
    face = look().body
    is_cut = width_of(each.piece.key, face.font, face.size * LEAST_SHRINK) > room
    whole = ["its key in full"] if is_cut else []
    return [*words.remarks(each), *whole]


def _pieces(sheet: TraceSheet, words: TraceWords, group: Group) -> Table:
    longest = max(len(each.piece.key) for each in group.pieces)
    columns = (
        Column("Piece", _WIDE if longest > _LONG_KEY else _NARROW, "left"),
        Column("Cut", 30, "left"),
        Column("Weighed", 17, "left"),
        Column("By", 13, "left"),
        Column("Net kg", 11),
        Column("Left kg", 11),
        Column("May hold kg", 13),
        Column("Use by", 13),
    )
    rows = [
        Row(
            (
                each.piece.key,
                sheet.cut(each.piece.cut),
                words.near(each.piece.weighed_at, group.stage),
                each.piece.person,
                *words.weights(each),
                words.use_by(each.piece),
            ),
            "plain" if each.stands_at_end else "soft",
        )
        for each in group.pieces
    ]
    return Table(columns, rows, gap=4)


def _balance(words: TraceWords) -> Stack:
    *rows, (name, kilos) = words.balance()
    columns = (Column("Where it is", 30, "left"), Column("kg of it", 14))
    told = [Row((each, weight)) for each, weight in rows] + [Row((name, kilos), "strong")]
    return Stack([Heading("Balance"), Table(columns, told, gap=2, width=WIDTH * 0.42)], gap=18)
