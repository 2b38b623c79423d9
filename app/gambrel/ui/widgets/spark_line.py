"""A small line of how a figure went: no axes, its last point marked."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from gambrel.domain.drawing.lines import Value, spark_points
from gambrel.ui.theme import Theme


class SparkLine(QWidget):
    """Shows values from left (oldest) to right (newest); say in words what they tell."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._values: tuple[Value, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        theme.changed.connect(self.update)

    def show_values(self, values: Sequence[Value], words: str) -> None:
        """Show other values; ``words`` is the accessible name, for example the change."""
        self._values = tuple(values)
        self.setAccessibleName(words)
        self.setToolTip(words)
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(120, 32)

    def minimumSizeHint(self) -> QSize:
        return QSize(48, 24)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.translate(5, 5)
        accent = self._theme.colour("accent")
        lines = spark_points(self._values, self.width() - 10, self.height() - 10)
        painter.setPen(QPen(accent, 2, c=Qt.PenCapStyle.RoundCap, j=Qt.PenJoinStyle.RoundJoin))
        for line in lines:
            painter.drawPolyline(QPolygonF([QPointF(x, y) for x, y in line]))
        if lines:
            painter.setBrush(accent)
            painter.drawEllipse(QPointF(*lines[-1][-1]), 3.5, 3.5)
        painter.end()
