"""A figure over the weeks, row by row: a small line with its gaps, the last value in figures."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFont, QPainter, QPen, QPolygonF

from gambrel.domain.drawing.lines import Value, spark_points
from gambrel.ui.icons import paint_icon
from gambrel.ui.theme import Theme, Weight
from gambrel.ui.widgets.painting import LEFT, RIGHT, SMALLEST_TEXT, draw_fitted, fit, text_width
from gambrel.ui.widgets.picture_rows import PictureRows
from gambrel.ui.widgets.pictured import CostRowText

NAME = 0.28
"""The part of the width for a row's name; a figure has what it needs."""

FIGURE, CHEVRON = 20, 26.0
PAD = 12.0
SMALL, LARGE = 2.5, 4.5


class CostRows(PictureRows):
    """Shows lines from left (oldest) to right (newest)."""

    def __init__(self, theme: Theme, name: str) -> None:
        super().__init__(theme, name)
        self._rows: tuple[CostRowText, ...] = ()
        self._last = self._change = 0.0

    def show_rows(self, rows: Sequence[CostRowText], words: str) -> None:
        """Show other rows; ``words`` say what the picture tells."""
        self._rows = tuple(rows)
        large, plain = self._fonts()
        self._last = max((text_width(large, row.last) for row in rows), default=0.0) + 2
        self._change = max((text_width(plain, row.change) for row in rows), default=0.0) + 2
        self.begin(words)

    def _fonts(self) -> tuple[QFont, QFont]:
        """Of the last figure, and of what changed."""
        return self._theme.font(FIGURE, Weight.Bold), self._theme.font(SMALLEST_TEXT)

    def count(self) -> int:
        return len(self._rows)

    def words(self, row: int, _part: int) -> str:
        return self._rows[row].words

    def paint_row(self, painter: QPainter, row: int, place: QRectF) -> None:
        found, wide = self._rows[row], place.width()
        bold = self._theme.font(SMALLEST_TEXT, Weight.DemiBold)
        large, plain = self._fonts()
        tall = place.height()
        names = QRectF(PAD, place.top(), wide * NAME - 2 * PAD, tall)
        change = QRectF(wide - CHEVRON - PAD - self._change, place.top(), self._change, tall)
        last = QRectF(change.left() - 2 * PAD - self._last, place.top(), self._last, tall)
        painter.setPen(self._theme.colour("ink"))
        draw_fitted(painter, names, fit(found.name, bold, names.width(), tall), LEFT)
        draw_fitted(painter, last, fit(found.last, large, last.width(), 30), RIGHT)
        painter.setPen(self._theme.colour("soft_ink"))
        draw_fitted(painter, change, fit(found.change, plain, change.width(), tall), RIGHT)
        if found.leads:
            chevron = QRectF(place.right() - CHEVRON, place.center().y() - 10, 20, 20)
            paint_icon(painter, "chevron-right", chevron, self._theme.colour("soft_ink"))
        left = names.right() + PAD
        chart = QRectF(left, place.top() + 12, max(last.left() - left - 2 * PAD, 40), tall - 24)
        self._paint_line(painter, chart, found.values)

    def _paint_line(self, painter: QPainter, chart: QRectF, values: tuple[Value, ...]) -> None:
        """Lines with a point for each week, so that a week between two gaps is seen."""
        accent = self._theme.colour("accent")
        painter.setPen(QPen(self._theme.colour("rule"), 1))
        painter.drawLine(chart.bottomLeft() + QPointF(0, 6), chart.bottomRight() + QPointF(0, 6))
        round_pen = QPen(accent, 2, c=Qt.PenCapStyle.RoundCap, j=Qt.PenJoinStyle.RoundJoin)
        lines = [
            [chart.topLeft() + QPointF(x, y) for x, y in line]
            for line in spark_points(values, chart.width(), chart.height())
        ]
        for line in lines:
            painter.setPen(round_pen)
            painter.drawPolyline(QPolygonF(line))
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(accent)
            for point in line:
                painter.drawEllipse(point, SMALL, SMALL)
            painter.setBrush(Qt.BrushStyle.NoBrush)
        if lines and values and values[-1] is not None:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(accent)
            painter.drawEllipse(lines[-1][-1], LARGE, LARGE)
