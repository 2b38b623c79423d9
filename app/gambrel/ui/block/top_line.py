"""The block's top line.

Its controls are as tall as the line, 56 px: they are used between bodies, not while cutting, and
are the one exception to the block's 15 mm.
"""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from gambrel.ui.block.state import TopText
from gambrel.ui.icons import paint_icon
from gambrel.ui.theme import Theme, Weight
from gambrel.ui.widgets.button import Button, Role
from gambrel.ui.widgets.card import label
from gambrel.ui.widgets.painting import RIGHT, draw_fitted, fit, text_width
from gambrel.ui.widgets.short_label import ShortLabel

TALL = 56
UPPER, LOWER, BOTTOM = 3, 29, 50
"""Where the upper of the two lines of words begins, the lower, and where that ends."""

MARK = 20

WIDEST_NAME = 220
"""A longer name of a person ends in dots, so that what lies here keeps its room."""


class WorkTime(QWidget):
    """The work clock, and under it how long the body has been out of the cold."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._top = TopText()
        self.setFixedSize(168, TALL)
        theme.changed.connect(self.update)

    def show_time(self, top: TopText) -> None:
        """Show another time."""
        if top == self._top:
            return
        self._top = top
        words = self.tr("paused") if top.paused else self.tr("running")
        self.setAccessibleName(
            self.tr("Work time {0}, {1}; {2}").format(top.clock, words, top.off_rail)
        )
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        if not self._top.clock:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        c = self._theme.colour
        upper = QRectF(0, UPPER, self.width(), LOWER - UPPER)
        figure = fit(self._top.clock, self._theme.font(22, Weight.DemiBold), 80, upper.height())
        painter.setPen(c("ink"))
        draw_fitted(painter, upper, figure, RIGHT)
        icon = "pause" if self._top.paused else "clock"
        mark = QRectF(self.width() - 80, upper.center().y() - MARK / 2, MARK, MARK)
        paint_icon(painter, icon, mark, c("soft_ink"))
        if self._top.paused:
            painter.setPen(c("soft_ink"))
            place = upper.adjusted(0, 1, -86, 1)
            word = fit(self.tr("paused"), self._theme.font(16), place.width(), place.height())
            draw_fitted(painter, place, word, RIGHT)
        self._paint_off_rail(painter, QRectF(0, LOWER, self.width(), BOTTOM - LOWER))
        painter.end()

    def _paint_off_rail(self, painter: QPainter, place: QRectF) -> None:
        """How long it has been off the rail; when that is long, with a mark right before it."""
        long_off = self._top.long_off
        colour = self._theme.colour("watch" if long_off else "soft_ink")
        font = self._theme.font(16, Weight.DemiBold if long_off else Weight.Normal)
        words = fit(self._top.off_rail, font, place.width() - MARK - 4, place.height())
        painter.setPen(colour)
        draw_fitted(painter, place, words, RIGHT)
        if long_off:
            left = place.right() - text_width(words.font, words.lines[0]) - MARK - 4
            mark = QRectF(left, place.center().y() - MARK / 2, MARK, MARK)
            paint_icon(painter, "thermometer", mark, colour)


class TopLine(QWidget):
    """Back to the rail; what lies here; its weight; who cuts; the time."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self.rail_key = Button(
            theme, self.tr("Rail"), icon="chevron-left", role=Role.QUIET, least=TALL - 8
        )
        self.person_key = Button(theme, icon="user", least=TALL - 8)
        self.title, self.more = ShortLabel("title"), ShortLabel("soft")
        self.weight = label("", "figure")
        self.time = WorkTime(theme)
        self.person_key.setMinimumWidth(118)
        self.person_key.setMaximumWidth(WIDEST_NAME)
        self.rail_key.setMinimumWidth(108)
        for key in (self.rail_key, self.person_key):
            key.setFixedHeight(TALL - 8)
            key.setFocusPolicy(Qt.FocusPolicy.TabFocus)  # a tap leaves the keyboard where it is
        words = QVBoxLayout()
        words.setSpacing(0)
        words.addWidget(self.title)
        words.addWidget(self.more)
        row = QHBoxLayout(self)
        row.setContentsMargins(8, UPPER, 14, TALL - BOTTOM)
        row.setSpacing(14)
        row.addWidget(self.rail_key)
        row.addLayout(words, 1)
        row.addWidget(self.weight)
        row.addWidget(self.person_key)
        row.addWidget(self.time)
        self.setFixedHeight(TALL)
        theme.changed.connect(self.update)

    def show_top(self, top: TopText) -> None:
        """Show what lies here and who cuts."""
        self.title.setText(top.title)
        self.more.setText(top.more)
        self.more.setVisible(bool(top.more))
        self.weight.setText(top.weight)
        self.person_key.say(top.person or self.tr("Who cuts?"))
        self.person_key.setAccessibleName(
            self.tr("Butcher: {0}").format(top.person or self.tr("nobody chosen"))
        )
        self.person_key.setVisible(bool(top.clock))
        self.time.show_time(top)

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._theme.colour("card"))
        line = self._theme.tokens.line.strong
        painter.fillRect(0, self.height() - line, self.width(), line, self._theme.colour("accent"))
        painter.end()
