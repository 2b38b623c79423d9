"""The panel for shelf tickets: which cuts, on which paper, into a PDF."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from gambrel.ui.cabinet.stepper import Stepper
from gambrel.ui.theme import Theme
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import label


class TicketsPanel(QWidget):
    """Tells what shall be ticked ("shown", "changed", "none") and the wish for the papers."""

    tick_wished = Signal(str)
    wished = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Expanding)
        self.count = label("", "label", wrap=True)
        self.paper = Stepper(theme, self.tr("Paper"))
        self.ticks: dict[str, ActionButton] = {}
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(theme.tokens.space.small)
        box.addWidget(self.count)
        hint = self.tr("Tap cuts in the list to choose their tickets, or choose many at once.")
        box.addWidget(label(hint, "soft", wrap=True))
        names = {
            "changed": self.tr("New prices of this week"),
            "shown": self.tr("All that are shown"),
            "none": self.tr("None"),
        }
        for key, name in names.items():
            button = ActionButton(theme, name, size=18)
            button.clicked.connect(lambda _=False, key=key: self.tick_wished.emit(key))
            self.ticks[key] = button
            box.addWidget(button)
        box.addSpacing(theme.tokens.space.gap)
        box.addWidget(self.paper)
        box.addStretch(1)
        self.save_button = ActionButton(
            theme, self.tr("Save tickets (PDF)"), icon="file-down", role=Role.PRIMARY
        )
        self.save_button.setMinimumHeight(60)
        self.save_button.clicked.connect(self.wished)
        box.addWidget(self.save_button)

    def show_papers(self, names: Sequence[str]) -> None:
        """Offer the papers, the first one chosen."""
        self.paper.show_options(names, 0)

    def show_count(self, chosen: int) -> None:
        """Say how many cuts are chosen."""
        words = {0: self.tr("No cut chosen"), 1: self.tr("1 cut chosen")}
        self.count.setText(words.get(chosen, self.tr("{0} cuts chosen").format(chosen)))
        self.save_button.setEnabled(chosen > 0)
