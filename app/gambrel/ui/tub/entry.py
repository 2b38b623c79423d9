"""A keypad with what was typed above it, and the act that takes it."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from gambrel.ui.theme import Theme
from gambrel.ui.widgets.button import Button, Role
from gambrel.ui.widgets.figure import Figure
from gambrel.ui.widgets.keypad import NARROW, WIDE, Keypad

KEY, TALLEST = 46, 96
"""A key's least and greatest height here, beside the block; it grows with the room."""


class EntryPad(QWidget):
    """Figure, keypad and act. ``typed`` tells the text after every key, ``acted`` the act.

    ``figure`` stands above the keys, or elsewhere where ``apart`` is true; ``wide`` puts four keys
    side by side.
    """

    typed = Signal(str)
    acted = Signal()

    def __init__(self, theme: Theme, *, apart: bool = False, wide: bool = False) -> None:
        super().__init__()
        self.figure = Figure(theme, size=30, right=True)
        rows = WIDE if wide else NARROW
        self.keypad = Keypad(theme, longest=4, least=KEY, rows=rows)
        self.keypad.setMaximumHeight(len(rows) * TALLEST)
        grid = self.keypad.layout()
        if isinstance(grid, QGridLayout):
            for column in range(len(rows[0])):
                grid.setColumnStretch(column, 1)
        self.act = Button(theme, role=Role.PRIMARY, least=56, size=20)
        self.keypad.text_changed.connect(self.typed)
        self.act.clicked.connect(self.acted)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(theme.tokens.space.small)
        if not apart:
            box.addWidget(self.figure)
        box.addWidget(self.keypad, 1)
        box.addWidget(self.act)
        if not wide:
            box.addStretch(0)
        self.setMinimumWidth(216)

    def show_entry(self, typed: str, unit: str, act: str, *, can_act: bool) -> None:
        """Show what was typed, and what the act would do."""
        self.figure.show_value(typed or "–", unit)
        self.keypad.set_text(typed)
        self.act.say(act)
        self.act.setEnabled(can_act)

    def handle_key(self, event: QKeyEvent) -> bool:
        """Type a digit, or act at Enter; False where it is another key."""
        if self.keypad.handle_key(event):
            return True
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.act.isEnabled():
            self.act.click()
            return True
        return False
