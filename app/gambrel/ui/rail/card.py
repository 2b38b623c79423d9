"""A card of the rail: one body that hangs."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy

from gambrel.ui.rail.state import CardState
from gambrel.ui.theme import MEANING_ICONS, Meaning, Theme
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import Card, label
from gambrel.ui.widgets.chip import Chip
from gambrel.ui.widgets.empty import IconMark
from gambrel.ui.widgets.figure import Figure

LEAST_WIDTH = 372


class BodyCard(Card):
    """Shows a `CardState`; both wishes tell the body's key."""

    block_wanted = Signal(str)
    reweigh_wanted = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self._key = ""
        self.title = label(role="label", wrap=True)
        self.mark = Chip(theme)
        self.under = label(role="soft", wrap=True)
        self.weight = Figure(theme, "hangs", "kg", size=40)
        self.cost = Figure(theme, "cost so far", "a kilo", right=True)
        self.when = label(wrap=True)
        self.hang = label(role="soft", wrap=True)
        self.claim = label(wrap=True)
        self._claim_icon = IconMark(theme, MEANING_ICONS[Meaning.WATCH], 22, "watch")
        tall = theme.tokens.target.elsewhere + 8
        self.block = ActionButton(theme, least=tall, size=20)
        self.reweigh = ActionButton(theme, self.tr("Weigh again"), least=tall, size=20)
        self.block.clicked.connect(lambda: self.block_wanted.emit(self._key))
        self.reweigh.clicked.connect(lambda: self.reweigh_wanted.emit(self._key))
        for each in (self.title, self.under, self.when, self.hang):
            # A long name must not push the card wider than its column.
            each.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._lay_out(theme.tokens.space.small)

    def _lay_out(self, gap: int) -> None:
        head, figures, claim, acts = (QHBoxLayout() for _ in range(4))
        top = Qt.AlignmentFlag.AlignTop
        head.addWidget(self.title, 1)
        head.addWidget(self.mark, 0, top)
        figures.addWidget(self.weight, 3, Qt.AlignmentFlag.AlignBottom)
        figures.addWidget(self.cost, 2, Qt.AlignmentFlag.AlignBottom)
        claim.addWidget(self._claim_icon, 0, top)
        claim.addWidget(self.claim, 1)
        acts.setSpacing(gap)
        acts.addWidget(self.reweigh, 1)
        acts.addWidget(self.block, 1)
        self.box.setSpacing(2)
        self.box.addLayout(head)
        self.box.addWidget(self.under)
        self.box.addSpacing(gap)
        self.box.addLayout(figures)
        self.box.addSpacing(gap)
        self.box.addWidget(self.when)
        self.box.addWidget(self.hang)
        self.box.addLayout(claim)
        self.box.addStretch(1)
        self.box.addSpacing(gap)
        self.box.addLayout(acts)

    def show_state(self, state: CardState) -> None:
        """Show another body, or the same as it is now."""
        self._key = state.key
        self.setAccessibleName(state.spoken)
        self.title.setText(state.title)
        self.under.setText(state.under)
        self.weight.show_value(state.weight, caption=state.weight_caption)
        self.cost.show_value(state.cost)
        self.cost.setVisible(bool(state.cost))
        self.mark.show_text(Meaning(state.mark), state.mark_text)
        self.when.setText(state.when)
        self.hang.setText(state.hang)
        self.claim.setText(state.claim)
        for part in (self.claim, self._claim_icon):
            part.setVisible(bool(state.claim))
        self.block.say(state.act)
        self.block.set_role(Role.PRIMARY if state.on_block else Role.PLAIN)
        self.block.setAccessibleName(f"{state.act}: {state.title}")
        self.reweigh.setEnabled(state.can_reweigh)
        self.reweigh.setAccessibleName(f"{self.tr('Weigh again')}: {state.title}")
