"""A few words with a meaning: its mark, its tint, its edge."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from gambrel.ui.icons import paint_icon
from gambrel.ui.theme import MEANING_ICONS, Meaning, Theme, Weight
from gambrel.ui.widgets.painting import LEFT, box, text_width

TALL = 32
MARK = 20
PAD = 8


class Chip(QWidget):
    """Shows a state in a word or two ("3 days left", "below cost"). It is read, not tapped."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._meaning = Meaning.INFO
        self._text = ""
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        theme.changed.connect(self.update)

    @property
    def text(self) -> str:
        """The words that are shown."""
        return self._text

    def show_text(self, meaning: Meaning, text: str) -> None:
        """Show other words; a chip without words has no size."""
        self._meaning, self._text = meaning, text
        self.setAccessibleName(text)
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        if not self._text:
            return QSize(0, 0)
        font = self._theme.font(self._theme.tokens.type.body, Weight.DemiBold)
        return QSize(int(text_width(font, self._text)) + MARK + 3 * PAD + 1, TALL)

    def paintEvent(self, _event: QPaintEvent) -> None:
        if not self._text:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        own = self._theme.colour(self._meaning.value)
        tint = self._theme.colour(f"{self._meaning.value}_tint")
        box(painter, QRectF(self.rect()), tint, own, 1, TALL // 2)
        place = QRectF(PAD, (TALL - MARK) / 2, MARK, MARK)
        paint_icon(painter, MEANING_ICONS[self._meaning], place, own)
        painter.setPen(self._theme.colour("ink"))
        painter.setFont(self._theme.font(self._theme.tokens.type.body, Weight.DemiBold))
        words = QRectF(place.right() + PAD, 0, self.width(), TALL)
        painter.drawText(words, int(LEFT), self._text)
        painter.end()
