"""A sheet of paper that holds what belongs together."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QLabel, QVBoxLayout

from gambrel.ui.theme import Theme


class Card(QFrame):
    """A framed panel with a vertical layout, `box`; a chosen card is marked by colour and edge."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.setProperty("card", True)
        self.box = QVBoxLayout(self)
        pad = theme.tokens.space.gap
        self.box.setContentsMargins(pad, pad, pad, pad)
        self.box.setSpacing(theme.tokens.space.small)

    def set_chosen(self, chosen: bool) -> None:
        """Mark this card among its neighbours."""
        self._dress("chosen", chosen)

    def set_framed(self, framed: bool) -> None:
        """Be a card, or plain paper while it holds nothing."""
        self._dress("card", framed)

    def _dress(self, name: str, value: bool) -> None:
        if self.property(name) == value:
            return
        self.setProperty(name, value)
        self.style().unpolish(self)
        self.style().polish(self)


def label(text: str = "", role: str = "", *, wrap: bool = False) -> QLabel:
    """A label in one of the style sheet's roles: heading, label, title, figure, strong, soft."""
    made = QLabel(text)
    if role:
        made.setProperty("role", role)
    made.setTextFormat(Qt.TextFormat.PlainText)  # a name from a folder may hold anything
    made.setWordWrap(wrap)
    return made
