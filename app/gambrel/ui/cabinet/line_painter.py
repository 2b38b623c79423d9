"""Paints one cell of the cabinet's lines."""

from __future__ import annotations

from typing import Protocol, cast

from PySide6.QtCore import QModelIndex, QObject, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QStyledItemDelegate, QStyleOptionViewItem

from gambrel.domain.drawing.lines import spark_points
from gambrel.ui.cabinet.lines_model import Column, Index, LinesModel
from gambrel.ui.cabinet.state import RowState
from gambrel.ui.icons import paint_icon
from gambrel.ui.theme import MEANING_ICONS, Meaning, Theme, Weight
from gambrel.ui.widgets.painting import LEFT, RIGHT, box, draw_fitted, fit
from gambrel.ui.widgets.tick import paint_tick

ROW = 60
FIGURE = 20
SMALL = 16
BELOW = 22
"""How much of a row's height the small line under a figure takes."""

PADS = 22
"""Free room left and right of a cell's text together."""

MARK = 40
"""Room for a tick or a grip before the name."""


class Lines(Protocol):
    """What the painter asks of the table."""

    lines: LinesModel
    arranging: bool

    def currentIndex(self) -> QModelIndex: ...


class LineDelegate(QStyledItemDelegate):
    """Paints one cell."""

    def __init__(self, theme: Theme, parent: QObject) -> None:
        super().__init__(parent)
        self._theme = theme

    def sizeHint(self, _option: QStyleOptionViewItem, _index: Index) -> QSize:
        return QSize(80, ROW)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        table = cast(Lines, self.parent())
        row, column = table.lines.rows[index.row()], Column(index.column())
        here = index.row() == table.currentIndex().row()
        rect = QRectF(option.rect)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(rect, self._theme.colour("chosen" if here else "card"))
        painter.fillRect(rect.adjusted(0, ROW - 1, 0, 0), self._theme.colour("rule"))
        if here and column is Column.NAME:
            painter.fillRect(rect.adjusted(0, 0, 5 - rect.width(), 0), self._theme.colour("accent"))
        inner = rect.adjusted(PADS - 10, 0, -10, 0)
        if column is Column.NAME:
            self._name(painter, inner, index, row, grip=table.arranging)
        elif column is Column.STATE:
            self._state(painter, inner, row)
        elif column is Column.HISTORY:
            self._history(painter, inner, row)
        else:
            self._number(painter, inner, table.lines.texts(row, column), column)
        painter.restore()

    def _name(
        self, painter: QPainter, rect: QRectF, index: Index, row: RowState, *, grip: bool
    ) -> None:
        tick = index.data(Qt.ItemDataRole.CheckStateRole)
        if grip:
            place = QRectF(rect.left() + 2, rect.center().y() - 13, 26, 26)
            paint_icon(painter, "arrow-up-down", place, self._theme.colour("accent"))
        elif tick is not None:
            paint_tick(self._theme, painter, rect, on=tick == Qt.CheckState.Checked)
        if grip or tick is not None:
            rect = rect.adjusted(MARK, 0, 0, 0)
        upper = rect.adjusted(0, 4, 0, -BELOW - 4) if row.note else rect
        painter.setPen(self._theme.colour("ink"))
        font = self._theme.font(FIGURE, Weight.DemiBold)
        draw_fitted(painter, upper, fit(row.name, font, upper.width(), upper.height()), LEFT)
        if row.note:
            self._below(painter, rect, row.note, LEFT)

    def _below(self, painter: QPainter, rect: QRectF, text: str, align: Qt.AlignmentFlag) -> None:
        painter.setPen(self._theme.colour("soft_ink"))
        lower = QRectF(rect.left(), rect.bottom() - BELOW - 6, rect.width(), BELOW)
        draw_fitted(painter, lower, fit(text, self._theme.font(SMALL), rect.width(), BELOW), align)

    def _number(
        self, painter: QPainter, rect: QRectF, texts: tuple[str, str], column: Column
    ) -> None:
        text, below = texts
        strong = column in (Column.PRICE, Column.MARGIN)
        painter.setPen(self._theme.colour("ink" if strong else "soft_ink"))
        font = self._theme.font(FIGURE, Weight.Bold if strong else Weight.Normal)
        upper = rect.adjusted(0, 4, 0, -BELOW - 4) if below else rect
        draw_fitted(painter, upper, fit(text, font, rect.width(), 30), RIGHT)
        if below:
            self._below(painter, rect, below, RIGHT)

    def _state(self, painter: QPainter, rect: QRectF, row: RowState) -> None:
        chip = QRectF(rect.left(), rect.center().y() - 18, rect.width(), 36)
        own, tint = self._theme.colour(row.meaning), self._theme.colour(f"{row.meaning}_tint")
        box(painter, chip, tint, own, 1, 18)
        mark = QRectF(chip.left() + 9, chip.center().y() - 10, 20, 20)
        paint_icon(painter, MEANING_ICONS[Meaning(row.meaning)], mark, own)
        painter.setPen(self._theme.colour("ink"))
        words = chip.adjusted(34, 0, -6, 0)
        draw_fitted(painter, words, fit(row.word, self._theme.font(16), words.width(), 22), LEFT)

    def _history(self, painter: QPainter, rect: QRectF, row: RowState) -> None:
        accent = self._theme.colour("accent")
        painter.translate(rect.left() + 6, rect.top() + 16)
        painter.setPen(QPen(accent, 2, c=Qt.PenCapStyle.RoundCap, j=Qt.PenJoinStyle.RoundJoin))
        lines = spark_points(row.history, rect.width() - 16, ROW - 32)
        for line in lines:
            painter.drawPolyline(QPolygonF([QPointF(x, y) for x, y in line]))
        if lines:
            painter.setBrush(accent)
            painter.drawEllipse(QPointF(*lines[-1][-1]), 3.5, 3.5)
