"""The form at the door: what came, from whom, docket and scale, and what is off."""

from __future__ import annotations

from itertools import pairwise

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QSizePolicy,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from gambrel.domain.numbers.money import Currency
from gambrel.ui.rail.receive_state import ReceiveState
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import Card, label
from gambrel.ui.widgets.choice import Choice
from gambrel.ui.widgets.fields import FIELD, Chips, DayStepper, NumberField, TextField
from gambrel.ui.widgets.keypad import NARROW, Keypad
from gambrel.ui.widgets.scroll import scrolled

SIDE = 380
KEY = 44
TALLEST_KEY = 132


class ReceivePanel(QWidget):
    """Shows a `ReceiveState`; every wish is told, nothing is decided here.

    It asks in two steps, so that a low window has room for each without scrolling: what came and
    from whom, then the figures.
    """

    changed = Signal(str, str)
    """A field's name and its new text: a number's, "portion", "supplier", "body", "again", ..."""
    day_stepped = Signal(int)
    supplier_wanted = Signal(str)
    """The name of a new supplier."""
    scale_wanted = Signal()
    take_wanted = Signal()
    closed = Signal()

    def __init__(self, theme: Theme, currency: Currency, symbol: str) -> None:
        super().__init__()
        self._currency = currency
        self._field = "docket"
        self.portions = Chips(theme, self.tr("What came"), 3)
        self.suppliers = Chips(theme, self.tr("From"), 3)
        self.newcomer = TextField(theme, self.tr("Name of the new supplier"))
        self.add_key = ActionButton(theme, self.tr("Add"), least=FIELD)
        for part in (self.newcomer, self.add_key):
            part.hide()
        self.what_key = ActionButton(theme, least=FIELD)
        self.from_key = ActionButton(theme, least=FIELD)
        self.numbers = {
            "docket": NumberField(theme, self.tr("Docket says"), "kg"),
            "received": NumberField(theme, self.tr("Scale says"), "kg"),
            "price": NumberField(theme, self.tr("Price"), f"{symbol} a kilo"),
            "other": NumberField(theme, self.tr("Other cost"), symbol),
            "temperature": NumberField(theme, self.tr("Core temperature"), "°C"),
        }
        self.killed = DayStepper(theme, self.tr("Killed on"))
        self.pays = Chips(theme, self.tr("Paid by"), 2, tall=FIELD)
        self.body = TextField(theme, self.tr("Name of the body"))
        self.ref = TextField(theme, self.tr("Docket number"))
        self.scale_key = ActionButton(theme, size=20)
        self.keypad = Keypad(theme, least=KEY, rows=NARROW)
        self.keypad.setMaximumHeight(len(NARROW) * TALLEST_KEY)
        self.missing = label(role="soft", wrap=True)
        self.claims = Banner(theme, closable=False)
        self.refusal = Banner(theme)
        self.caution = label(role="soft", wrap=True)
        self.take = ActionButton(theme, role=Role.PRIMARY, least=64)
        self.leave = ActionButton(theme, self.tr("Leave"), least=64)
        self.leave.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Preferred)
        self._connect()
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(theme.tokens.space.gap)
        self._choices = scrolled(self._origin(theme))
        self._figures = scrolled(self._form(theme))
        self._pages = QStackedWidget()
        for page in (self._choices, self._figures):
            self._pages.addWidget(page)
        row.addWidget(self._pages, 1)
        row.addWidget(self._side(theme))

    def _connect(self) -> None:
        for name, field in self.numbers.items():
            field.entered.connect(lambda name=name: self.choose_field(name))
        self.keypad.text_changed.connect(lambda text: self.changed.emit(self._field, text))
        self.portions.chosen.connect(lambda key: self.changed.emit("portion", key))
        self.suppliers.chosen.connect(lambda key: self.changed.emit("supplier", key))
        self.what_key.clicked.connect(lambda: self.changed.emit("again", "portion"))
        self.from_key.clicked.connect(lambda: self.changed.emit("again", "supplier"))
        self.newcomer.returnPressed.connect(self._named)
        self.add_key.clicked.connect(self._named)
        self.pays.chosen.connect(lambda key: self.changed.emit("priced_on", key))
        self.body.textEdited.connect(lambda text: self.changed.emit("body", text))
        self.ref.textEdited.connect(lambda text: self.changed.emit("supplier_ref", text))
        self.killed.stepped.connect(self.day_stepped)
        self.scale_key.clicked.connect(self.scale_wanted)
        self.take.clicked.connect(self.take_wanted)
        self.leave.clicked.connect(self.closed)

    def _origin(self, theme: Theme) -> QWidget:
        """The first step."""
        card = Card(theme)
        card.box.addWidget(label(self.tr("Receive a body"), "label"))
        card.box.addWidget(label(self.tr("What came"), "strong"))
        card.box.addWidget(self.portions)
        card.box.addWidget(label(self.tr("From"), "strong"))
        card.box.addWidget(self.suppliers)
        return _page(card)

    def _form(self, theme: Theme) -> QWidget:
        """The second step."""
        card = Card(theme)
        card.box.addWidget(label(self.tr("Docket, scale and thermometer"), "label"))
        card.box.addLayout(self._fields(theme.tokens.space.small))
        card.box.addWidget(self.claims)
        return _page(card)

    def _fields(self, gap: int) -> QGridLayout:
        """What was chosen, then the numbers three a row, then the day and the names."""
        grid = QGridLayout()
        grid.setSpacing(gap)
        rows: tuple[tuple[tuple[QWidget, int], ...], ...] = (
            ((self.what_key, 4), (self.from_key, 4), (self.ref, 4)),
            tuple((self.numbers[name], 4) for name in ("docket", "received", "temperature")),
            ((self.numbers["price"], 4), (self.numbers["other"], 4), (self.pays, 4)),
            ((self.killed, 7), (self.body, 5)),
        )
        for down, row in enumerate(rows):
            across = 0
            for field, span in row:
                grid.addWidget(field, down, across, 1, span)
                across += span
        for column in range(12):
            grid.setColumnStretch(column, 1)
        return grid

    def _side(self, theme: Theme) -> QWidget:
        side = QWidget()
        side.setFixedWidth(SIDE)
        naming, acts = QHBoxLayout(), QHBoxLayout()
        naming.addWidget(self.newcomer, 1)
        naming.addWidget(self.add_key)
        acts.addWidget(self.leave)
        acts.addWidget(self.take, 1)
        box = QVBoxLayout(side)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(theme.tokens.space.small)
        box.addWidget(self.refusal)
        box.addLayout(naming)
        box.addWidget(self.scale_key)
        box.addWidget(self.keypad, 1)
        box.addStretch()
        box.addWidget(self.caution)
        box.addWidget(self.missing)
        box.addLayout(acts)
        return side

    def _named(self) -> None:
        name = self.newcomer.text().strip()
        if name:
            self.supplier_wanted.emit(name)

    def choose_field(self, name: str) -> None:
        """Let the keypad type into another number."""
        self._field = name
        self._show_scale_key()
        for each, field in self.numbers.items():
            field.setChecked(each == name)
        decimals = {"docket": 3, "received": 3, "temperature": 1}.get(name, self._currency.digits)
        self.keypad.set_limits(decimals=decimals, longest=4 if decimals == 3 else 6)
        self.reload_keypad()

    def show_scale(self, text: str, *, can_take: bool) -> None:
        """Say what the scale offers; an empty text is nothing."""
        self.scale_key.say(text)
        self.scale_key.setEnabled(can_take)
        self._show_scale_key()

    def _show_scale_key(self) -> None:
        """The scale is offered while its own weight is what the keypad types."""
        due = self._field == "received" and bool(self.scale_key.text())
        self.scale_key.setVisible(due and self._pages.currentWidget() is self._figures)

    def reload_keypad(self) -> None:
        """Let the keypad go on from what the chosen field shows."""
        self.keypad.blockSignals(True)
        self.keypad.set_text(self.numbers[self._field].value)
        self.keypad.blockSignals(False)

    def show_state(self, state: ReceiveState) -> None:
        """Show the form as it stands."""
        self.portions.show_choices(state.portions)
        self.suppliers.show_choices(state.suppliers)
        self.what_key.say(state.what, self.tr("what came"))
        self.from_key.say(state.supplier, self.tr("from"))
        asked = state.naming and self.newcomer.isHidden()
        for part in (self.newcomer, self.add_key):
            part.setVisible(state.naming)
        if asked:
            self.newcomer.clear()
            self.newcomer.setFocus()
        docket = Choice("docket", self.tr("Pay by docket"), state.pays_docket)
        weighed = Choice("received", self.tr("Pay by scale"), not state.pays_docket)
        self.pays.show_choices((docket, weighed))
        self._turn_to(state)
        for name, text in state.numbers.items():
            self.numbers[name].show_value(text)
        self.killed.value.show_value(state.killed_on)
        for line, text in ((self.body, state.body), (self.ref, state.supplier_ref)):
            if line.text() != text:
                line.setText(text)
        if state.claims:
            self.claims.say(
                Meaning.WATCH, "\n".join(state.claims), word=self.tr("Something is off")
            )
        else:
            self.claims.clear()
        self.missing.setText(state.missing)
        self.missing.setVisible(bool(state.missing))
        self.caution.setText(state.caution)
        self.caution.setVisible(bool(state.caution))
        self.take.say(state.act)
        self.take.setEnabled(state.can_receive)

    def _turn_to(self, state: ReceiveState) -> None:
        """Show the step that is due; the focus goes to where its work begins."""
        page = self._choices if state.choosing else self._figures
        turned = self._pages.currentWidget() is not page
        self._pages.setCurrentWidget(page)
        self.keypad.setVisible(not state.choosing)
        self._show_scale_key()
        self._order()
        if turned and state.choosing:
            chips = self.suppliers if state.again == "supplier" else self.portions
            next(iter(chips.buttons.values()), self.leave).setFocus()
        elif turned:
            self.numbers["docket"].setFocus()

    def _order(self) -> None:
        """Let Tab go down the form as the eye does; chips come and go with their choices."""
        numbers = self.numbers
        chain: list[QWidget] = [*self.portions.buttons.values(), *self.suppliers.buttons.values()]
        chain += [self.newcomer, self.add_key, self.what_key, self.from_key, self.ref]
        chain += [numbers[name] for name in ("docket", "received", "temperature")]
        chain += [numbers["price"], numbers["other"], *self.pays.buttons.values()]
        chain += [self.killed.earlier, self.killed.later, self.body]
        chain += [self.scale_key, self.take, self.leave]
        for before, after in pairwise(chain):
            QWidget.setTabOrder(before, after)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if self.keypad.isVisible() and self.keypad.handle_key(event):
            return
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
        else:
            super().keyPressEvent(event)


def _page(card: Card) -> QWidget:
    """A page that holds a card at its top: a scroll area clears its page's colour, not a card's."""
    card.box.addStretch(1)
    page = QWidget()
    box = QVBoxLayout(page)
    box.setContentsMargins(0, 0, 0, 0)
    box.addWidget(card)
    return page
