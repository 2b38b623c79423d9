"""The panel beside the lines: one cut's price by the keypad, and what it would do."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from gambrel.domain.money import Currency
from gambrel.ui.cabinet.state import PriceState
from gambrel.ui.cabinet.stepper import Stepper
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import label
from gambrel.ui.widgets.figure import Figure
from gambrel.ui.widgets.keypad import WIDE, Keypad
from gambrel.ui.widgets.scroll import scrolled


class PricePanel(QWidget):
    """Shows a `PriceState`; ``typed_changed`` tells the keypad's text, ``wished`` the act."""

    typed_changed = Signal(str)
    wished = Signal()
    undone = Signal()

    def __init__(self, theme: Theme, currency: Currency) -> None:
        super().__init__()
        self.name = label("", "label", wrap=True)
        self.facts = label("", "soft", wrap=True)
        self.price = Figure(theme, self.tr("New price"), self.tr("/kg"), size=40)
        self.body = Stepper(theme, self.tr("In the body"))
        self.effects = [label("", "strong") for _ in range(3)]
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
        for key in self.keypad.keys.values():
            key.setMaximumHeight(64)
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
        for widget in (self.name, self.facts, self.price, self.warning):
            upper.addWidget(widget)
        upper.addLayout(self._effects(theme))
        upper.addWidget(self.body)
        upper.addWidget(self.history)
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
        names = (self.tr("Margin of this cut"), self.tr("of the body"), self.tr("of the week"))
        for row, (name, value) in enumerate(zip(names, self.effects, strict=True)):
            grid.addWidget(label(name, "soft"), row, 0)
            grid.addWidget(value, row, 1)
        grid.setColumnStretch(0, 1)
        return grid

    def show_state(self, state: PriceState) -> None:
        """Show one cut and the price that is typed for it."""
        self.name.setText(state.name)
        self.facts.setText(state.facts)
        self.price.show_value(state.typed)
        texts = (state.this_cut, state.body, state.week)
        for value, text in zip(self.effects, texts, strict=True):
            value.setText(text)
        self.history.setText(state.history)
        self.set_button.setEnabled(state.can_set)
        if state.warning:
            self.warning.say(Meaning.WATCH, state.warning)
        else:
            self.warning.clear()

    def show_undo(self, what: str) -> None:
        """Offer to take the last act back; empty for nothing to take back."""
        self.undo_button.say(self.tr("Undo"), what)
        self.undo_button.setEnabled(bool(what))
