"""The Shop section's page: the shop's facts, and the chosen one with what types it."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from gambrel.domain.trade.texts import LONGEST_TEXT
from gambrel.ui.setup.facts_state import FactSide, FactsState, Way, stepped
from gambrel.ui.setup.page import KEY, TALLEST, SectionPage
from gambrel.ui.setup.rows import RowGrid
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import Card, label
from gambrel.ui.widgets.chip import Chip
from gambrel.ui.widgets.fields import FIELD, Chips, TextField
from gambrel.ui.widgets.figure import Figure
from gambrel.ui.widgets.keypad import Keypad

PREFERRED, FIXED = QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed
LONGEST_NUMBER = 7
"""Digits before the mark."""


class FactPanel(Card):
    """Shows a `FactSide`; ``typed`` tells the text after every key, ``chosen`` a choice's key."""

    typed = Signal(str)
    chosen = Signal(str)
    keep_wanted = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self._theme = theme
        self.title = label(role="label", wrap=True)
        self.past = Chip(theme)
        self.used = label(wrap=True)
        self.refusal = Banner(theme, closable=False)
        self.value = Figure(theme, size=40, right=True)
        self.text = TextField(theme, "")
        self.text.setMaxLength(LONGEST_TEXT)
        self.earlier = ActionButton(theme, icon="minus", least=FIELD)
        self.later = ActionButton(theme, icon="plus", least=FIELD)
        self.earlier.setAccessibleName(self.tr("Half an hour earlier"))
        self.later.setAccessibleName(self.tr("Half an hour later"))
        self.choices = Chips(theme, "", 2)
        self.offers = Chips(theme, self.tr("What may be meant"), 1, tall=44)
        self.keypad = Keypad(theme, longest=LONGEST_NUMBER, least=KEY)
        self.keypad.setMaximumHeight(3 * TALLEST)
        self.keep = ActionButton(theme, self.tr("Keep"), role=Role.PRIMARY, least=56)
        self.keep.setSizePolicy(PREFERRED, FIXED)
        self._lay_out()
        self.text.textEdited.connect(self.typed)
        self.keypad.text_changed.connect(self.typed)
        self.choices.chosen.connect(self.chosen)
        self.offers.chosen.connect(self.chosen)
        self.earlier.clicked.connect(lambda: self.typed.emit(stepped(self.text.text(), -1)))
        self.later.clicked.connect(lambda: self.typed.emit(stepped(self.text.text(), 1)))
        self.keep.clicked.connect(self.keep_wanted)

    def _lay_out(self) -> None:
        line = QHBoxLayout()
        line.setSpacing(self._theme.tokens.space.small)
        line.addWidget(self.earlier)
        line.addWidget(self.text, 1)
        line.addWidget(self.later)
        for part in (self.title, self.past, self.used, self.refusal, self.value):
            self.box.addWidget(part)
        self.box.addLayout(line)
        self.box.addWidget(self.choices)
        self.box.addWidget(self.offers)
        self.box.addWidget(self.keypad, 100)
        self.box.addWidget(self.keep)
        self.box.addStretch(1)

    def show_state(self, side: FactSide) -> None:
        """Show the chosen fact and what was typed."""
        self.title.setText(side.title)
        self.setAccessibleName(side.title)
        self.used.setText(side.used)
        self.past.show_text(Meaning.WATCH, side.past)
        self.title.setVisible(not side.refusal)  # the sentence begins with it
        self.used.setVisible(not side.refusal)
        self.past.setVisible(bool(side.past) and not side.refusal)
        if side.refusal:
            self.refusal.say(Meaning.STOP, side.refusal)
        else:
            self.refusal.clear()
        self._show_number(side)
        self._show_text(side)
        fixed = side.way is Way.CHOICE
        self.choices.setVisible(fixed)
        self.choices.setAccessibleName(side.title)
        self.choices.show_choices(side.choices if fixed else ())
        self.offers.show_choices(() if fixed else side.choices)
        self.offers.setVisible(bool(side.choices) and not fixed)
        self.keep.setEnabled(side.can_keep)

    def _show_number(self, side: FactSide) -> None:
        number = side.way is Way.NUMBER
        self.value.setVisible(number)
        self.keypad.setVisible(number)
        if number:
            self.value.show_value(side.typed or side.value or "–", side.unit, caption="")
            self.keypad.set_limits(decimals=side.decimals, longest=LONGEST_NUMBER)
        self.keypad.blockSignals(True)
        self.keypad.set_text(side.typed if number else "")
        self.keypad.blockSignals(False)

    def _show_text(self, side: FactSide) -> None:
        clock = side.way is Way.CLOCK
        self.text.setVisible(clock or side.way is Way.TEXT)
        self.earlier.setVisible(clock)
        self.later.setVisible(clock)
        self.text.rename(side.title)
        if self.text.text() != side.typed:
            self.text.setText(side.typed)


class FactsView(SectionPage):
    """Shows a `FactsState`; ``chosen`` tells the name of a fact."""

    chosen = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self._seen = ""
        self.panel = FactPanel(theme)
        self.rows = RowGrid(theme, self.tr("The shop's facts"))
        self.rows.tapped.connect(self.chosen)
        self.more = QVBoxLayout()
        """Under the facts; a new shop is opened there."""
        self.lay_out(self._content(theme), self.panel)
        self.left.addLayout(self.more)

    def _content(self, theme: Theme) -> QWidget:
        page = QWidget()
        box = QVBoxLayout(page)
        box.setContentsMargins(0, 0, theme.tokens.space.small, 0)
        box.setSpacing(theme.tokens.space.small)
        box.addWidget(self.rows)
        box.addStretch(1)
        return page

    def show_state(self, state: FactsState) -> None:
        """Show the facts and the one that is chosen, scrolled to where it can be seen."""
        self.rows.show_rows(state.rows)
        self.panel.show_state(state.side)
        if state.side.name != self._seen:
            self._seen = state.side.name
            for area in self.findChildren(QScrollArea):
                area.ensureWidgetVisible(self.rows.rows[self._seen])
