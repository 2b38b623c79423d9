"""Yields as dots on rows: the norm as a line, limits as a band, what is outside by its shape."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFont, QPainter, QPen, QPolygonF

from gambrel.domain.drawing.lines import DotAxis
from gambrel.ui.icons import paint_icon
from gambrel.ui.theme import Theme, Weight
from gambrel.ui.widgets.painting import (
    LEFT,
    RIGHT,
    SMALLEST_TEXT,
    box,
    draw_fitted,
    fit,
    text_width,
)
from gambrel.ui.widgets.picture_rows import PictureRows
from gambrel.ui.widgets.pictured import YieldRowText

NAME, FIGURES = 0.32, 0.34
"""The parts of the width that a row's name and its figures may take at most."""

CHEVRON = 28.0
DOT, LARGE = 5.0, 8.0
FINGER = 22.0
"""So near a dot a tap means it."""

PAD = 12.0
LANES = (0.0, -8.0, 8.0)
"""Dots stand in three lanes, so that equal ones do not hide each other."""


class YieldRows(PictureRows):
    """Shows rows of yields; a part is a dot."""

    def __init__(self, theme: Theme, name: str) -> None:
        super().__init__(theme, name)
        self._rows: tuple[YieldRowText, ...] = ()
        self._names = self._figures = 0.0

    def show_rows(self, rows: Sequence[YieldRowText], words: str) -> None:
        """Show other rows; ``words`` say what the picture tells."""
        self._rows = tuple(rows)
        bold = self._theme.font(SMALLEST_TEXT, Weight.DemiBold)
        self._names = max((_wider(bold, row.name, row.note) for row in rows), default=0.0)
        self._figures = max((_wider(bold, row.figures, row.below) for row in rows), default=0.0)
        self.begin(words)

    def count(self) -> int:
        return len(self._rows)

    def parts(self, row: int) -> int:
        return len(self._rows[row].dots)

    def words(self, row: int, part: int) -> str:
        found = self._rows[row]
        return found.words if part < 0 else found.dots[part]

    def part_at(self, row: int, place: QPointF) -> int:
        """The nearest dot within a finger's reach."""
        near = []
        for number in range(len(self._rows[row].dots)):
            away = (self.dot_place(row, number) - place).manhattanLength()
            if away <= FINGER:
                near.append((away, number))
        return min(near)[1] if near else -1

    def _chart(self, row: int) -> QRectF:
        place = self.place_of(row)
        left = min(self._names + 2 * PAD, place.width() * NAME)
        right = min(self._figures + 2 * PAD + CHEVRON, place.width() * FIGURES)
        return QRectF(left, place.top() + 4, place.width() - left - right, place.height() - 8)

    def dot_place(self, row: int, number: int) -> QPointF:
        """Where a dot stands."""
        chart = self._chart(row)
        lane = LANES[number % 3] if len(self._rows[row].dots) > 1 else 0.0
        across = self._rows[row].axis.dots[number]
        return QPointF(chart.left() + across * chart.width(), chart.center().y() + lane)

    def paint_row(self, painter: QPainter, row: int, place: QRectF) -> None:
        found = self._rows[row]
        chart = self._chart(row)
        names = QRectF(PAD, place.top(), chart.left() - 2 * PAD, place.height())
        self._two_lines(painter, names, found.name, found.note, left=True)
        wide = place.right() - chart.right() - PAD - CHEVRON
        figures = QRectF(chart.right() + PAD, place.top(), wide, place.height())
        self._two_lines(painter, figures, found.figures, found.below, left=False)
        if found.leads:
            mark = QRectF(place.right() - 24, place.center().y() - 10, 20, 20)
            paint_icon(painter, "chevron-right", mark, self._theme.colour("soft_ink"))
        self._paint_axis(painter, chart, found.axis)
        for number in range(len(found.dots)):
            self._paint_dot(painter, row, number, outside=found.outside[number])

    def _two_lines(
        self, painter: QPainter, place: QRectF, first: str, second: str, *, left: bool
    ) -> None:
        align = LEFT if left else RIGHT
        half = place.height() / 2
        upper = place.adjusted(0, 4, 0, -half)
        lower = place.adjusted(0, half, 0, -4)
        painter.setPen(self._theme.colour("ink"))
        bold = self._theme.font(SMALLEST_TEXT, Weight.DemiBold)
        draw_fitted(painter, upper, fit(first, bold, upper.width(), 22), align)
        painter.setPen(self._theme.colour("soft_ink"))
        plain = self._theme.font(SMALLEST_TEXT)
        draw_fitted(painter, lower, fit(second, plain, lower.width(), 22), align)

    def _paint_axis(self, painter: QPainter, chart: QRectF, axis: DotAxis) -> None:
        middle = chart.center().y()
        painter.setPen(QPen(self._theme.colour("rule"), 1))
        painter.drawLine(QPointF(chart.left(), middle), QPointF(chart.right(), middle))
        if axis.band is not None:
            low, high = (chart.left() + end * chart.width() for end in axis.band)
            band = QRectF(low, chart.top() + 6, high - low, chart.height() - 12)
            radius = self._theme.tokens.radius.small
            box(painter, band, self._theme.colour("chosen"), self._theme.colour("edge"), 1, radius)
        if axis.line is not None:
            across = chart.left() + axis.line * chart.width()
            pen = QPen(self._theme.colour("ink"), 2, Qt.PenStyle.DashLine)
            painter.setPen(pen)
            painter.drawLine(QPointF(across, chart.top()), QPointF(across, chart.bottom()))

    def _paint_dot(self, painter: QPainter, row: int, number: int, *, outside: bool) -> None:
        """A disc; a larger diamond where it is outside; a ring about the one that Enter opens."""
        at = self.dot_place(row, number)
        painter.setPen(QPen(self._theme.colour("card"), 1))
        if outside:
            painter.setBrush(self._theme.colour("stop"))
            corners = [(0.0, -LARGE), (LARGE, 0.0), (0.0, LARGE), (-LARGE, 0.0)]
            painter.drawPolygon(QPolygonF([at + QPointF(x, y) for x, y in corners]))
        else:
            painter.setBrush(self._theme.colour("accent"))
            painter.drawEllipse(at, DOT, DOT)
        if self.hasFocus() and self.cursor_at == (row, number):
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(self._theme.colour("accent"), self._theme.tokens.line.strong))
            painter.drawEllipse(at, LARGE + 5, LARGE + 5)


def _wider(font: QFont, *texts: str) -> float:
    return max(text_width(font, text) for text in texts) + 2
