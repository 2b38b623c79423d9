"""The shell's top line: the places, the shop's name, what stands aside, and light or dark."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget

from gambrel.ui.icons import paint_icon
from gambrel.ui.theme import Theme, Weight
from gambrel.ui.widgets.button import ActionButton, Button, Role
from gambrel.ui.widgets.painting import LEFT, RIGHT, text_width
from gambrel.ui.widgets.short_label import ShortLabel

BAR = 64


class PlaceButton(Button):
    """One place of the bar: icon and word, and a strong line under the one that is shown."""

    def __init__(self, theme: Theme, title: str, icon: str, keys: str) -> None:
        super().__init__(theme, title, icon=icon, role=Role.QUIET)
        self.setCheckable(True)
        self.setAutoExclusive(True)
        self.setFixedHeight(BAR)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setToolTip(f"{title} ({keys})")

    def sizeHint(self) -> QSize:
        font = self.theme.font(self.theme.tokens.type.label, Weight.DemiBold)
        return QSize(int(text_width(font, self.text())) + 26 + 8 + 36, BAR)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        chosen = self.isChecked()
        ink = self.theme.colour("accent" if chosen else "soft_ink")
        if not self.isEnabled():
            ink = self.theme.colour("edge")
        if self.is_hovered or self.isDown():
            painter.fillRect(self.rect(), self.theme.colour("chosen"))
        if self.hasFocus():
            painter.setPen(self.theme.colour("accent"))
            painter.drawRect(self.rect().adjusted(4, 4, -5, -8))
        paint_icon(painter, self.icon_name, QRectF(18, BAR / 2 - 13, 26, 26), ink)
        painter.setPen(ink)
        weight = Weight.Bold if chosen else Weight.DemiBold
        painter.setFont(self.theme.font(self.theme.tokens.type.label, weight))
        painter.drawText(QRectF(52, 0, self.width() - 52, BAR), int(LEFT), self.text())
        if chosen:
            tall = self.theme.tokens.line.strong + 2
            painter.fillRect(0, BAR - tall, self.width(), tall, ink)
        painter.end()


class NavBar(QWidget):
    """The places from left to right; ``chosen`` tells a place's key, ``dark_toggled`` the wish.

    Those that stand aside follow at the right, after the shop's name.
    """

    chosen = Signal(str)
    dark_toggled = Signal()

    def __init__(
        self,
        theme: Theme,
        places: Sequence[tuple[str, str, str]],
        aside: Sequence[str] = (),
    ) -> None:
        """``places`` are key, title and icon, in the order of the bar; ``aside`` are keys."""
        super().__init__()
        self._theme = theme
        self.setFixedHeight(BAR)
        self.places: dict[str, PlaceButton] = {}
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, theme.tokens.space.gap, 0)
        row.setSpacing(0)
        for number, (key, title, icon) in enumerate(places, start=1):
            button = PlaceButton(theme, title, icon, f"Ctrl+{number}")
            button.clicked.connect(lambda _=False, key=key: self.chosen.emit(key))
            self.places[key] = button
            row.addWidget(button)
        self.shop = ShortLabel("soft", RIGHT)
        row.addStretch(1)
        row.addWidget(self.shop)
        row.addSpacing(theme.tokens.space.gap)
        for key in aside:
            row.removeWidget(self.places[key])
            row.addWidget(self.places[key])
        self.dark_button = ActionButton(theme, role=Role.QUIET)
        self.dark_button.clicked.connect(self.dark_toggled)
        row.addWidget(self.dark_button)
        theme.changed.connect(self._show_theme)
        self._show_theme()

    def show_chosen(self, key: str) -> None:
        """Mark the place that is shown."""
        if key in self.places:
            self.places[key].setChecked(True)

    def _show_theme(self) -> None:
        dark = self._theme.is_dark
        self.dark_button.say("", icon="sun" if dark else "moon")
        words = self.tr("Light colours") if dark else self.tr("Dark colours")
        self.dark_button.setAccessibleName(words)
        self.dark_button.setToolTip(f"{words} (Ctrl+D)")
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._theme.colour("card"))
        line = self._theme.tokens.line.edge
        edge: QColor = self._theme.colour("accent")
        painter.fillRect(0, self.height() - line, self.width(), line, edge)
        painter.end()
