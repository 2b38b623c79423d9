"""Tables of figures: columns that align, a head that comes again on the next page."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from gambrel.reports.look import WIDTH, Face, look
from gambrel.reports.pen import LEAST_SHRINK, Align, Pen

Painter = Callable[[Pen, float, float, float, float], None]
"""Draws a cell that is not words: pen, left, top, width, height (points)."""

Cell = str | Painter

Tone = Literal["plain", "strong", "soft", "group"]

ROW, HEAD, PAD = 14.2, 15.0, 5.0
_BASE = 9.8
_LEAST_FIGURE = 0.4
"""A figure shrinks to this part of its size: cut short, it would be another figure."""

_NOTE_SPACE = 9.0


@dataclass(frozen=True, slots=True)
class Column:
    """A column's title, its share of the width, and to which side its cells stand."""

    title: str
    share: float
    align: Align = "right"


@dataclass(frozen=True, slots=True)
class Row:
    """Cells from left to right.

    A strong row has a line above and stands out, a soft one steps back, a group row is one cell
    over the whole width. ``note`` is a few small words behind the first cell.
    """

    cells: Sequence[Cell]
    tone: Tone = "plain"
    note: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """A block of rows under a head. ``row`` is a row's height in points."""

    columns: Sequence[Column]
    rows: Sequence[Row]
    gap: float = 8.0
    row: float = ROW
    size: float = 8.5
    head: float = HEAD
    width: float = WIDTH

    @property
    def height(self) -> float:
        """The head and all rows."""
        return self.head + self.row * len(self.rows)

    def split(self, room: float) -> tuple[Table, Table] | None:
        """As many rows as fit, two at least on either side."""
        count = int((room - self.head) // self.row)
        count = min(count, len(self.rows) - 2)
        while count > 2 and self.rows[count - 1].tone == "group":
            count -= 1
        if count < 2:
            return None
        return replace(self, rows=self.rows[:count]), replace(self, rows=self.rows[count:])

    def draw(self, pen: Pen, x: float, y: float) -> None:
        """The head on a line, rows with a hair between them."""
        width, edges = self.width, self._edges(x)
        shown = look()
        for column, (left, room) in zip(self.columns, edges, strict=True):
            pen.fit(left, y + self.head - 5.2, room, column.title, shown.label, column.align)
        y += self.head
        pen.rule(x, y, width, shown.ink, 0.7)
        for n, row in enumerate(self.rows):
            if n and row.tone != "strong":
                pen.rule(x, y, width, shown.rule, 0.35)
            self._draw_row(pen, row, x, y, edges)
            y += self.row

    def _edges(self, x: float) -> list[tuple[float, float]]:
        """Each column's text room: left edge and width, with padding between columns."""
        whole = sum(column.share for column in self.columns)
        found = []
        for n, column in enumerate(self.columns):
            span = self.width * column.share / whole
            left = 0.0 if n == 0 else PAD
            right = 0.0 if n == len(self.columns) - 1 else PAD
            found.append((x + left, span - left - right))
            x += span
        return found

    def _draw_row(
        self,
        pen: Pen,
        row: Row,
        x: float,
        y: float,
        edges: list[tuple[float, float]],
    ) -> None:
        shown = look()
        base = y + self.row / 2 + (_BASE - ROW / 2) * self.size / 8.5
        if row.tone == "strong":
            pen.rule(x, y, self.width, shown.ink, 0.7)
        if row.tone == "group":
            words = row.cells[0]
            assert isinstance(words, str)
            pen.fit(x, base, self.width, words, shown.strong.at(self.size))
            return
        face = self._face(row.tone)
        for n, (cell, (left, room)) in enumerate(zip(row.cells, edges, strict=True)):
            if callable(cell):
                cell(pen, left, y, room, self.row)
                continue
            note = row.note if n == 0 else ""
            align = self.columns[n].align
            least = _LEAST_FIGURE if align == "right" else LEAST_SHRINK
            used = pen.fit(left, base, room, cell, face, align, least)
            if note and room - used > _NOTE_SPACE * 2:
                pen.fit(left + used + _NOTE_SPACE / 2, base, room - used - _NOTE_SPACE / 2, note,
                        shown.note.at(self.size * 0.85))  # fmt: skip

    def _face(self, tone: Tone) -> Face:
        shown = look()
        face = shown.strong if tone == "strong" else shown.body
        if tone == "soft":
            face = Face(face.font, face.size, shown.soft)
        return face.at(self.size)
