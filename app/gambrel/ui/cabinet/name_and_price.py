"""A cut's name beside the price that is typed for it."""

from __future__ import annotations

from PySide6.QtWidgets import QBoxLayout, QSizePolicy, QWidget

from gambrel.ui.theme import Theme
from gambrel.ui.widgets.card import label
from gambrel.ui.widgets.figure import Figure

LONG_NAME = 22
"""More letters than fit beside a price."""


class NameAndPrice(QWidget):
    """A long name stands above its price, in smaller type."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        self.name = label("", "label", wrap=True)
        self.price = Figure(theme, "", self.tr("/kg"), size=40, right=True)
        self._row = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.addWidget(self.name, 1)
        self._row.addWidget(self.price, 1)

    def show_values(self, name: str, price: str) -> None:
        """Show another cut or price."""
        self.price.show_value(price)
        if name == self.name.text():
            return
        long = len(name) > LONG_NAME
        way = QBoxLayout.Direction.TopToBottom if long else QBoxLayout.Direction.LeftToRight
        self._row.setDirection(way)
        self.name.setProperty("role", "strong" if long else "label")
        self.name.style().unpolish(self.name)
        self.name.style().polish(self.name)
        self.name.setText(name)
