"""The keypad: ten digits, one decimal mark, one step back."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QGridLayout, QSizePolicy, QWidget

from gambrel.ui.theme import Theme
from gambrel.ui.widgets.button import Button
from gambrel.ui.widgets.entry import BACK, MARK, press, press_code

WIDE = ("789<", "4560", "123.")
"""Four keys across, three rows: the block's right side."""

NARROW = ("789", "456", "123", ".0<")
"""Three keys across, four rows: a panel."""

CODE = ("123", "456", "789", "<0")
"""For a PIN: the order of a telephone, no mark."""


class Keypad(QWidget):
    """Makes a text of digits and one decimal mark, and tells it after every key.

    The keys take no focus, so that the field or the screen that is typed into keeps it; hand key
    presses of a real keyboard to `handle_key`. With ``code`` the digits are no number, and leading
    noughts stay.
    """

    text_changed = Signal(str)

    def __init__(
        self,
        theme: Theme,
        *,
        decimals: int = 3,
        longest: int = 5,
        least: int = 0,
        rows: tuple[str, ...] = WIDE,
        code: bool = False,
    ) -> None:
        super().__init__()
        self._code = code
        self._text = ""
        self._decimals = decimals
        self._longest = longest
        self.keys: dict[str, Button] = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setSpacing(theme.tokens.space.small)
        for across, row in enumerate(rows):
            for down, key in enumerate(row):
                grid.addWidget(
                    self._key(theme, key, least or theme.tokens.target.block), across, down
                )

    def _key(self, theme: Theme, key: str, least: int) -> Button:
        back = key == "<"
        size = theme.tokens.type.key
        button = Button(
            theme, "" if back else key, icon="delete" if back else "", least=least, size=size
        )
        button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        button.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        named = {"<": self.tr("Backspace"), MARK: self.tr("Decimal point")}
        button.setAccessibleName(named.get(key, key))
        button.setAutoRepeat(back)
        button.clicked.connect(lambda: self.press(BACK if back else key))
        self.keys[key] = button
        return button

    @property
    def text(self) -> str:
        """What has been typed."""
        return self._text

    def set_text(self, text: str) -> None:
        """Start from another text; tells it when it is new."""
        if text != self._text:
            self._text = text
            self.text_changed.emit(text)

    def clear(self) -> None:
        """Forget what was typed."""
        self.set_text("")

    def set_limits(self, *, decimals: int, longest: int) -> None:
        """How many digits may stand after and before the mark from now on."""
        self._decimals, self._longest = decimals, longest

    def press(self, key: str) -> None:
        """Do what a key does (see `gambrel.ui.widgets.entry`)."""
        if self._code:
            self.set_text(press_code(self._text, key, longest=self._longest))
            return
        self.set_text(press(self._text, key, decimals=self._decimals, longest=self._longest))

    def handle_key(self, event: QKeyEvent) -> bool:
        """Type a digit, mark or backspace of a real keyboard; False where it is another key."""
        if event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier:
            return False
        if event.key() == Qt.Key.Key_Backspace:
            self.press(BACK)
            return True
        if len(event.text()) == 1 and event.text() in "0123456789.,":
            self.press(event.text())
            return True
        return False
