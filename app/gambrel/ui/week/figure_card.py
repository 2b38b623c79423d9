"""One of the five figures of the week as a card that opens."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QMouseEvent, QResizeEvent

from gambrel.domain.sheets.behind import Wish
from gambrel.ui.theme import Theme
from gambrel.ui.week.state import FigureText
from gambrel.ui.widgets.card import Card
from gambrel.ui.widgets.empty import IconMark
from gambrel.ui.widgets.figure import Figure
from gambrel.ui.widgets.short_label import ShortLabel

FIGURE_SIZE = 30
ANY_HEIGHT, LOW_FIGURE = 1_000, 52


class FigureCard(Card):
    """A figure with what it means, last week's and the usual; a tap or Enter opens it."""

    opened = Signal(object)

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self._theme = theme
        self._wish: Wish | None = None
        self.figure = Figure(theme, size=FIGURE_SIZE)
        self.more, self.last, self.usual = (ShortLabel("soft") for _ in range(3))
        for part in (self.figure, self.more, self.last, self.usual):
            self.box.addWidget(part)
        self._mark = IconMark(theme, "chevron-right", 20)
        self._mark.setParent(self)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    def show_text(self, text: FigureText) -> None:
        """Show a figure."""
        self._wish = text.wish
        self.figure.show_value(text.value, caption=text.caption)
        self.more.setText(text.more)
        self.last.setText(text.last)
        self.usual.setText(text.usual)
        self.setToolTip(f"{text.caption}: {text.more}")
        words = (text.value, text.more, text.last, text.usual)
        self.setAccessibleName(f"{text.caption}: {', '.join(words)}")
        self.setAccessibleDescription(self.tr("Enter shows what is behind it."))

    def make_room(self, *, low: bool) -> None:
        """On a low screen what a figure means is told by the tool tip alone."""
        space = self._theme.tokens.space
        across, pad = (space.small, space.tight) if low else (space.gap, space.gap)
        self.box.setContentsMargins(across, pad, across, pad)
        self.box.setSpacing(0 if low else space.tight)
        self.figure.setMaximumHeight(LOW_FIGURE if low else ANY_HEIGHT)
        self.more.setVisible(not low)

    def minimumSizeHint(self) -> QSize:
        return QSize(80, super().minimumSizeHint().height())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        inside = self.rect().contains(event.position().toPoint())
        if inside and event.button() == Qt.MouseButton.LeftButton and self._wish is not None:
            self.opened.emit(self._wish)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        event.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        enter = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)
        if event.key() in enter and self._wish is not None:
            self.opened.emit(self._wish)
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        self.set_chosen(True)
        super().focusInEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        self.set_chosen(False)
        super().focusOutEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._mark.move(self.width() - self._mark.width() - 8, 8)
        super().resizeEvent(event)
