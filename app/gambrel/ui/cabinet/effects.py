"""What a price does to margins, as rows of a grid: what it is of, then the margin and the money."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QSizePolicy, QWidget

from gambrel.ui.cabinet.price_state import EffectText
from gambrel.ui.theme import Theme
from gambrel.ui.widgets.card import label


class Effects(QWidget):
    """Some margins one below the other; a row without a name is not shown."""

    def __init__(self, theme: Theme, rows: int) -> None:
        super().__init__()
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        self.names = [label("", "soft", wrap=True) for _ in range(rows)]
        self.margins = [label("", "strong") for _ in range(rows)]
        self.more = [label("", "soft") for _ in range(rows)]
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(theme.tokens.space.small)
        grid.setVerticalSpacing(0)
        for row in range(rows):
            for value in (self.margins[row], self.more[row]):
                value.setAlignment(Qt.AlignmentFlag.AlignRight)
            grid.addWidget(self.names[row], 2 * row, 0)
            grid.addWidget(self.margins[row], 2 * row, 1)
            grid.addWidget(self.more[row], 2 * row + 1, 0, 1, 2)
        grid.setColumnStretch(0, 1)

    def show_effects(self, effects: Sequence[tuple[str, EffectText]]) -> None:
        """Show other margins, each with what it is of."""
        rows = zip(self.names, self.margins, self.more, effects, strict=True)
        for name, margin, more, (of, effect) in rows:
            name.setText(of)
            margin.setText(effect.margin)
            more.setText(effect.more)
            name.setVisible(bool(of))
            margin.setVisible(bool(of))
            more.setVisible(bool(of and effect.more))
