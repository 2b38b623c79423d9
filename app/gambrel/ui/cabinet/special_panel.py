"""The panel that puts a cut on special: its price, its first and its last day."""

from __future__ import annotations

from PySide6.QtCore import Signal

from gambrel.domain.numbers.money import Currency
from gambrel.ui.cabinet.effects import Effects
from gambrel.ui.cabinet.keypad_panel import KeypadPanel
from gambrel.ui.cabinet.name_and_price import NameAndPrice
from gambrel.ui.cabinet.special_state import SpecialState
from gambrel.ui.cabinet.stepper import Stepper
from gambrel.ui.theme import Theme
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import label


class SpecialPanel(KeypadPanel):
    """Shows a `SpecialState`; ``changed`` tells that a price or a day was chosen."""

    changed = Signal()
    wished = Signal()
    left = Signal()

    def __init__(self, theme: Theme, currency: Currency) -> None:
        super().__init__(theme, currency)
        self.head = NameAndPrice(theme)
        self.first = Stepper(theme, self.tr("First day"))
        self.last = Stepper(theme, self.tr("Last day"))
        self.plan = label("", "strong", wrap=True)
        self.effects = Effects(theme, 1)
        self.keypad.text_changed.connect(lambda _text: self.changed.emit())
        for stepper in (self.first, self.last):
            stepper.chosen.connect(lambda _index: self.changed.emit())
        self.back_button = ActionButton(theme, self.tr("Back"), icon="chevron-left", size=18)
        self.set_button = ActionButton(theme, self.tr("Set special"), role=Role.PRIMARY, size=18)
        self.back_button.clicked.connect(self.left)
        self.set_button.clicked.connect(self.wished)
        self.lay_out(
            (self.head, self.fault, self.first, self.last, self.plan, self.effects),
            ((self.back_button, 2), (self.set_button, 3)),
        )

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
        self.say_fault(state.fault, state.doubt)

    def choose_days(self, first: int, last: int) -> None:
        """Choose days by their places among those offered; tells nobody."""
        self.first.choose(first)
        self.last.choose(last)
