"""The Limits section's page: limits in groups, and the one that is chosen beside its keypad."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from gambrel.ui.setup.page import KEY, TALLEST, SectionPage
from gambrel.ui.setup.rows import RowGrid
from gambrel.ui.setup.shop_state import CARE, COUNTRY_HEAD, HEADS, ShopState, SideState
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import Card, label
from gambrel.ui.widgets.fields import TextField
from gambrel.ui.widgets.figure import Figure
from gambrel.ui.widgets.keypad import Keypad


class LimitPanel(Card):
    """Shows a `SideState`; ``typed`` tells the text after every key."""

    typed = Signal(str)
    keep_wanted = Signal()
    usual_wanted = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.title = label(role="label", wrap=True)
        self.used = label(wrap=True)
        self.why = label(role="soft", wrap=True)
        self.refusal = Banner(theme, closable=False)
        self.value = Figure(theme, size=40, right=True)
        self.letters = TextField(theme, self.tr("Country, two letters"))
        self.letters.setMaxLength(2)
        self.keypad = Keypad(theme, least=KEY)
        self.keypad.setMaximumHeight(3 * TALLEST)
        self.usual = ActionButton(theme, least=56)
        self.keep = ActionButton(theme, self.tr("Keep"), role=Role.PRIMARY, least=56)
        self.usual.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.keep.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.letters.textEdited.connect(self.typed)
        self.keypad.text_changed.connect(self.typed)
        self.keep.clicked.connect(self.keep_wanted)
        self.usual.clicked.connect(self.usual_wanted)
        acts = QHBoxLayout()
        acts.addWidget(self.usual)
        acts.addWidget(self.keep, 1)
        for part in (self.title, self.used, self.why, self.refusal, self.value, self.letters):
            self.box.addWidget(part)
        self.box.addWidget(self.keypad, 100)
        self.box.addLayout(acts)
        self.box.addStretch(1)

    def show_state(self, state: SideState) -> None:
        """Show the chosen limit and what was typed."""
        self.title.setText(state.title)
        self.setAccessibleName(state.title)
        for part, text in ((self.used, state.used), (self.why, state.why)):
            part.setText(text)
            part.setVisible(not state.refusal)
        if state.refusal:
            self.refusal.say(Meaning.STOP, state.refusal)
        else:
            self.refusal.clear()
        number = "" if state.letters else state.typed
        self.value.show_value(number or state.value or "–", state.unit, caption=state.bounds)
        self.letters.setVisible(state.letters)
        self.keypad.setVisible(not state.letters)
        self.keypad.set_limits(decimals=state.decimals, longest=state.longest)
        if state.letters and self.letters.text() != state.typed:
            self.letters.setText(state.typed)
        self.keypad.blockSignals(True)
        self.keypad.set_text(number)
        self.keypad.blockSignals(False)
        self.usual.say(state.usual)
        self.usual.setEnabled(state.can_go_back)
        self.keep.setEnabled(state.can_keep)


class ShopView(SectionPage):
    """Shows a `ShopState`; ``chosen`` tells the key of a row."""

    chosen = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.panel = LimitPanel(theme)
        self.grids: list[RowGrid] = []
        self.lay_out(self._content(theme), self.panel)

    def _content(self, theme: Theme) -> QWidget:
        page = QWidget()
        box = QVBoxLayout(page)
        box.setContentsMargins(0, 0, theme.tokens.space.small, 0)
        box.setSpacing(theme.tokens.space.small)
        box.addWidget(label(CARE, wrap=True))
        for title in (*HEADS.values(), COUNTRY_HEAD):
            box.addSpacing(theme.tokens.space.small)
            box.addWidget(label(title, "strong", wrap=True))
            grid = RowGrid(theme, title)
            grid.tapped.connect(self.chosen)
            self.grids.append(grid)
            box.addWidget(grid)
        box.addStretch(1)
        return page

    def show_state(self, state: ShopState) -> None:
        """Show the limits and the one that is chosen."""
        for grid, group in zip(self.grids, state.groups, strict=True):
            grid.show_rows(group.rows)
        self.panel.show_state(state.side)
