"""The lines of a scale, newest first: each as it came, in hex, and what was understood.

Painted rather than put into a table, since twenty lines a second come and only some are seen.
"""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from gambrel.ui.icons import paint_icon
from gambrel.ui.scale.state import LineState
from gambrel.ui.theme import MEANING_ICONS, Meaning, Theme, Weight
from gambrel.ui.widgets.painting import LEFT

ROW = 48
MARK = 20
LEAST_TEXT = 120
DOTS = Qt.TextElideMode.ElideRight


class LinesView(QWidget):
    """As many lines as there is room for."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._lines: tuple[LineState, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumHeight(2 * ROW)
        theme.changed.connect(self.update)

    @property
    def lines(self) -> tuple[LineState, ...]:
        """What is shown, the newest first."""
        return self._lines

    def show_lines(self, lines: tuple[LineState, ...]) -> None:
        """Show these lines, the newest first."""
        self._lines = lines
        told = "; ".join(f"{line.text}: {line.words}" for line in lines[:1])
        self.setAccessibleName(self.tr("Last line: {0}").format(told or self.tr("none")))
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(400, 6 * ROW)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for number, line in enumerate(self._lines[: self.height() // ROW]):
            self._paint(painter, QRectF(0, number * ROW, self.width(), ROW), line)
        painter.end()

    def _paint(self, painter: QPainter, row: QRectF, line: LineState) -> None:
        c = self._theme.colour
        meaning = Meaning.FINE if line.good else Meaning.STOP
        mark = QRectF(row.left() + 2, row.top() + (ROW - MARK) / 2, MARK, MARK)
        paint_icon(painter, MEANING_ICONS[meaning], mark, c(meaning.value))
        left = mark.right() + 10
        strong = self._theme.font(self._theme.tokens.type.body, Weight.DemiBold)
        plain = self._theme.font(self._theme.tokens.type.body)
        metrics = QFontMetricsF(plain)
        wide = row.right() - left
        words = min(max(metrics.horizontalAdvance(line.words) + 4, wide / 2), wide - LEAST_TEXT)
        upper = QRectF(left, row.top() + 2, wide - words - 10, ROW / 2 - 2)
        painter.setPen(c("ink"))
        painter.setFont(strong)
        text = QFontMetricsF(strong).elidedText(line.text, DOTS, upper.width())
        painter.drawText(upper, int(LEFT), text)
        painter.setFont(plain)
        beside = QRectF(row.right() - words, upper.top(), words, upper.height())
        painter.drawText(beside, int(LEFT), metrics.elidedText(line.words, DOTS, words))
        painter.setPen(c("soft_ink"))
        lower = QRectF(left, row.top() + ROW / 2, wide, ROW / 2 - 2)
        painter.drawText(lower, int(LEFT), metrics.elidedText(line.hex, DOTS, lower.width()))
        painter.setPen(c("rule"))
        painter.drawLine(row.bottomLeft(), row.bottomRight())
