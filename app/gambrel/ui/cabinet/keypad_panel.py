"""A panel with a keypad: what is said scrolls above it, the acts stand below it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLayout, QSizePolicy, QVBoxLayout, QWidget

from gambrel.domain.numbers.money import Currency
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton
from gambrel.ui.widgets.keypad import WIDE, Keypad
from gambrel.ui.widgets.scroll import scrolled

LOW = 520
"""Below this height the keypad makes room for what stands above it."""

TALL_KEY = 64
TALL_ACT = 52

LONGEST = 7
"""So many digits of a price may stand before the mark."""


class KeypadPanel(QWidget):
    """Types prices of a currency. A subclass makes its widgets and calls `lay_out` once."""

    def __init__(self, theme: Theme, currency: Currency) -> None:
        super().__init__()
        self._theme = theme
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Expanding)
        self.fault = Banner(theme, closable=False)
        least = theme.tokens.target.elsewhere
        self.keypad = Keypad(
            theme, decimals=currency.digits, longest=LONGEST, least=least, rows=WIDE
        )

    @property
    def is_low(self) -> bool:
        """Whether the room is short."""
        return self.height() < LOW

    def lay_out(
        self, upper: Sequence[QWidget | QLayout], acts: Sequence[tuple[ActionButton, int]]
    ) -> None:
        """Put widgets above the keypad and acts, each with its stretch, below it."""
        small = self._theme.tokens.space.small
        content = QWidget()
        column = QVBoxLayout(content)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(small)
        for part in upper:
            if isinstance(part, QLayout):
                column.addLayout(part)
            else:
                column.addWidget(part)
        column.addStretch(1)
        row = QHBoxLayout()
        row.setSpacing(small)
        for button, stretch in acts:
            button.setMinimumHeight(TALL_ACT)
            row.addWidget(button, stretch)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(small)
        box.addWidget(scrolled(content), 1)
        box.addWidget(self.keypad)
        box.addLayout(row)

    def say_fault(self, fault: str, doubt: str = "") -> None:
        """Say beside the field why what is typed cannot be, or else why it is doubtful."""
        if fault:
            self.fault.say(Meaning.STOP, fault)
        elif doubt:
            self.fault.say(Meaning.WATCH, doubt)
        else:
            self.fault.clear()

    def make_room(self) -> None:
        """On a low screen keys are flat; a subclass may leave something out as well."""
        for key in self.keypad.keys.values():
            key.setMaximumHeight(key.minimumHeight() if self.is_low else TALL_KEY)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """A digit of a real keyboard, wherever in the panel the focus is."""
        if not self.keypad.handle_key(event):
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self.make_room()
        super().resizeEvent(event)
