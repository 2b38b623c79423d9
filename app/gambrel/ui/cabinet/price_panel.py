"""The panel beside the lines: one cut's price by the keypad, and what it would do."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from gambrel.domain.numbers.money import Currency
from gambrel.ui.cabinet.effects import Effects
from gambrel.ui.cabinet.name_and_price import NameAndPrice
from gambrel.ui.cabinet.price_state import PriceState
from gambrel.ui.cabinet.stepper import Stepper
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import label
from gambrel.ui.widgets.keypad import WIDE, Keypad
from gambrel.ui.widgets.scroll import scrolled

LOW = 520
"""Below this height the keypad makes room for the figures."""

TALL_KEY = 64


class PricePanel(QWidget):
    """Shows a `PriceState`; ``typed_changed`` tells the keypad's text, the others the acts."""

    typed_changed = Signal(str)
    wished = Signal()
    undone = Signal()
    special_wished = Signal()
    end_wished = Signal()

    def __init__(self, theme: Theme, currency: Currency) -> None:
        super().__init__()
        self.head = NameAndPrice(theme)
        self.name, self.price = self.head.name, self.head.price
        self.fault = Banner(theme, closable=False)
        self.facts = label("", "soft", wrap=True)
        self.special = label("", "strong", wrap=True)
        self.end_button = ActionButton(theme, size=18)
        self.body = Stepper(theme, self.tr("Another body"))
        self.effects = Effects(theme, 3)
        self.norm = label("", "soft", wrap=True)
        self.history = label("", "soft", wrap=True)
        self.warning = Banner(theme, closable=False)
        self.keypad = Keypad(
            theme,
            decimals=currency.digits,
            longest=7,
            least=theme.tokens.target.elsewhere,
            rows=WIDE,
        )
        self.keypad.text_changed.connect(self.typed_changed)
        self.set_button = ActionButton(theme, self.tr("Set price"), role=Role.PRIMARY, size=18)
        self.undo_button = ActionButton(theme, self.tr("Undo"), icon="undo-2", size=18)
        self.special_button = ActionButton(theme, self.tr("Special"), size=18)
        self.set_button.clicked.connect(self.wished)
        self.undo_button.clicked.connect(self.undone)
        self.special_button.clicked.connect(self.special_wished)
        self.end_button.clicked.connect(self.end_wished)
        self._lay_out(theme)

    def _lay_out(self, theme: Theme) -> None:
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Expanding)
        content = QWidget()
        upper = QVBoxLayout(content)
        upper.setContentsMargins(0, 0, 0, 0)
        upper.setSpacing(theme.tokens.space.tight)
        for widget in (
            self.head, self.fault, self.facts, self.effects, self.warning, self.special,
            self.end_button, self.body, self.norm, self.history,
        ):  # fmt: skip
            upper.addWidget(widget)
        upper.addStretch(1)
        buttons = QHBoxLayout()
        buttons.setSpacing(theme.tokens.space.small)
        buttons.addWidget(self.undo_button, 3)
        buttons.addWidget(self.special_button, 3)
        buttons.addWidget(self.set_button, 4)
        for button in (self.undo_button, self.special_button, self.set_button):
            button.setMinimumHeight(52)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(theme.tokens.space.small)
        box.addWidget(scrolled(content), 1)
        box.addWidget(self.keypad)
        box.addLayout(buttons)

    def show_state(self, state: PriceState) -> None:
        """Show one cut and the price that is typed for it."""
        self.head.show_values(state.name, state.typed)
        self.facts.setText(state.facts)
        self.effects.show_effects(
            (
                (self.tr("Margin of this cut"), state.this_cut),
                (state.body_name, state.body),
                (self.tr("of the week"), state.week),
            )
        )
        self.norm.setText(state.norm)
        self.history.setText(state.history)
        self.special.setText(state.special)
        self.special.setVisible(bool(state.special))
        self.end_button.say(state.ends)
        self.end_button.setVisible(bool(state.ends))
        self.set_button.say(state.set_text)
        self.set_button.setEnabled(state.can_set)
        if state.fault:
            self.fault.say(Meaning.STOP, state.fault)
        elif state.doubt:
            self.fault.say(Meaning.WATCH, state.doubt)
        else:
            self.fault.clear()
        if state.warning and not state.fault:
            self.warning.say(Meaning.WATCH, state.warning)
        else:
            self.warning.clear()
        self._make_room()

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._make_room()
        super().resizeEvent(event)

    def _make_room(self) -> None:
        """On a low screen keys are flat, and what a price does takes the place of the facts."""
        low = self.height() < LOW
        for key in self.keypad.keys.values():
            key.setMaximumHeight(key.minimumHeight() if low else TALL_KEY)
        said = self.warning.sentence or self.fault.sentence or self.effects.says_more
        self.facts.setVisible(not (low and said))

    def show_undo(self, what: str) -> None:
        """Offer to take the last act back; empty for nothing to take back."""
        self.undo_button.say(self.tr("Undo"), what)
        self.undo_button.setEnabled(bool(what))
