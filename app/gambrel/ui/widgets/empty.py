"""What a place shows while there is nothing to show: a mark, a sentence, and what to do."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from gambrel.ui.icons import paint_icon
from gambrel.ui.theme import Theme
from gambrel.ui.widgets.button import BigButton, Role
from gambrel.ui.widgets.card import label


class IconMark(QWidget):
    """One icon of a given size in a colour of the theme."""

    def __init__(self, theme: Theme, icon: str, side: int, role: str = "soft_ink") -> None:
        super().__init__()
        self._theme, self._icon, self._side, self._role = theme, icon, side, role
        self.setFixedSize(QSize(side, side))
        theme.changed.connect(self.update)

    def show_icon(self, icon: str, role: str | None = None) -> None:
        """Show another icon, or the same in another colour."""
        self._icon = icon
        self._role = role or self._role
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        place = QRectF(0, 0, self._side, self._side)
        paint_icon(painter, self._icon, place, self._theme.colour(self._role))
        painter.end()


class EmptyState(QWidget):
    """An icon, a sentence in large type, a softer one beneath, and one action."""

    acted = Signal()

    def __init__(
        self, theme: Theme, icon: str, sentence: str, action: str = "", more: str = ""
    ) -> None:
        super().__init__()
        self.sentence = label(sentence, "label", wrap=True)
        self.more = label(more, "soft", wrap=True)
        self.action = BigButton(theme, action, role=Role.PRIMARY)
        for text in (self.sentence, self.more):
            text.setAlignment(Qt.AlignmentFlag.AlignHCenter)
            text.setMaximumWidth(620)
        for part, words in ((self.more, more), (self.action, action)):
            if not words:  # showing it before it has a parent would open a window
                part.hide()
        self.action.clicked.connect(self.acted)
        self.setAccessibleName(sentence)
        box = QVBoxLayout(self)
        box.setSpacing(theme.tokens.space.gap)
        box.addStretch(2)
        for widget in (IconMark(theme, icon, 72), self.sentence, self.more, self.action):
            row = QHBoxLayout()
            row.addStretch(1)
            row.addWidget(widget, 4 if widget in (self.sentence, self.more) else 0)
            row.addStretch(1)
            box.addLayout(row)
        box.addStretch(3)
