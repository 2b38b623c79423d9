"""The chosen cut: its fields, which scroll, beside a keypad, and the acts under them."""

from __future__ import annotations

from itertools import pairwise

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from gambrel.domain.trade.cut_edits import LONGEST_NAME
from gambrel.domain.trade.keys import LONGEST_KEY
from gambrel.services.catalogue import CAPTIONS
from gambrel.ui.setup.cuts_state import LINES, NUMBERS, FormState
from gambrel.ui.setup.page import KEY, TALLEST, SideCard
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import label
from gambrel.ui.widgets.fields import FIELD, Chips, NumberField, TextField
from gambrel.ui.widgets.keypad import Keypad
from gambrel.ui.widgets.scroll import scrolled

PAD = 224
"""Width of the keypad."""
LONGEST_LINE = 2_000
PROSE = ("ingredients", "allergens", "storage", "cooking")
"""The lines that labels say."""
UNITS = {"shelf_life_days": "days", "plu": ""}
LONGEST = {"shelf_life_days": 5, "plu": 6}
FIXED = QSizePolicy.Policy.Fixed


class CutForm(SideCard):
    """Shows a `FormState`; ``typed`` tells a column and its new text."""

    WIDE = 584
    typed = Signal(str, str)

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme, "slice")
        self._column, self._decimals, self._fee = "shelf_life_days", 2, False
        self.lines = {name: TextField(theme, CAPTIONS[name]) for name in LINES}
        self.numbers = {
            name: NumberField(theme, CAPTIONS[name], UNITS.get(name, self.tr("a kilo")))
            for name in NUMBERS
        }
        self.kinds = Chips(theme, CAPTIONS["kind"], 2)
        self.kind_fixed = label(role="soft", wrap=True)
        self.fee = ActionButton(theme, self.tr("It is a fee"), least=FIELD)
        self.fee.setCheckable(True)
        self.on_labels = label(self.tr("On labels"), "strong")
        self.follows = Banner(theme, closable=False)
        self.refusal = Banner(theme, closable=False)
        self.keypad = Keypad(theme, least=KEY)
        self.keypad.setMaximumHeight(3 * TALLEST)
        self.keypad.setFixedWidth(PAD)
        self.aside = ActionButton(theme, least=56)
        self.keep = ActionButton(theme, role=Role.PRIMARY, least=56)
        self._connect()
        self.fields = scrolled(self._fields(theme.tokens.space.small))
        self._lay_out(theme.tokens.space.small)

    def _connect(self) -> None:
        for name, line in self.lines.items():
            longest = {"name": LONGEST_NAME}.get(name, LONGEST_KEY)
            line.setMaxLength(LONGEST_LINE if name in PROSE else longest)
            line.textEdited.connect(lambda text, name=name: self.typed.emit(name, text))
        for name, number in self.numbers.items():
            number.entered.connect(lambda name=name: self.choose_column(name))
        self.kinds.chosen.connect(lambda kind: self.typed.emit("kind", kind))
        self.keypad.text_changed.connect(self._key)
        self.fee.clicked.connect(self._turn)

    def _fields(self, gap: int) -> QWidget:
        page = QWidget()
        self._flow = QGridLayout()
        self._flow.setSpacing(gap)
        for column in range(2):
            self._flow.setColumnStretch(column, 1)
        box = QVBoxLayout(page)
        box.setContentsMargins(0, 0, gap, 0)
        box.setSpacing(gap)
        for part in (self.lines["name"], self.lines["species"], self.lines["cut"]):
            box.addWidget(part)
        box.addWidget(self.kinds)
        box.addWidget(self.kind_fixed)
        box.addLayout(self._flow)
        box.addWidget(self.on_labels)
        for name in PROSE:
            box.addWidget(self.lines[name])
        box.addStretch(1)
        return page

    def _pair(self, columns: frozenset[str]) -> None:
        """Put what is asked of this kind of cut two in a row, the last alone if need be."""
        parts: list[QWidget] = [self.numbers[name] for name in NUMBERS if name in columns]
        if "credit_per_kg" in columns:
            parts.insert(parts.index(self.numbers["credit_per_kg"]) + 1, self.fee)
        parts.append(self.lines["unece"])
        for number, part in enumerate(parts):
            alone = number == len(parts) - 1 and not number % 2
            self._flow.addWidget(part, number // 2, number % 2, 1, 2 if alone else 1)
        for before, after in pairwise([*parts, self.lines[PROSE[0]]]):
            QWidget.setTabOrder(before, after)

    def _lay_out(self, gap: int) -> None:
        self._middle = middle = QHBoxLayout()
        acts, pad = QHBoxLayout(), QVBoxLayout()
        for row in (middle, acts, pad):
            row.setSpacing(gap)
        pad.addWidget(self.keypad, 100)
        pad.addStretch(1)
        middle.addWidget(self.fields, 1)
        middle.addLayout(pad)
        for button in (self.aside, self.keep):
            button.setSizePolicy(QSizePolicy.Policy.Preferred, FIXED)
        acts.addWidget(self.aside)
        acts.addWidget(self.keep, 1)
        self.box.addLayout(middle, 100)
        self.box.addWidget(self.follows)
        self.box.addWidget(self.refusal)
        self.box.addLayout(acts)
        self.box.addStretch(1)

    def set_money(self, decimals: int) -> None:
        """How many decimals the book's currency has."""
        self._decimals = decimals

    def choose_column(self, name: str) -> None:
        """Let the keypad type into another number."""
        self._column = name
        money = name.endswith("_per_kg")
        self.keypad.set_limits(
            decimals=self._decimals if money else 0, longest=LONGEST.get(name, 6)
        )
        self.reload()

    def reload(self) -> None:
        """Let the keypad go on from what the chosen number shows, and no other wait for it."""
        for name, number in self.numbers.items():
            number.setChecked(name == self._column)
        self.keypad.blockSignals(True)
        self.keypad.set_text(self.numbers[self._column].value)
        self.keypad.blockSignals(False)

    def _key(self, text: str) -> None:
        sign = "-" if self._column == "credit_per_kg" and self._fee else ""
        self.typed.emit(self._column, f"{sign}{text}" if text else "")

    def _turn(self) -> None:
        """A credit becomes a fee, or a fee a credit."""
        value = self.numbers["credit_per_kg"].value or "0"
        self.typed.emit("credit_per_kg", value if self._fee else f"-{value}")

    def show_state(self, state: FormState) -> None:
        """Show the chosen cut, or what to do where there is none."""
        some = bool(state.title)
        self.stand_empty(empty=not some)
        self.box.setStretchFactor(self._middle, 100 if some else 0)
        head = not (state.follows or state.refusal)  # on a low window there is no room for both
        self.title.setText(state.title)
        self.title.setVisible(some and head)
        self.setAccessibleName(state.title or state.about)
        self.about.setText(state.about)
        self.about.setVisible(bool(state.about) and head)
        self._fee = state.fee
        for part in (self.fields, self.keypad, self.keep, self.aside):
            part.setVisible(some)
        for name, field in (*self.lines.items(), *self.numbers.items()):
            field.setVisible(name in state.columns)
        self._pair(state.columns)
        self._show_texts(state)
        self.kinds.show_choices(state.kinds)
        self.kinds.setVisible(not state.kind_fixed)
        self.kind_fixed.setText(state.kind_fixed)
        self.kind_fixed.setVisible(bool(state.kind_fixed))
        self.fee.setVisible("credit_per_kg" in state.columns)
        self.fee.setChecked(state.fee)
        self._tell(state)
        self.aside.say(state.aside)
        self.keep.say(state.act)
        self.keep.setEnabled(state.can_act)
        if some and self._column not in state.columns:
            self.choose_column("shelf_life_days")
        else:
            self.reload()

    def _show_texts(self, state: FormState) -> None:
        for name, line in self.lines.items():
            text = state.texts.get(name, "")
            if line.text() != text:
                line.setText(text)
                line.setCursorPosition(0)
        for name, number in self.numbers.items():
            number.show_value(state.texts.get(name, "").removeprefix("-"))

    def _tell(self, state: FormState) -> None:
        """A refusal, or what follows from what was typed; both at once have no room."""
        for banner, meaning, words in (
            (self.refusal, Meaning.STOP, state.refusal),
            (self.follows, Meaning.WATCH, "" if state.refusal else state.follows),
        ):
            if words:
                banner.say(
                    meaning,
                    words,
                    word=self.tr("Before you keep it") if meaning is Meaning.WATCH else "",
                )
            else:
                banner.clear()
