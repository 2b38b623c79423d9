"""The panel that puts a cut on special: its price, its first and its last day."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from gambrel.domain.numbers.money import Currency
from gambrel.ui.cabinet.effects import Effects
from gambrel.ui.cabinet.name_and_price import NameAndPrice
from gambrel.ui.cabinet.price_panel import LOW, TALL_KEY
from gambrel.ui.cabinet.price_state import SpecialState
from gambrel.ui.cabinet.stepper import Stepper
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import label
from gambrel.ui.widgets.keypad import WIDE, Keypad
from gambrel.ui.widgets.scroll import scrolled


class SpecialPanel(QWidget):
    """Shows a `SpecialState`; ``changed`` tells that a price or a day was chosen."""

    changed = Signal()
    wished = Signal()
    left = Signal()

    def __init__(self, theme: Theme, currency: Currency) -> None:
        super().__init__()
        self.head = NameAndPrice(theme)
        self.fault = Banner(theme, closable=False)
        self.first = Stepper(theme, self.tr("First day"))
        self.last = Stepper(theme, self.tr("Last day"))
        self.plan = label("", "strong", wrap=True)
        self.effects = Effects(theme, 1)
        self.keypad = Keypad(
            theme,
            decimals=currency.digits,
            longest=7,
            least=theme.tokens.target.elsewhere,
            rows=WIDE,
        )
        self.keypad.text_changed.connect(lambda _text: self.changed.emit())
        for stepper in (self.first, self.last):
            stepper.chosen.connect(lambda _index: self.changed.emit())
        self.back_button = ActionButton(theme, self.tr("Back"), icon="chevron-left", size=18)
        self.set_button = ActionButton(theme, self.tr("Set special"), role=Role.PRIMARY, size=18)
        self.back_button.clicked.connect(self.left)
        self.set_button.clicked.connect(self.wished)
        self._lay_out(theme)

    def _lay_out(self, theme: Theme) -> None:
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Expanding)
        content = QWidget()
        upper = QVBoxLayout(content)
        upper.setContentsMargins(0, 0, 0, 0)
        upper.setSpacing(theme.tokens.space.small)
        for widget in (self.head, self.fault, self.first, self.last, self.plan, self.effects):
            upper.addWidget(widget)
        upper.addStretch(1)
        buttons = QHBoxLayout()
        buttons.setSpacing(theme.tokens.space.small)
        buttons.addWidget(self.back_button, 2)
        buttons.addWidget(self.set_button, 3)
        for button in (self.back_button, self.set_button):
            button.setMinimumHeight(52)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(theme.tokens.space.small)
        box.addWidget(scrolled(content), 1)
        box.addWidget(self.keypad)
        box.addLayout(buttons)

    def show_state(self, state: SpecialState) -> None:
        """Show what is planned; the chosen days stay."""
        self.head.show_values(state.name, state.typed)
        self.first.show_options(state.firsts, self.first.index)
        self.last.show_options(state.lasts, self.last.index)
        self.plan.setText(state.plan)
        self.plan.setVisible(not state.fault)
        of = "" if state.fault else self.tr("Margin of this cut")
        self.effects.show_effects(((of, state.effect),))
        self.set_button.say(self.tr("Set special"), state.until)
        self.set_button.setEnabled(state.can_set)
        if state.fault:
            self.fault.say(Meaning.STOP, state.fault)
        elif state.doubt:
            self.fault.say(Meaning.WATCH, state.doubt)
        else:
            self.fault.clear()

    def choose_days(self, first: int, last: int) -> None:
        """Choose days by their places among those offered; tells nobody."""
        self.first.choose(first)
        self.last.choose(last)

    def resizeEvent(self, event: QResizeEvent) -> None:
        low = self.height() < LOW
        for key in self.keypad.keys.values():
            key.setMaximumHeight(key.minimumHeight() if low else TALL_KEY)
        super().resizeEvent(event)
