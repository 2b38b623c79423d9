"""The panel that weighs a hanging body again: open it, type, keep."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout

from gambrel.ui.rail.state import ReweighState
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import Card, label
from gambrel.ui.widgets.figure import Figure
from gambrel.ui.widgets.keypad import WIDE, Keypad

WIDTH = 360
KEY = 52
TALLEST_KEY = 132
LINE = 22


class ReweighPanel(Card):
    """Shows a `ReweighState`. Digits type, Enter keeps, Escape leaves."""

    typed = Signal(str)
    keep_wanted = Signal()
    scale_asked = Signal()
    closed = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.setFixedWidth(WIDTH)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.title = label(role="label", wrap=True)
        self.weight = Figure(theme, unit="kg", size=48, right=True)
        self.before = label(role="soft", wrap=True)
        self.difference = label(role="strong")
        self.difference.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.difference.setMinimumHeight(LINE)  # so that no key moves while a scale settles
        self.doubt = Banner(theme, closable=False)
        self.trouble = Banner(theme, closable=False)
        self.ask = ActionButton(theme, self.tr("Ask the scale"))
        self.ask.clicked.connect(self.scale_asked)
        self.caution = label(role="soft", wrap=True)
        self.keypad = Keypad(theme, decimals=3, longest=4, least=KEY, rows=WIDE)
        self.keypad.setMaximumHeight(len(WIDE) * TALLEST_KEY)
        self.keypad.text_changed.connect(self.typed)
        self.keep = ActionButton(theme, role=Role.PRIMARY, least=64)
        self.leave = ActionButton(theme, self.tr("Leave"), least=64)
        self.leave.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Preferred)
        self.keep.clicked.connect(self.keep_wanted)
        self.leave.clicked.connect(self.closed)
        acts = QHBoxLayout()
        acts.addWidget(self.leave)
        acts.addWidget(self.keep, 1)
        words = QVBoxLayout()
        words.setSpacing(0)
        words.addWidget(self.title)
        words.addWidget(self.before)
        head = QHBoxLayout()
        head.addLayout(words, 1)
        head.addWidget(self.weight, 1)
        self.box.addLayout(head)
        self.box.addWidget(self.difference)
        self.box.addWidget(self.doubt)
        self.box.addWidget(self.trouble)
        self.box.addWidget(self.ask)
        self.box.addWidget(self.keypad, 1)
        self.box.addStretch()
        self.box.addWidget(self.caution)
        self.box.addLayout(acts)

    def show_state(self, state: ReweighState) -> None:
        """Show what was typed and what it means."""
        self.title.setText(state.title)
        self.setAccessibleName(f"{self.tr('Weigh again')}: {state.title}")
        marked = Meaning(state.meaning) if state.meaning else None
        self.weight.show_value(state.typed or "0.00", meaning=marked)
        self.before.setText(state.before)
        self.difference.setText(state.difference)
        self.difference.setVisible(not (state.doubt or state.trouble[2]))
        self.keep.say(state.keep)
        self.keep.setEnabled(state.can_keep)
        self.caution.setText(state.caution)
        meaning, word, sentence = state.trouble
        self.caution.setVisible(bool(state.caution) and not (state.doubt or sentence))
        if sentence:
            self.trouble.say(Meaning(meaning), sentence, word=word)
        else:
            self.trouble.clear()
        self.ask.setVisible(state.asks)
        if state.doubt:
            self.doubt.say(Meaning.WATCH, state.doubt, word=self.tr("Is that right?"))
        else:
            self.doubt.clear()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if self.keypad.handle_key(event):
            return
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.keep.click()
        else:
            super().keyPressEvent(event)
