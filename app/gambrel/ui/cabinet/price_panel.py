"""The panel beside the lines: one cut's price by the keypad, and what it would do."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QGridLayout,
    QHBoxLayout,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from gambrel.domain.numbers.money import Currency
from gambrel.ui.cabinet.state import PriceState
from gambrel.ui.cabinet.stepper import Stepper
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import label
from gambrel.ui.widgets.figure import Figure
from gambrel.ui.widgets.keypad import WIDE, Keypad
from gambrel.ui.widgets.scroll import scrolled

LOW = 520
"""Below this height the keypad makes room for the figures."""

TALL_KEY = 64

LONG_NAME = 22
"""More letters than fit beside a price."""


class PricePanel(QWidget):
    """Shows a `PriceState`; ``typed_changed`` tells the keypad's text, ``wished`` the act."""

    typed_changed = Signal(str)
    wished = Signal()
    undone = Signal()

    def __init__(self, theme: Theme, currency: Currency) -> None:
        super().__init__()
        self.name = label("", "label", wrap=True)
        self.facts = label("", "soft", wrap=True)
        self.price = Figure(theme, "", self.tr("/kg"), size=40, right=True)
        self.body = Stepper(theme, self.tr("Another body"))
        self.body_name = label("", "soft")
        self.effects = [label("", "strong") for _ in range(3)]
        self.norm = label("", "soft", wrap=True)
        self.history = label("", "soft", wrap=True)
        self.warning = Banner(theme)
        self.warning.close_button.hide()
        self.keypad = Keypad(
            theme,
            decimals=currency.digits,
            longest=7,
            least=theme.tokens.target.elsewhere,
            rows=WIDE,
        )
        self.keypad.text_changed.connect(self.typed_changed)
        self.set_button = ActionButton(theme, self.tr("Set price"), role=Role.PRIMARY)
        self.undo_button = ActionButton(theme, self.tr("Undo"), icon="undo-2")
        self.set_button.clicked.connect(self.wished)
        self.undo_button.clicked.connect(self.undone)
        self._lay_out(theme)

    def _lay_out(self, theme: Theme) -> None:
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Expanding)
        content = QWidget()
        upper = QVBoxLayout(content)
        upper.setContentsMargins(0, 0, 0, 0)
        upper.setSpacing(theme.tokens.space.tight)
        self._head = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._head.addWidget(self.name, 1)
        self._head.addWidget(self.price, 1)
        upper.addLayout(self._head)
        upper.addWidget(self.facts)
        upper.addWidget(self.warning)
        upper.addLayout(self._effects(theme))
        for widget in (self.body, self.norm, self.history):
            upper.addWidget(widget)
        upper.addStretch(1)
        buttons = QHBoxLayout()
        buttons.setSpacing(theme.tokens.space.small)
        buttons.addWidget(self.undo_button, 2)
        buttons.addWidget(self.set_button, 3)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(theme.tokens.space.small)
        box.addWidget(scrolled(content), 1)
        box.addWidget(self.keypad)
        box.addLayout(buttons)

    def _effects(self, theme: Theme) -> QGridLayout:
        grid = QGridLayout()
        grid.setVerticalSpacing(theme.tokens.space.tight)
        heads = (
            label(self.tr("Margin of this cut"), "soft"),
            self.body_name,
            label(self.tr("of the week"), "soft"),
        )
        for row, (head, value) in enumerate(zip(heads, self.effects, strict=True)):
            value.setAlignment(Qt.AlignmentFlag.AlignRight)
            grid.addWidget(head, row, 0)
            grid.addWidget(value, row, 1)
        grid.setColumnStretch(0, 1)
        return grid

    def show_state(self, state: PriceState) -> None:
        """Show one cut and the price that is typed for it."""
        self._show_name(state.name)
        self.facts.setText(state.facts)
        self.body_name.setText(state.body_name)
        self.body_name.setVisible(bool(state.body_name))
        self.effects[1].setVisible(bool(state.body_name))
        self.price.show_value(state.typed)
        texts = (state.this_cut, state.body, state.week)
        for value, text in zip(self.effects, texts, strict=True):
            value.setText(text)
        self.norm.setText(state.norm)
        self.history.setText(state.history)
        self.set_button.setEnabled(state.can_set)
        if state.warning:
            self.warning.say(Meaning.WATCH, state.warning)
        else:
            self.warning.clear()
        self._make_room()

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._make_room()
        super().resizeEvent(event)

    def _make_room(self) -> None:
        """On a low screen keys are flat, and a warning stands in the place of the facts."""
        low = self.height() < LOW
        for key in self.keypad.keys.values():
            key.setMaximumHeight(key.minimumHeight() if low else TALL_KEY)
        self.facts.setVisible(not (low and self.warning.sentence))

    def _show_name(self, name: str) -> None:
        """A long name stands above its price, in smaller type."""
        if name == self.name.text():
            return
        long = len(name) > LONG_NAME
        way = QBoxLayout.Direction.TopToBottom if long else QBoxLayout.Direction.LeftToRight
        self._head.setDirection(way)
        self.name.setProperty("role", "strong" if long else "label")
        self.name.style().unpolish(self.name)
        self.name.style().polish(self.name)
        self.name.setText(name)

    def show_undo(self, what: str) -> None:
        """Offer to take the last act back; empty for nothing to take back."""
        self.undo_button.say(self.tr("Undo"), what)
        self.undo_button.setEnabled(bool(what))
