"""One choice out of several, by two large arrows: needs no pop-up and no fine aim."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from gambrel.ui.theme import Theme
from gambrel.ui.widgets.button import ActionButton
from gambrel.ui.widgets.card import label


class Stepper(QWidget):
    """Shows a caption and the chosen text between two arrows; Left and Right step too."""

    chosen = Signal(int)

    def __init__(self, theme: Theme, caption: str) -> None:
        super().__init__()
        self._caption = caption
        self._options: tuple[str, ...] = ()
        self._index = 0
        self.text = label("", "strong", wrap=True)
        self.text.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.back = ActionButton(theme, icon="chevron-left")
        self.on = ActionButton(theme, icon="chevron-right")
        self.back.setAccessibleName(self.tr("{0}: the one before").format(caption))
        self.on.setAccessibleName(self.tr("{0}: the next").format(caption))
        self.back.clicked.connect(lambda: self.step(-1))
        self.on.clicked.connect(lambda: self.step(1))
        words = QVBoxLayout()
        words.setSpacing(0)
        head = label(caption, "soft")
        head.setAlignment(Qt.AlignmentFlag.AlignCenter)
        words.addWidget(head)
        words.addWidget(self.text)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(theme.tokens.space.small)
        row.addWidget(self.back)
        row.addLayout(words, 1)
        row.addWidget(self.on)

    @property
    def index(self) -> int:
        """Which option is chosen."""
        return self._index

    @property
    def shown(self) -> str:
        """The option that is chosen, in words."""
        return self._options[self._index] if self._options else ""

    def show_options(self, options: Sequence[str], index: int) -> None:
        """Offer other options; tells nobody."""
        self._options = tuple(options)
        self._index = min(max(index, 0), max(len(self._options) - 1, 0))
        self._show()

    def choose(self, index: int) -> None:
        """Choose another option; tells nobody."""
        self._index = index
        if self._options:
            self.show_options(self._options, index)

    def step(self, by: int) -> None:
        """Choose a neighbour, if there is one."""
        index = self._index + by
        if 0 <= index < len(self._options):
            self._index = index
            self._show()
            self.chosen.emit(index)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        steps = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}
        by = steps.get(Qt.Key(event.key()))
        if by is None:
            super().keyPressEvent(event)
        else:
            self.step(by)

    def _show(self) -> None:
        self.text.setText(self.shown)
        self.setAccessibleName(f"{self._caption}: {self.shown}")
        self.back.setEnabled(self._index > 0)
        self.on.setEnabled(self._index + 1 < len(self._options))
