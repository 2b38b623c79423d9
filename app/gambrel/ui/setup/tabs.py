"""The row of Setup's tabs: quiet words in groups, in two rows where one has no room for all."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from itertools import pairwise

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy

from gambrel.ui.theme import Theme, Weight
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.choice import Choice
from gambrel.ui.widgets.fields import Chips
from gambrel.ui.widgets.painting import CENTRE, SMALLEST_TEXT, draw_fitted, fit, text_width

TALL = 48
BETWEEN = 24
"""Between two groups; a line stands in the middle."""
SIZES = ((20, 40), (20, 28), (18, 28), (17, 24), (SMALLEST_TEXT, 16))
"""Pixels of the words, and beside them at their two edges together: the first that has room."""


class Tab(ActionButton):
    """A word, and a strong line under the one that is chosen, as the places have it."""

    def __init__(self, theme: Theme, text: str) -> None:
        super().__init__(theme, text, least=TALL, role=Role.QUIET)
        self._pixels = SMALLEST_TEXT
        self.setCheckable(True)

    def stand(self, pixels: int, wide: int) -> None:
        """Write the word in these pixels, on a tab of this width; 0 lets the layout choose it."""
        self._pixels = pixels
        policy = QSizePolicy.Policy
        self.setMinimumWidth(wide or self._least)
        self.setMaximumWidth(wide or 16_777_215)
        self.setSizePolicy(policy.Fixed if wide else policy.Ignored, policy.Fixed)
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        rect = QRectF(self.rect())
        chosen = self.isChecked()
        if self.is_hovered or self.isDown():
            painter.fillRect(rect, self.theme.colour("chosen"))
        if self.hasFocus():
            painter.setPen(self.theme.colour("accent"))
            painter.drawRect(rect.adjusted(2.5, 4.5, -2.5, -8.5))
        painter.setPen(self.theme.colour("accent" if chosen else "soft_ink"))
        font = self.theme.font(self._pixels, Weight.Bold if chosen else Weight.DemiBold)
        words = fit(self.text(), font, rect.width() - 8, rect.height() - 8)
        draw_fitted(painter, rect, words, CENTRE)
        self.setToolTip("" if words.whole else self.text())
        if chosen:
            tall = self.theme.tokens.line.strong
            line = rect.adjusted(0, rect.height() - tall, 0, 0)
            painter.fillRect(line, self.theme.colour("accent"))
        painter.end()


class TabRow(Chips):
    """Tabs beside each other, as wide as their words."""

    def __init__(self, theme: Theme, name: str, begin: Collection[str] = ()) -> None:
        """``begin`` are the keys of the tabs that begin a group; the first does anyway."""
        super().__init__(theme, name, 1)
        self._begin = frozenset(begin)
        self._shape: tuple[int, int] | None = None
        self._grid.setSpacing(0)
        theme.changed.connect(self.update)

    def _chip(self, choice: Choice) -> ActionButton:
        made = Tab(self._theme, choice.text)
        made.clicked.connect(lambda: self.chosen.emit(choice.key))
        self._group.addButton(made)
        return made

    def show_choices(self, choices: Sequence[Choice]) -> None:
        """Show these tabs; buttons stay where their keys stay."""
        new = [choice.key for choice in choices] != list(self.buttons)
        super().show_choices(choices)
        if new:  # while they came the window may have grown, and some of them stand already
            self._shape = None

    def _starts(self) -> list[str]:
        """The tabs before which a group ends."""
        return [key for key in list(self.buttons)[1:] if key in self._begin]

    def _wide(self, key: str, pixels: int, pad: int) -> int:
        font = self._theme.font(pixels, Weight.Bold)
        return max(int(text_width(font, self.buttons[key].text())) + 1 + pad, TALL)

    def _needed(self, pixels: int, pad: int) -> int:
        words = sum(self._wide(key, pixels, pad) for key in self.buttons)
        return words + BETWEEN * len(self._starts())

    def stand_in(self, width: int) -> None:
        """Stand in one row, in the largest words for which so much room is enough, else in two."""
        if not self.buttons:
            return
        shape = next((each for each in SIZES if self._needed(*each) <= width), None)
        if shape == self._shape and shape is not None:
            return
        self._shape = shape
        columns = len(self.buttons) if shape else (len(self.buttons) + 1) // 2
        starts = self._starts() if shape else []
        for column in range(2 * len(self.buttons) + 1):
            self._grid.setColumnStretch(column, 0)
            self._grid.setColumnMinimumWidth(column, 0)
        for number, (key, button) in enumerate(self.buttons.items()):
            assert isinstance(button, Tab)
            row, column = divmod(number, columns)
            button.stand(
                shape[0] if shape else SMALLEST_TEXT, self._wide(key, *shape) if shape else 0
            )
            self._grid.addWidget(button, row, 2 * column + 1)
            if key in starts:
                self._grid.setColumnMinimumWidth(2 * column, BETWEEN)
            if not shape:
                self._grid.setColumnStretch(2 * column + 1, 1)
        if shape:
            self._grid.setColumnStretch(2 * columns, 1)
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        rule, line = self._theme.colour("rule"), self._theme.tokens.line.rule
        painter.fillRect(0, self.height() - line, self.width(), line, rule)
        for before, after in pairwise(self.buttons.values()):
            between = after.x() - before.geometry().right() - 1
            if after.y() == before.y() and between > 0:
                left = after.x() - between // 2
                painter.fillRect(left, after.y() + 12, line, after.height() - 24, rule)
        painter.end()
