"""The Cuts section's page: the catalogue by species and kind, and the chosen cut beside it."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from gambrel.domain.trade.cut_edits import LONGEST_NAME
from gambrel.ui.setup.cut_form import CutForm
from gambrel.ui.setup.cuts_state import HEADS, CutsState
from gambrel.ui.setup.page import SectionPage
from gambrel.ui.setup.rows import RowGrid
from gambrel.ui.theme import Theme
from gambrel.ui.widgets.button import ActionButton
from gambrel.ui.widgets.card import label
from gambrel.ui.widgets.fields import FIELD, Chips, TextField

FIXED = QSizePolicy.Policy.Fixed


class CutsView(SectionPage):
    """Shows a `CutsState`; ``chosen`` tells the key of a cut, ``species_chosen`` a species."""

    chosen = Signal(str)
    species_chosen = Signal(str)
    sought = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.search = TextField(theme, self.tr("Find by name or PLU"))
        self.search.setMaxLength(LONGEST_NAME)
        self.new = ActionButton(theme, self.tr("A new cut"), icon="plus", least=FIELD)
        self.new.setSizePolicy(FIXED, FIXED)
        self.species = Chips(theme, self.tr("Species"), 4)
        self.species.chosen.connect(self.species_chosen)
        self.search.textEdited.connect(self.sought)
        self.none = label(wrap=True)
        self.grids: list[RowGrid] = []
        self.heads: list[QLabel] = []
        self.panel = CutForm(theme)
        line = QHBoxLayout()
        line.setSpacing(theme.tokens.space.small)
        line.addWidget(self.search, 1)
        line.addWidget(self.new)
        self.left.addLayout(line)
        self.left.addWidget(self.species)
        self.lay_out(self._content(theme), self.panel, wide=CutForm.WIDE)

    def _content(self, theme: Theme) -> QWidget:
        page = QWidget()
        box = QVBoxLayout(page)
        box.setContentsMargins(0, 0, theme.tokens.space.small, 0)
        box.setSpacing(theme.tokens.space.small)
        box.addWidget(self.none)
        for title in HEADS:
            head, grid = label(title, "strong"), RowGrid(theme, title)
            grid.tapped.connect(self.chosen)
            self.heads.append(head)
            self.grids.append(grid)
            box.addWidget(head)
            box.addWidget(grid)
        box.addStretch(1)
        return page

    def show_state(self, state: CutsState) -> None:
        """Show the catalogue, and the cut that is chosen."""
        self.species.show_choices(state.species)
        self.species.setVisible(len(state.species) > 1)
        if self.search.text() != state.search:
            self.search.setText(state.search)
        self.none.setText(state.none)
        self.none.setVisible(state.none not in ("", state.form.about))  # it is said once
        for head, grid, rows in zip(self.heads, self.grids, state.groups, strict=True):
            head.setVisible(bool(rows))
            grid.setVisible(bool(rows))
            grid.show_rows(rows)
        self.panel.show_state(state.form)
