"""What came off so far, and what is still there, as one bar."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPainterPath, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from gambrel.ui.theme import Theme, Weight
from gambrel.ui.widgets.balance_layout import MARK, Outside, Segment, Span, lay_outside, lay_spans
from gambrel.ui.widgets.painting import LEFT, box, text_width

__all__ = ["BalanceBar", "Segment"]

BAR = 32
LEGEND = 26


class BalanceBar(QWidget):
    """Stacked parts of a total. A label that does not fit in its part stands outside.

    Outside is the empty rest of the bar, or with ``legend`` a line beneath it. What has no room
    there either is in the tool tip and in the accessible name, which tell every part.
    """

    def __init__(self, theme: Theme, *, legend: bool = False) -> None:
        super().__init__()
        self._theme = theme
        self._legend = legend
        self._segments: tuple[Segment, ...] = ()
        self._total = 0
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setMinimumWidth(120)
        theme.changed.connect(self.update)

    def show_balance(self, segments: Sequence[Segment], total: int, summary: str = "") -> None:
        """Show parts of a total in grams; ``summary`` says it in words for a screen reader."""
        self._segments = tuple(segment for segment in segments if segment.grams > 0)
        self._total = total
        parts = ", ".join(segment.text for segment in self._segments)
        self.setAccessibleName(summary or parts)
        self.setToolTip(parts)
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(480, BAR + (LEGEND if self._legend else 0))

    def minimumSizeHint(self) -> QSize:
        return QSize(120, self.sizeHint().height())

    def spans(self) -> list[Span]:
        """Where the parts stand at the present width."""
        return lay_spans(self._segments, self._total, self.width() - 2.0, self._measure)

    def outside(self) -> list[Outside]:
        """Where the labels stand that did not fit into their parts."""
        spans = self.spans()
        left_out = [span.segment for span in spans if not span.inside]
        if self._legend:
            return lay_outside(left_out, 2, self.width(), self._measure)
        rest = spans[-1].left + spans[-1].width if spans else 0.0
        return lay_outside(left_out, rest + 12, self.width() - 8, self._measure)

    def _measure(self, text: str) -> float:
        return text_width(self._theme.font(self._theme.tokens.type.body, Weight.DemiBold), text)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        radius = self._theme.tokens.radius.small
        bar = QRectF(0, 0, self.width(), BAR)
        box(painter, bar, self._theme.colour("paper"), self._theme.colour("edge"), 0, radius)
        painter.setFont(self._theme.font(self._theme.tokens.type.body, Weight.DemiBold))
        clip = QPainterPath()
        clip.addRoundedRect(bar.adjusted(1, 1, -1, -1), radius, radius)
        painter.save()
        painter.setClipPath(clip)
        for span in self.spans():
            self._paint_span(painter, span)
        painter.restore()
        clear = self._theme.colour("card")
        clear.setAlpha(0)
        box(painter, bar, clear, self._theme.colour("edge"), 2, radius)
        for label in self.outside():
            self._paint_outside(painter, label)
        painter.end()

    def _paint_span(self, painter: QPainter, span: Span) -> None:
        fill, ink = self._theme.kind(span.segment.kind)
        place = QRectF(1 + span.left, 1, span.width, BAR - 2)
        painter.fillRect(place, fill)
        painter.setPen(QPen(self._theme.colour("card"), 1))
        painter.drawLine(place.topRight(), place.bottomRight())
        if span.inside:
            painter.setPen(ink)
            painter.drawText(place.adjusted(10, 0, 0, 0), int(LEFT), span.segment.text)

    def _paint_outside(self, painter: QPainter, label: Outside) -> None:
        middle = BAR + LEGEND / 2 if self._legend else BAR / 2
        square = QRectF(label.left, middle - MARK / 2, MARK, MARK)
        fill, _ = self._theme.kind(label.segment.kind)
        box(painter, square, fill, self._theme.colour("edge"), 1, 3)
        painter.setPen(self._theme.colour("ink"))
        place = QRectF(square.right() + 6, middle - BAR / 2, label.width, BAR)
        painter.drawText(place, int(LEFT), label.segment.text)
