"""The form of the scale: how it is reached, when it speaks, and how a line of it is read."""

from __future__ import annotations

from itertools import pairwise

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from gambrel.ui.scale.state import FormState
from gambrel.ui.theme import Theme
from gambrel.ui.widgets.button import ActionButton
from gambrel.ui.widgets.card import Card, label
from gambrel.ui.widgets.fields import Chips, TextField

LONGEST = {"pattern": 120, "port": 200}


class ScaleForm(QWidget):
    """Shows a `FormState`; every change is told, nothing is decided here."""

    changed = Signal(str, str)
    """A field's name and its new text."""
    ports_wanted = Signal()
    """Look for the ports of this machine again."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self.chips: dict[str, Chips] = {}
        self.texts: dict[str, TextField] = {}
        self.look_again = ActionButton(theme, self.tr("Look for ports again"), icon="refresh-cw")
        self.look_again.clicked.connect(self.ports_wanted)
        self._box = QVBoxLayout(self)
        self._box.setContentsMargins(0, 0, 0, 0)
        self._box.setSpacing(theme.tokens.space.gap)
        self._kind = self._card(self.tr("How the weight comes in"))
        self._chip(self._kind, "kind", self.tr("How the weight comes in"), 1)
        self._port = self._make_port()
        self._speaks = self._make_speaks()
        self._line = self._make_line()
        self._words = self._make_words()
        self._box.addStretch(1)

    def _card(self, title: str) -> Card:
        card = Card(self._theme)
        card.box.addWidget(label(title, "label", wrap=True))
        self._box.addWidget(card)
        return card

    def _chip(self, card: Card, name: str, title: str, columns: int, *, head: bool = False) -> None:
        if head:
            card.box.addWidget(label(title, "strong", wrap=True))
        chips = Chips(self._theme, title, columns)
        chips.chosen.connect(lambda key: self.changed.emit(_FIELD.get(name, name), key))
        self.chips[name] = chips
        card.box.addWidget(chips)

    def _text(self, name: str, title: str) -> TextField:
        field = TextField(self._theme, title)
        field.setMaxLength(LONGEST.get(name, 40))
        field.textEdited.connect(lambda text: self.changed.emit(name, text))
        self.texts[name] = field
        return field

    def _make_port(self) -> Card:
        card = self._card(self.tr("The port"))
        self._chip(card, "found_port", self.tr("Ports of this machine"), 2)
        self.no_port = label(
            self.tr("This machine shows no serial port. Plug the scale in, then look again."),
            "soft",
            wrap=True,
        )
        card.box.addWidget(self.no_port)
        card.box.addWidget(self.look_again)
        card.box.addWidget(self._text("port", self.tr("Or its name")))
        self._chip(card, "baud", self.tr("Speed (baud)"), 4, head=True)
        card.box.addWidget(label(self.tr("Bits"), "strong"))
        for name, columns in (("data_bits", 2), ("parity", 3), ("stop_bits", 2)):
            self._chip(card, name, self.tr("Bits"), columns)
        return card

    def _make_speaks(self) -> Card:
        card = self._card(self.tr("When it speaks"))
        self._chip(card, "asking", self.tr("When it speaks"), 1)
        card.box.addWidget(self._text("command", self.tr("What asks it, such as W\\r\\n or \\x05")))
        self.often = label(self.tr("How often it is asked"), "strong")
        card.box.addWidget(self.often)
        self._chip(card, "every_ms", self.tr("How often it is asked"), 2)
        card.box.addWidget(self._text("zero", self.tr("What sets it to zero, such as Z\\r\\n")))
        note = self.tr("With it the block has a key for zero. Leave it empty for none.")
        card.box.addWidget(label(note, "soft", wrap=True))
        return card

    def _make_line(self) -> Card:
        card = self._card(self.tr("How a line is read"))
        self._chip(card, "shape", self.tr("General shape of a line"), 1)
        card.box.addWidget(self._text("pattern", self.tr("The pattern")))
        card.box.addWidget(
            label(
                self.tr(
                    "Fields: {flag} {mode} {sign} {number} {unit} {skip}. Square brackets [ ] go "
                    "round what may be missing. Blanks never matter."
                ),
                "soft",
                wrap=True,
            )
        )
        self._chip(card, "unit", self.tr("Unit of the number"), 5, head=True)
        self._chip(card, "ends", self.tr("A line ends with"), 3, head=True)
        return card

    def _make_words(self) -> Card:
        card = self._card(self.tr("The scale's own words"))
        note = self.tr("Several with a blank between them; leave empty what it never says.")
        card.box.addWidget(label(note, "soft", wrap=True))
        titles = {
            "steady": self.tr("Steady"),
            "unsteady": self.tr("Unsteady"),
            "overload": self.tr("Overload"),
            "gross": self.tr("Gross"),
            "net": self.tr("Net"),
        }
        grid = QGridLayout()
        grid.setSpacing(self._theme.tokens.space.small)
        for number, (name, title) in enumerate(titles.items()):
            grid.addWidget(self._text(name, title), number // 2, number % 2)
        card.box.addLayout(grid)
        return card

    def show_state(self, state: FormState) -> None:
        """Show the form as it stands; groups that do not matter are folded away."""
        for name, choices in state.choices.items():
            self.chips[name].show_choices(choices)
        for name, text in state.texts.items():
            if self.texts[name].text() != text:
                self.texts[name].setText(text)
        found = bool(state.choices["found_port"])
        self.chips["found_port"].setVisible(found)
        self.no_port.setVisible(not found)
        self._port.setVisible(state.serial)
        self._speaks.setVisible(state.serial)
        self.texts["command"].setVisible(state.asks)
        for widget in (self.often, self.chips["every_ms"]):
            widget.setVisible(state.asks_often)
        self._line.setVisible(state.any_scale)
        self._words.setVisible(state.any_scale)
        self._order()

    def _order(self) -> None:
        """Let Tab go down the form as the eye does; chips come and go with their choices."""
        chain: list[QWidget] = []
        for name in ("kind", "found_port"):
            chain += self.chips[name].buttons.values()
        chain += [self.look_again, self.texts["port"]]
        for name in ("baud", "data_bits", "parity", "stop_bits", "asking"):
            chain += self.chips[name].buttons.values()
        chain += [self.texts["command"], *self.chips["every_ms"].buttons.values()]
        chain.append(self.texts["zero"])
        chain += [*self.chips["shape"].buttons.values(), self.texts["pattern"]]
        for name in ("unit", "ends"):
            chain += self.chips[name].buttons.values()
        chain += [self.texts[name] for name in ("steady", "unsteady", "overload", "gross", "net")]
        for before, after in pairwise(chain):
            QWidget.setTabOrder(before, after)


_FIELD = {"found_port": "port"}
"""Chips that fill in a field with another name."""
