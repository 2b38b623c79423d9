"""The panel beside the lines: one cut's price by the keypad, and what it would do."""

from __future__ import annotations

from PySide6.QtCore import Signal

from gambrel.domain.numbers.money import Currency
from gambrel.ui.cabinet.effects import Effects
from gambrel.ui.cabinet.keypad_panel import KeypadPanel
from gambrel.ui.cabinet.name_and_price import NameAndPrice
from gambrel.ui.cabinet.price_state import PriceState
from gambrel.ui.cabinet.stepper import Stepper
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import label


class PricePanel(KeypadPanel):
    """Shows a `PriceState`; ``typed_changed`` tells the keypad's text, the others the acts."""

    typed_changed = Signal(str)
    wished = Signal()
    undone = Signal()
    special_wished = Signal()
    end_wished = Signal()

    def __init__(self, theme: Theme, currency: Currency) -> None:
        super().__init__(theme, currency)
        self.head = NameAndPrice(theme)
        self.name, self.price = self.head.name, self.head.price
        self.facts = label("", "soft", wrap=True)
        self.special = label("", "strong", wrap=True)
        self.end_button = ActionButton(theme, size=18)
        self.body = Stepper(theme, self.tr("Another body"))
        self.effects = Effects(theme, 3)
        self.norm = label("", "soft", wrap=True)
        self.history = label("", "soft", wrap=True)
        self.warning = Banner(theme, closable=False)
        self.keypad.text_changed.connect(self.typed_changed)
        self.set_button = ActionButton(theme, self.tr("Set price"), role=Role.PRIMARY, size=18)
        self.undo_button = ActionButton(theme, self.tr("Undo"), icon="undo-2", size=18)
        self.special_button = ActionButton(theme, self.tr("Special"), size=18)
        self.set_button.clicked.connect(self.wished)
        self.undo_button.clicked.connect(self.undone)
        self.special_button.clicked.connect(self.special_wished)
        self.end_button.clicked.connect(self.end_wished)
        self.lay_out(
            (
                self.head, self.fault, self.effects, self.warning, self.special, self.end_button,
                self.facts, self.body, self.norm, self.history,
            ),
            ((self.undo_button, 3), (self.special_button, 3), (self.set_button, 4)),
        )  # fmt: skip

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
        self.say_fault(state.fault, state.doubt)
        if state.warning and not state.fault:
            self.warning.say(Meaning.WATCH, state.warning)
        else:
            self.warning.clear()

    def show_undo(self, what: str) -> None:
        """Offer to take the last act back; empty for nothing to take back."""
        self.undo_button.say(self.tr("Undo"), what)
        self.undo_button.setEnabled(bool(what))
