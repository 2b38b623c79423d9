"""A line of text that ends in dots where the room is short."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QLabel

from gambrel.ui.widgets.painting import LEFT


class ShortLabel(QLabel):
    """One line in a role of the style sheet; what does not fit is told by the tool tip."""

    def __init__(self, role: str, align: Qt.AlignmentFlag = LEFT) -> None:
        super().__init__()
        self._align = align
        self.setProperty("role", role)
        self.setTextFormat(Qt.TextFormat.PlainText)

    def minimumSizeHint(self) -> QSize:
        return QSize(40, super().minimumSizeHint().height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setPen(self.palette().color(self.foregroundRole()))
        room = self.contentsRect()
        dots = Qt.TextElideMode.ElideRight
        words = self.fontMetrics().elidedText(self.text(), dots, room.width())
        painter.drawText(room, int(self._align), words)
        painter.end()
        self.setToolTip("" if words == self.text() else self.text())
