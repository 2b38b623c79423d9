"""The panel of one cut's bounds: hold it, its floor, its ceiling, and how much of it is sold."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout

from gambrel.domain.numbers.money import Currency
from gambrel.ui.cabinet.keypad_panel import LONGEST, TALL_ACT, KeypadPanel
from gambrel.ui.cabinet.solve_state import CEILING, FLOOR, SOLD, LimitState
from gambrel.ui.theme import Theme
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import label
from gambrel.ui.widgets.fields import NumberField

SOLD_DECIMALS = 1


class LimitsPanel(KeypadPanel):
    """Shows a `LimitState`; the keypad types into the field that was tapped last."""

    changed = Signal()
    wished = Signal()
    left = Signal()

    def __init__(self, theme: Theme, currency: Currency) -> None:
        super().__init__(theme, currency)
        self._digits = currency.digits
        self.name = label("", "label", wrap=True)
        self.facts = label("", "soft", wrap=True)
        self.hold = ActionButton(theme, self.tr("Hold at today's price"), size=18)
        self.hold.setCheckable(True)
        self.hold.setMinimumHeight(TALL_ACT)
        self.fields = {
            FLOOR: NumberField(theme, self.tr("Floor"), self.tr("/kg")),
            CEILING: NumberField(theme, self.tr("Ceiling"), self.tr("/kg")),
            SOLD: NumberField(theme, self.tr("Really sold"), self.tr("% of the weight")),
        }
        self.hint = label(
            self.tr("Kept for every solve. Leave a field empty where there is no bound."),
            "soft",
            wrap=True,
        )
        self.back_button = ActionButton(theme, self.tr("Back"), icon="chevron-left", size=18)
        self.clear_button = ActionButton(theme, self.tr("No bounds"), size=18)
        self.keep_button = ActionButton(theme, self.tr("Keep"), role=Role.PRIMARY, size=18)
        self.active = FLOOR
        self._connect()
        pair = QHBoxLayout()
        pair.setSpacing(theme.tokens.space.small)
        pair.addWidget(self.fields[FLOOR])
        pair.addWidget(self.fields[CEILING])
        self.lay_out(
            (self.name, self.facts, pair, self.fault, self.fields[SOLD], self.hold, self.hint),
            ((self.back_button, 1), (self.clear_button, 1), (self.keep_button, 1)),
        )

    def _connect(self) -> None:
        group = QButtonGroup(self)
        for name, field in self.fields.items():
            group.addButton(field)
            field.entered.connect(lambda name=name: self.enter(name))
        self.keypad.text_changed.connect(self._typed)
        self.hold.clicked.connect(self.changed)
        self.back_button.clicked.connect(self.left)
        self.keep_button.clicked.connect(self.wished)
        self.clear_button.clicked.connect(self._clear)

    @property
    def texts(self) -> dict[str, str]:
        """What stands in the fields."""
        return {name: field.value for name, field in self.fields.items()}

    def start(self, texts: dict[str, str], *, held: bool) -> None:
        """Begin with a cut's own bounds."""
        for name, text in texts.items():
            self.fields[name].show_value(text)
        self.hold.setChecked(held)
        self.enter(FLOOR)

    def enter(self, name: str) -> None:
        """Let the keypad type into a field."""
        self.active = name
        self.fields[name].setChecked(True)
        self.keypad.blockSignals(True)
        self.keypad.set_limits(
            decimals=SOLD_DECIMALS if name == SOLD else self._digits,
            longest=3 if name == SOLD else LONGEST,
        )
        self.keypad.set_text(self.fields[name].value)
        self.keypad.blockSignals(False)

    def _typed(self, text: str) -> None:
        self.fields[self.active].show_value(text)
        self.changed.emit()

    def _clear(self) -> None:
        self.start(dict.fromkeys(self.fields, ""), held=False)
        self.changed.emit()

    def show_state(self, state: LimitState) -> None:
        """Show whose bounds they are, and what is wrong with them."""
        self.name.setText(state.name)
        self.facts.setText(state.facts)
        self.keep_button.setEnabled(state.can_keep)
        self.say_fault(state.fault)
        for widget in (self.facts, self.hint):
            widget.setVisible(not state.fault)
