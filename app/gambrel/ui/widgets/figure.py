"""One number that matters, large, with its unit and what it is."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from gambrel.ui.icons import paint_icon
from gambrel.ui.theme import MEANING_ICONS, Meaning, Theme, Weight
from gambrel.ui.widgets.painting import LEFT, RIGHT, SMALLEST_TEXT, fit, text_width


class Figure(QWidget):
    """A number in tabular digits, its unit beside it and a caption above it.

    The number shrinks where the room is short, so that it is never cut.
    """

    def __init__(
        self,
        theme: Theme,
        caption: str = "",
        unit: str = "",
        *,
        size: int = 0,
        right: bool = False,
    ) -> None:
        super().__init__()
        self._theme = theme
        self._caption = caption
        self._unit = unit
        self._value = ""
        self._meaning: Meaning | None = None
        self._size = size or theme.tokens.type.figure
        self._right = right
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        theme.changed.connect(self.update)

    @property
    def value(self) -> str:
        """The number as it is shown."""
        return self._value

    @property
    def meaning(self) -> Meaning | None:
        """What it is marked as, if it is."""
        return self._meaning

    def show_value(
        self,
        value: str,
        unit: str | None = None,
        *,
        caption: str | None = None,
        meaning: Meaning | None = None,
    ) -> None:
        """Show another number; ``meaning`` adds its mark and colour."""
        self._value = value
        self._unit = self._unit if unit is None else unit
        self._caption = self._caption if caption is None else caption
        self._meaning = meaning
        words = (self._caption, value, self._unit, meaning.value if meaning else "")
        self.setAccessibleName(" ".join(word for word in words if word))
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        wide = text_width(self._font(), self._value) + 6 + text_width(self._unit_font(), self._unit)
        wide += self._size if self._meaning else 0
        wide = max(wide, text_width(self._caption_font(), self._caption))
        return QSize(int(wide) + 2, self._number_height() + self._caption_height())

    def minimumSizeHint(self) -> QSize:
        return QSize(64, self._number_height() + self._caption_height())

    def _font(self) -> QFont:
        return self._theme.font(self._size, Weight.Bold)

    def _unit_font(self) -> QFont:
        return self._theme.font(max(self._size * 2 // 5, SMALLEST_TEXT), Weight.DemiBold)

    def _caption_font(self) -> QFont:
        return self._theme.font(SMALLEST_TEXT)

    def _caption_height(self) -> int:
        return int(QFontMetricsF(self._caption_font()).height()) if self._caption else 0

    def _number_height(self) -> int:
        return int(QFontMetricsF(self._font()).height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        head = self._caption_height()
        rect = QRectF(self.rect())
        if head:
            painter.setPen(self._theme.colour("soft_ink"))
            painter.setFont(self._caption_font())
            place = QRectF(0, 0, rect.width(), head)
            words = fit(self._caption, self._caption_font(), rect.width(), head).lines[0]
            painter.drawText(place, int(RIGHT if self._right else LEFT), words)
        self._paint_number(painter, rect.adjusted(0, head, 0, 0))
        painter.end()

    def _paint_number(self, painter: QPainter, rect: QRectF) -> None:
        unit_wide = text_width(self._unit_font(), self._unit) + 6 if self._unit else 0.0
        mark = self._size * 0.7 + 6 if self._meaning else 0.0
        fitted = fit(self._value, self._font(), rect.width() - unit_wide - mark, rect.height())
        wide = text_width(fitted.font, fitted.lines[0])
        left = rect.right() - unit_wide - wide if self._right else rect.left() + mark
        if self._meaning:
            side = self._size * 0.7
            place = QRectF(left - mark, rect.center().y() - side / 2, side, side)
            paint_icon(painter, MEANING_ICONS[self._meaning], place, self._ink())
        painter.setPen(self._ink())
        painter.setFont(fitted.font)
        base = rect.center().y() + QFontMetricsF(fitted.font).capHeight() / 2
        painter.drawText(int(left), int(base), fitted.lines[0])
        painter.setPen(self._theme.colour("soft_ink"))
        painter.setFont(self._unit_font())
        painter.drawText(int(left + wide + 6), int(base), self._unit)

    def _ink(self) -> QColor:
        return self._theme.colour(self._meaning.value if self._meaning else "ink")
