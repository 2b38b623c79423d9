"""The row of Setup's tabs: as wide as their words, in two rows where one has no room for all."""

from __future__ import annotations

from collections.abc import Sequence

from gambrel.ui.theme import Theme, Weight
from gambrel.ui.widgets.choice import Choice
from gambrel.ui.widgets.fields import Chips
from gambrel.ui.widgets.painting import SMALLEST_TEXT, text_width

PAD = 20
"""Beside the words of a tab, at its two edges together."""


class TabRow(Chips):
    """Chips that share their room by the length of their words."""

    def __init__(self, theme: Theme, name: str) -> None:
        super().__init__(theme, name, 1)
        self._wide: dict[str, int] = {}

    def show_choices(self, choices: Sequence[Choice]) -> None:
        """Show these tabs; buttons stay where their keys stay."""
        if [choice.key for choice in choices] != list(self.buttons):
            small = self._theme.font(SMALLEST_TEXT, Weight.DemiBold)
            self._wide = {
                choice.key: int(text_width(small, choice.text)) + PAD for choice in choices
            }
            self._columns = 1
        super().show_choices(choices)

    @property
    def least_width(self) -> int:
        """What all tabs need in one row, their words at the smallest."""
        return sum(self._wide.values()) + self._grid.spacing() * max(len(self._wide) - 1, 0)

    def stand_in(self, width: int) -> None:
        """Stand in one row if so much room is enough, else in two."""
        count = len(self.buttons)
        columns = count if self.least_width <= width else (count + 1) // 2
        if not count or columns == self._columns:
            return
        self._columns = columns
        for column in range(count):
            self._grid.setColumnStretch(column, 0)
        for number, (key, button) in enumerate(self.buttons.items()):
            row, column = divmod(number, columns)
            self._grid.addWidget(button, row, column)
            wide = max(self._grid.columnStretch(column), self._wide[key])
            self._grid.setColumnStretch(column, wide)
