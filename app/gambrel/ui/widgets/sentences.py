"""Sentences under each other that wrap to the room and are never cut."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from gambrel.ui.theme import Theme
from gambrel.ui.widgets.card import label


class Sentences(QWidget):
    """Paragraphs for a scrolled area, which asks for a height and does not think of wrapping."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._lines = QVBoxLayout(self)
        self._lines.setContentsMargins(0, 0, 0, 0)
        self._lines.setSpacing(theme.tokens.space.small)

    def show_sentences(self, sentences: Sequence[str]) -> None:
        """Replace what is shown."""
        while (old := self._lines.takeAt(0)) is not None:
            gone = old.widget()
            if gone:
                gone.setParent(None)
                gone.deleteLater()
        for sentence in sentences:
            line = label(sentence, wrap=True)
            line.setAlignment(Qt.AlignmentFlag.AlignTop)
            self._lines.addWidget(line)
        self._lines.addStretch(1)
        self._grow()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._grow()

    def _grow(self) -> None:
        self.setMinimumHeight(max(self._lines.heightForWidth(self.width()), 0))
