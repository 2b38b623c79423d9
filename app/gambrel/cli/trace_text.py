"""A trace as lines of text that stay within eighty columns."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from textwrap import wrap

from gambrel.domain.review.trace import Trace, TracedPiece
from gambrel.domain.sheets.trace_sheet import TraceSheet
from gambrel.domain.sheets.trace_words import Group, TraceWords
from gambrel.domain.trade.records import Stage

WIDTH = 80
LONG_KEY = 10
"""Keys that the bench made are longer; they stand on a line of their own."""
UNDER = 10
"""Where what is said of a piece stands beneath it."""
LONG_NAME, SHORT_NAME = 12, 8
"""Letters of a person's name at the most, and of a cut's at the least."""
_BY, _WEIGHTS = 2, (3, 4)
"""Columns of a table behind its key."""


def trace_lines(sheet: TraceSheet) -> Iterator[str]:
    """All that a sheet tells, subject by subject."""
    for number, found in enumerate(sheet.traces):
        if number:
            yield from ("", "=" * WIDTH, "")
        for line in _Telling(sheet, found).lines():
            yield "".join(letter if letter.isprintable() else "?" for letter in line)


class _Telling:
    """Sets one trace in lines."""

    def __init__(self, sheet: TraceSheet, found: Trace) -> None:
        self._sheet = sheet
        self._found = found
        self._words = TraceWords(sheet, found)

    def lines(self) -> Iterator[str]:
        """The subject, the way back, the way forward, the balance, and what is not known."""
        yield from wrap(self._sheet.title(self._found), WIDTH)
        yield from self._back()
        yield from self._forward()
        yield from ("", "Balance, kg of it")
        for name, kilos in self._words.balance():
            yield f"  {name:<22}{kilos:>12}"
        yield ""
        yield from wrap(self._sheet.cautions(self._found), WIDTH)
        further = ", ".join(f"gambrel trace {body}" for body in self._words.next_bodies())
        if further:
            yield from wrap(f"All that came of its bodies: {further}.", WIDTH)

    def _back(self) -> Iterator[str]:
        back, words = self._found.back, self._words
        yield from ("", "Back: where it came from")
        if not back.bodies and not back.stages and not back.added:
            yield "  Nothing in the book says."
        for fate in back.bodies:
            yield from _item(fate.body.key, words.body(fate))
        for each in back.stages:
            yield from _item(each.stage.key, [words.stage(each.stage), f"took {words.took(each)}"])
        if not back.stages:
            for row in back.added:
                yield from _item(row.stage, [f"took {words.added(row)}"])

    def _forward(self) -> Iterator[str]:
        yield from ("", "Forward: what came of it")
        for group in self._words.groups():
            stage = self._words.stage(group.stage)
            if group.itself:
                yield from _item("itself", [f"{stage}, stage {group.stage.key}"])
            else:
                yield from _item(group.stage.key, [stage, group.took])
            yield from self._pieces(group)
        if ends := self._words.ends():
            yield f"  {ends}"

    def _pieces(self, group: Group) -> Iterator[str]:
        words = self._words
        if group.pieces:
            head = ["piece", "cut", "weighed", "by", "left kg", "may hold", "use by"]
            yield from _table(head, [self._row(each, group.stage) for each in group.pieces])
        for gone in group.taken_back:
            said = f"{gone.piece.key}  {words.taken_back(gone)}"
            first, *others = wrap(said, WIDTH - UNDER)
            yield f"    {first}"
            yield from (f"{'':<{UNDER}}{line}" for line in others)
            for text in words.labels(gone.piece):
                yield from _under(text)

    def _row(self, each: TracedPiece, stage: Stage) -> tuple[list[str], list[str]]:
        """A piece's cells, and what else is to be said of it."""
        piece = each.piece
        cells = [
            piece.key,
            self._sheet.cut(piece.cut),
            self._words.near(piece.weighed_at, stage),
            piece.person or "-",
            *self._words.weights(each)[1:],
            self._words.use_by(piece),
        ]
        return cells, self._words.remarks(each)


def _item(key: str, texts: Iterable[str]) -> Iterator[str]:
    """A key with lines beside it; beneath it where the key is long."""
    indent = " " * (4 + LONG_KEY)
    first = f"  {key}".ljust(len(indent))
    if len(key) > LONG_KEY:
        yield f"  {key}"
        first = indent
    for text in filter(None, texts):
        for line in wrap(text, WIDTH - len(indent)):
            yield f"{first}{line}"
            first = indent


def _under(text: str) -> Iterator[str]:
    for line in wrap(text, WIDTH - UNDER):
        yield f"{'':<{UNDER}}{line}"


def _table(head: list[str], rows: list[tuple[list[str], list[str]]]) -> Iterator[str]:
    """Rows with what is said beneath each; long keys stand above their rows, long names are cut."""
    keys = ["piece", *(cells[0] for cells, _ in rows)]
    apart = max(map(len, keys)) > LONG_KEY
    front = 8 if apart else 6 + max(map(len, keys))
    lines = [head[1:], *(cells[1:] for cells, _ in rows)]
    widths = [max(map(len, column)) for column in zip(*lines, strict=True)]
    widths[_BY] = min(widths[_BY], LONG_NAME)
    others = front + sum(widths[1:]) + 2 * len(widths[1:])
    widths[0] = min(widths[0], max(SHORT_NAME, WIDTH - others))
    for number, (key, cells) in enumerate(zip(keys, lines, strict=True)):
        if apart:
            yield f"    {key}"
        shown = [
            _short(cell, width).rjust(width)
            if column in _WEIGHTS
            else _short(cell, width).ljust(width)
            for column, (cell, width) in enumerate(zip(cells, widths, strict=True))
        ]
        yield f"{'' if apart else f'    {key}':<{front}}{'  '.join(shown)}".rstrip()
        if number:
            for text in rows[number - 1][1]:
                yield from _under(text)


def _short(text: str, width: int) -> str:
    return text if len(text) <= width else f"{text[: width - 1]}\N{HORIZONTAL ELLIPSIS}"
