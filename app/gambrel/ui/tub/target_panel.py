"""The lean target's panel: fields, the trims that may go in, and the mix found."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout

from gambrel.domain.bench.lean import Prefer
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.tub.entry import EntryPad
from gambrel.ui.tub.panels import Panel
from gambrel.ui.tub.rows import RowList
from gambrel.ui.tub.target_state import FIELDS, KILOS, TargetText
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton
from gambrel.ui.widgets.choice import Choice
from gambrel.ui.widgets.fields import Chips, NumberField
from gambrel.ui.widgets.scroll import scrolled

KEEP = "keep"


class TargetPanel(Panel):
    """Shows a `TargetText`."""

    field_entered = Signal(str)
    typed = Signal(str)
    trim_tapped = Signal(str)
    option_chosen = Signal(str)
    acted = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme, self.tr("Lean target"))
        names = (
            (self.tr("Meat"), "kg"),
            (self.tr("Lean, at least"), "%"),
            (self.tr("At most"), "%"),
        )
        pairs = zip(FIELDS, names, strict=True)
        self.fields = {key: NumberField(theme, name, unit) for key, (name, unit) in pairs}
        self.options = Chips(theme, self.tr("What decides"), 2, tall=46)
        self.keep = ActionButton(theme, self.tr("Keep blend"), least=46, size=17)
        self.keep.setCheckable(True)
        self.keep.setToolTip(self.tr("What is in the blend already stays in it"))
        self.trims = RowList(theme, self.tr("Trims that may go in"))
        self.entry = EntryPad(theme, apart=True)
        self.answer = Banner(theme, closable=False)
        self._lay_out(theme)
        for key, field in self.fields.items():
            field.setAutoExclusive(True)
            field.entered.connect(lambda key=key: self.field_entered.emit(key))
        self.options.chosen.connect(self.option_chosen)
        self.keep.clicked.connect(lambda: self.option_chosen.emit(KEEP))
        self.trims.tapped.connect(self.trim_tapped)
        self.entry.typed.connect(self.typed)
        self.entry.acted.connect(self.acted)

    def _lay_out(self, theme: Theme) -> None:
        gap = theme.tokens.space.small
        fields = QHBoxLayout()
        fields.setSpacing(gap)
        for field in self.fields.values():
            fields.addWidget(field, 1)
        left = QVBoxLayout()
        left.addWidget(scrolled(self.trims), 1)
        left.addWidget(self.answer)
        row = QHBoxLayout()
        row.setSpacing(theme.tokens.space.gap)
        row.addLayout(left, 3)
        row.addWidget(self.entry, 2)
        self.head.insertWidget(1, self.options, 2)
        self.head.insertWidget(2, self.keep)
        self.box.addLayout(fields)
        self.box.addLayout(row, 1)

    def show_target(self, state: TargetText) -> None:
        """Show what is asked, and the mix or why there is none."""
        for key, field in self.fields.items():
            field.show_value(state.fields[key])
            field.setChecked(key == state.field)
        self.options.show_choices(
            [
                Choice(Prefer.CHEAPEST, self.tr("Cheapest"), state.prefer is Prefer.CHEAPEST),
                Choice(Prefer.OLDEST, self.tr("Oldest"), state.prefer is Prefer.OLDEST),
            ]
        )
        self.keep.setChecked(state.keep)
        self.trims.show_rows(state.trims)
        kilos = state.field == KILOS
        self.entry.keypad.set_limits(decimals=3 if kilos else 2, longest=4 if kilos else 3)
        typed, unit = state.fields[state.field], "kg" if kilos else "%"
        self.entry.show_entry(typed, unit, state.act, can_act=state.can_act)
        if state.answer:
            word = self.tr("The mix") if state.solved else ""
            self.answer.say(Meaning(state.meaning), state.answer, word=word)
        else:
            self.answer.clear()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not self.entry.handle_key(event):
            super().keyPressEvent(event)
