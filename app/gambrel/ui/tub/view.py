"""The tub's view: what stands free at the left, the blend or one of its panels at the right."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from gambrel.ui.theme import Theme
from gambrel.ui.tub.blend_view import EXTRAS, LAW, PRODUCT, RECIPES, SAVE, TARGET, BlendCard
from gambrel.ui.tub.pages import Pages
from gambrel.ui.tub.panels import FormPanel, IngredientsPanel, LawPanel, ListPanel, RecipesPanel
from gambrel.ui.tub.target_panel import TargetPanel
from gambrel.ui.tub.trim_view import TrimColumn
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.card import label

BLEND, NEW = "", "new"
"""The panels that are not asked for by a key of the blend: itself, and a new ingredient."""

LOW = 560
"""A view lower than this has no head line."""


class TubView(QWidget):
    """Head line and two columns; what is said stands over the right one. It decides nothing."""

    undo_wanted = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.heading = label(self.tr("Tub"), "heading")
        self.summary = label(role="soft", wrap=True)
        self.banner = Banner(theme)
        self.trim = TrimColumn(theme)
        self.blend = BlendCard(theme)
        self.recipes = RecipesPanel(theme)
        self.extras = IngredientsPanel(theme)
        self.new = FormPanel(
            theme,
            self.tr("New ingredient"),
            (
                self.tr("Name, as on the pack"),
                self.tr("Price a kilo"),
                self.tr("Allergens, parted by commas"),
            ),
            self.tr("Write it down"),
        )
        self.target = TargetPanel(theme)
        self.law = LawPanel(theme)
        self.product = ListPanel(theme, self.tr("What the blend makes"), with_pad=False)
        self.save = FormPanel(
            theme,
            self.tr("Save as recipe"),
            (self.tr("Name of the recipe"),),
            self.tr("Save recipe"),
        )
        self.panels: dict[str, QWidget] = {
            BLEND: self.blend,
            RECIPES: self.recipes,
            EXTRAS: self.extras,
            NEW: self.new,
            TARGET: self.target,
            LAW: self.law,
            PRODUCT: self.product,
            SAVE: self.save,
        }
        self._right = Pages()
        for panel in self.panels.values():
            self._right.addWidget(panel)
        self._lay_out(theme.tokens.space.gap)

    def _lay_out(self, gap: int) -> None:
        head = QHBoxLayout()
        head.setSpacing(gap)
        head.addWidget(self.heading)
        head.addWidget(self.summary, 1, Qt.AlignmentFlag.AlignVCenter)
        columns = QHBoxLayout()
        columns.setSpacing(gap)
        columns.addWidget(self.trim, 5)
        right = QVBoxLayout()
        right.setSpacing(gap)
        right.addWidget(self.banner)
        right.addWidget(self._right, 1)
        columns.addLayout(right, 6)
        box = QVBoxLayout(self)
        box.setContentsMargins(gap, gap, gap, gap)
        box.setSpacing(gap)
        box.addLayout(head)
        box.addLayout(columns, 1)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Where the window is low the head line gives way: the bar above says the same."""
        super().resizeEvent(event)
        for part in (self.heading, self.summary):
            part.setVisible(self.height() >= LOW)

    def set_ready(self, *, ready: bool) -> None:
        """Nothing is offered before the book has been read."""
        for side in (self.trim, self._right):
            side.setEnabled(ready)

    @property
    def panel(self) -> str:
        """Which panel stands at the right."""
        return next(
            key for key, panel in self.panels.items() if panel is self._right.currentWidget()
        )

    def show_panel(self, key: str) -> None:
        """Put a panel at the right."""
        panel = self.panels[key]
        self._right.setCurrentWidget(panel)
        panel.setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        control = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
        if control and event.key() == Qt.Key.Key_Z:
            self.undo_wanted.emit()
        else:
            super().keyPressEvent(event)
