"""The panel that stands in place of the cuts while somebody asks what another use would earn."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from gambrel.ui.block.keys import BlockKey
from gambrel.ui.block.what_if_state import WhatIfState
from gambrel.ui.icons import paint_icon
from gambrel.ui.theme import MEANING_ICONS, Meaning, Theme, Weight
from gambrel.ui.widgets.button import Role
from gambrel.ui.widgets.card import Card, label
from gambrel.ui.widgets.painting import LEFT, draw_fitted, fit

TALL = 480
"""A panel taller than this has room for larger words."""


class Earning(QWidget):
    """The difference in money, with a mark and a word."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._meaning, self._figure, self._caption = Meaning.INFO, "", ""
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(140, theme.tokens.target.block)
        theme.changed.connect(self.update)

    def say(self, meaning: str, figure: str, caption: str) -> None:
        """Show another difference."""
        self._meaning, self._figure, self._caption = Meaning(meaning), figure, caption
        self.setAccessibleName(f"{figure} {caption}".strip() or self.tr("no figure"))
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        colour = self._theme.colour(self._meaning.value)
        mark = QRectF(0, self.height() / 2 - 16, 32, 32)
        paint_icon(painter, MEANING_ICONS[self._meaning], mark, colour)
        place = QRectF(42, 0, self.width() - 42, self.height())
        upper = place.adjusted(0, 0, 0, -24)
        painter.setPen(colour)
        font = self._theme.font(46, Weight.Bold)
        draw_fitted(painter, upper, fit(self._figure, font, upper.width(), upper.height()), LEFT)
        lower = QRectF(place.left(), place.bottom() - 26, place.width(), 26)
        painter.setPen(self._theme.colour("soft_ink"))
        words = fit(self._caption, self._theme.font(18), lower.width(), 26)
        draw_fitted(painter, lower, words, LEFT)
        painter.end()


class WhatIfPanel(Card):
    """Shows a `WhatIfState`; every wish is a signal."""

    closed = Signal()
    way_wished = Signal()
    other_wished = Signal()
    minutes_stepped = Signal(int)

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.title: QLabel = label("", "heading")
        self.close_key = BlockKey(theme, self.tr("Back"), role=Role.QUIET)
        self.way_key, self.other_key = BlockKey(theme), BlockKey(theme)
        self.fewer_key = BlockKey(theme, icon="minus")
        self.more_key = BlockKey(theme, icon="plus")
        self.minutes: QLabel = label("", "label")
        self.earning = Earning(theme)
        self.sentence: QLabel = label("", "strong", wrap=True)
        self.fewer_key.setAccessibleName(self.tr("A minute less of work"))
        self.more_key.setAccessibleName(self.tr("A minute more of work"))
        self._connect()
        self._lay_out(theme.tokens.space.small)

    def _connect(self) -> None:
        self.close_key.clicked.connect(self.closed)
        self.way_key.clicked.connect(self.way_wished)
        self.other_key.clicked.connect(self.other_wished)
        for key in (self.fewer_key, self.more_key):
            key.setAutoRepeat(True)  # held down it goes on
        self.fewer_key.clicked.connect(lambda: self.minutes_stepped.emit(-1))
        self.more_key.clicked.connect(lambda: self.minutes_stepped.emit(1))

    def _lay_out(self, gap: int) -> None:
        head, ways, work = QHBoxLayout(), QHBoxLayout(), QHBoxLayout()
        for row in (head, ways, work):
            row.setSpacing(gap)
        head.addWidget(self.title, 1, Qt.AlignmentFlag.AlignTop)
        head.addWidget(self.close_key)
        ways.addWidget(self.way_key, 1)
        ways.addWidget(self.other_key, 1)
        self.minutes.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.minutes.setMinimumWidth(84)
        words = QVBoxLayout()
        words.setSpacing(0)
        words.addStretch(1)
        words.addWidget(self.minutes)
        more = label(self.tr("more work"), "soft")
        more.setAlignment(Qt.AlignmentFlag.AlignCenter)
        words.addWidget(more)
        words.addStretch(1)
        work.addWidget(self.earning, 1)
        work.addWidget(self.fewer_key)
        work.addLayout(words)
        work.addWidget(self.more_key)
        self.sentence.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
        for part in (head, ways, work):
            self.box.addLayout(part)
        self.box.addWidget(self.sentence, 1)

    @property
    def first_key(self) -> BlockKey:
        """Where somebody who walks the keys begins."""
        return self.way_key

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        role = "label" if self.height() > TALL else "strong"
        if role != self.sentence.property("role"):  # a font that is set goes with the next theme
            self.sentence.setProperty("role", role)
            self.sentence.style().unpolish(self.sentence)
            self.sentence.style().polish(self.sentence)

    def show_state(self, state: WhatIfState) -> None:
        """Show another answer."""
        self.title.setText(state.title)
        self.way_key.say(state.way, self.tr("as it is"))
        self.other_key.say(state.other, self.tr("against"))
        self.minutes.setText(state.minutes)
        self.earning.say(state.meaning, state.figure, state.caption)
        self.sentence.setText(state.sentence)
