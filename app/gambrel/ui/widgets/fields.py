"""Fields that a gloved finger can choose and a keypad can fill."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFocusEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QGridLayout,
    QHBoxLayout,
    QLineEdit,
    QSizePolicy,
    QWidget,
)

from gambrel.ui.theme import Theme, Weight
from gambrel.ui.widgets.button import ActionButton, Button
from gambrel.ui.widgets.choice import Choice
from gambrel.ui.widgets.painting import LEFT, draw_fitted, fit, text_width

FIELD = 64
CHIP = 52
HEAD = 20
"""Height of a field's caption."""


class NumberField(Button):
    """A caption and a number with its unit; chosen while the keypad types into it."""

    entered = Signal()

    def __init__(self, theme: Theme, name: str, unit: str) -> None:
        super().__init__(theme, least=FIELD)
        self._label, self._unit, self._value = name, unit, ""
        self.setCheckable(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.clicked.connect(self._enter)
        self.show_value("")

    @property
    def value(self) -> str:
        """What was typed."""
        return self._value

    def show_value(self, value: str) -> None:
        """Show what was typed."""
        self._value = value
        self.setAccessibleName(f"{self._label}: {value or self.tr('not given')} {self._unit}")
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(180, FIELD)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self._enter()

    def _enter(self) -> None:
        self.setChecked(True)
        self.entered.emit()

    def paint_face(self, painter: QPainter, rect: QRectF, ink: QColor, soft: QColor) -> None:
        inner = rect.adjusted(6, 0, -6, 0)
        small = self.theme.font(self.theme.tokens.type.body)
        painter.setPen(soft)
        head = QRectF(inner.left(), inner.top(), inner.width(), HEAD)
        draw_fitted(painter, head, fit(self._label, small, inner.width(), HEAD), LEFT)
        body = QRectF(inner.left(), head.bottom(), inner.width(), inner.bottom() - head.bottom())
        unit = text_width(small, self._unit) + 8
        font = self.theme.font(self.theme.tokens.type.label, Weight.DemiBold)
        number = fit(self._value or "–", font, body.width() - unit, body.height())
        painter.setPen(ink if self._value else soft)
        draw_fitted(painter, body, number, LEFT)
        painter.setPen(soft)
        wide = text_width(number.font, number.lines[0])
        place = body.adjusted(wide + 8, 2, 0, 2)
        draw_fitted(painter, place, fit(self._unit, small, place.width(), 24), LEFT)


class TextField(QLineEdit):
    """A line of text under its caption, as tall as the numbers beside it."""

    def __init__(self, theme: Theme, name: str) -> None:
        super().__init__()
        self._theme, self._name = theme, name
        self.setProperty("tall", True)
        self.setAccessibleName(name)
        self.setMaxLength(40)
        self.setTextMargins(0, HEAD, 0, 0)

    def rename(self, name: str) -> None:
        """Ask for something else."""
        if name != self._name:
            self._name = name
            self.setAccessibleName(name)
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        painter = QPainter(self)
        painter.setPen(self._theme.colour("soft_ink"))
        painter.setFont(self._theme.font(self._theme.tokens.type.body))
        painter.drawText(QRectF(14, 6, self.width() - 28, HEAD), int(LEFT), self._name)
        painter.end()


class Chips(QWidget):
    """Some choices side by side, one of them chosen; ``chosen`` tells its key."""

    chosen = Signal(str)

    def __init__(self, theme: Theme, name: str, columns: int, *, tall: int = CHIP) -> None:
        super().__init__()
        self._theme = theme
        self._columns = columns
        self._tall = tall
        self.buttons: dict[str, ActionButton] = {}
        self._group = QButtonGroup(self)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(theme.tokens.space.small)
        self.setAccessibleName(name)

    def show_choices(self, choices: Sequence[Choice]) -> None:
        """Show these choices; buttons stay where their keys stay."""
        if [choice.key for choice in choices] != list(self.buttons):
            self._rebuild(choices)
        none = not any(choice.chosen for choice in choices)
        self._group.setExclusive(not none)
        for choice in choices:
            self.buttons[choice.key].setChecked(choice.chosen)

    def _rebuild(self, choices: Sequence[Choice]) -> None:
        for button in self.buttons.values():
            self._group.removeButton(button)
            button.hide()
            button.deleteLater()
        self.buttons = {choice.key: self._chip(choice) for choice in choices}
        for number, button in enumerate(self.buttons.values()):
            self._grid.addWidget(button, number // self._columns, number % self._columns)
            button.show()  # at once, so that Tab finds it before the layout's next turn

    def _chip(self, choice: Choice) -> ActionButton:
        button = ActionButton(self._theme, choice.text, least=self._tall, size=18)
        button.setCheckable(True)
        button.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        button.clicked.connect(lambda: self.chosen.emit(choice.key))
        self._group.addButton(button)
        return button


class DayStepper(QWidget):
    """A day with a button for the day before and one for the day after."""

    stepped = Signal(int)

    def __init__(self, theme: Theme, name: str) -> None:
        super().__init__()
        self.value = NumberField(theme, name, "")
        self.value.setCheckable(False)
        self.value.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.value.clicked.connect(lambda: self.stepped.emit(0))
        self.earlier = ActionButton(theme, icon="minus", least=FIELD)
        self.later = ActionButton(theme, icon="plus", least=FIELD)
        self.earlier.setAccessibleName(self.tr("{0}: a day earlier").format(name))
        self.later.setAccessibleName(self.tr("{0}: a day later").format(name))
        self.earlier.clicked.connect(lambda: self.stepped.emit(-1))
        self.later.clicked.connect(lambda: self.stepped.emit(1))
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(theme.tokens.space.small)
        row.addWidget(self.earlier)
        row.addWidget(self.value, 1)
        row.addWidget(self.later)
