"""The Tubs section's page: the tubs in their order, and the one that is chosen with a keypad."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from gambrel.domain.bench.tubs import LONGEST_NAME
from gambrel.ui.setup.page import KEY, TALLEST, SectionPage, SideCard
from gambrel.ui.setup.rows import RowGrid
from gambrel.ui.setup.tubs_state import CARE, TubsState
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import label
from gambrel.ui.widgets.fields import NumberField, TextField
from gambrel.ui.widgets.keypad import Keypad

WIDEST = 880
"""Of a row: a weight far from its name is hard to follow."""
FIXED = QSizePolicy.Policy.Fixed


class TubPanel(SideCard):
    """The chosen tub: its name and weight, its place, and the acts."""

    name_typed = Signal(str)
    kilos_typed = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme, "package")
        self.name = TextField(theme, self.tr("Name"))
        self.name.setMaxLength(LONGEST_NAME)
        self.kilos = NumberField(theme, self.tr("Empty weight"), "kg")
        self.refusal = Banner(theme, closable=False)
        self.keypad = Keypad(theme, longest=2, least=KEY)
        self.keypad.setMaximumHeight(3 * TALLEST)
        self.scale = ActionButton(theme, icon="scale", size=18)
        self.earlier = ActionButton(theme, icon="chevron-up")
        self.later = ActionButton(theme, icon="chevron-down")
        self.earlier.setAccessibleName(self.tr("Earlier in the order"))
        self.later.setAccessibleName(self.tr("Later in the order"))
        self.remove = ActionButton(theme, self.tr("Remove"), least=56)
        self.keep = ActionButton(theme, role=Role.PRIMARY, least=56)
        for button in (self.scale, self.remove, self.keep):
            button.setSizePolicy(QSizePolicy.Policy.Preferred, FIXED)
        self.name.textEdited.connect(self.name_typed)
        self.keypad.text_changed.connect(self.kilos_typed)
        self._lay_out(theme.tokens.space.small)

    def _lay_out(self, gap: int) -> None:
        head, fields, acts = QHBoxLayout(), QHBoxLayout(), QHBoxLayout()
        for row in (head, fields, acts):
            row.setSpacing(gap)
        head.addWidget(self.title, 1)
        for button in (self.earlier, self.later):
            button.setSizePolicy(FIXED, FIXED)
            head.addWidget(button)
        fields.addWidget(self.name, 5)
        fields.addWidget(self.kilos, 4)
        acts.addWidget(self.remove)
        acts.addWidget(self.keep, 1)
        self.box.addLayout(head)
        self.box.addWidget(self.about)
        self.box.addLayout(fields)
        self.box.addWidget(self.refusal)
        self.box.addWidget(self.scale)
        self.box.addWidget(self.keypad, 100)
        self.box.addLayout(acts)
        self.box.addStretch(1)

    def show_state(self, state: TubsState) -> None:
        """Show the chosen tub, or what to do where none is."""
        some = bool(state.title)
        self.stand_empty(empty=not some)
        self.title.setText(state.title)
        self.setAccessibleName(state.title or state.about)
        self.about.setText(state.about)
        self.about.setVisible(bool(state.about))
        for part in (self.name, self.kilos, self.keypad, self.keep):
            part.setVisible(some)
        head = some and not state.refusal  # on a low window there is no room for both
        self.title.setVisible(head)
        if state.refusal:
            self.refusal.say(Meaning.STOP, state.refusal)
        else:
            self.refusal.clear()
        if self.name.text() != state.name:
            self.name.setText(state.name)
        self.kilos.show_value(state.kilos)
        self.scale.say(state.from_scale)
        self.scale.setVisible(some and bool(state.from_scale) and not state.refusal)
        self.keep.say(state.act)
        self.keep.setEnabled(state.can_act)
        for button, able in ((self.earlier, state.can_earlier), (self.later, state.can_later)):
            button.setEnabled(able)
            button.setVisible(head and not state.new)
        self.remove.say(self.tr("Leave") if state.new else self.tr("Remove"))
        self.remove.setVisible(some)

    def show_typed(self, kilos: str) -> None:
        """Let the keypad go on from what was typed."""
        self.keypad.blockSignals(True)
        self.keypad.set_text(kilos)
        self.keypad.blockSignals(False)


class TubsView(SectionPage):
    """Shows a `TubsState`; ``chosen`` tells the name of a tub."""

    chosen = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.panel = TubPanel(theme)
        self.tubs = RowGrid(theme, self.tr("The tubs in their order"), most=1)
        self.tubs.setMaximumWidth(WIDEST)
        self.tubs.tapped.connect(self.chosen)
        self.new = ActionButton(theme, self.tr("A new tub"), icon="plus", least=56)
        self.new.setSizePolicy(FIXED, FIXED)
        self.full = label(role="soft", wrap=True)
        self.usual = ActionButton(theme, self.tr("Begin again with the usual tubs"), least=56)
        self.usual.setSizePolicy(FIXED, FIXED)
        self.usual.hide()
        self.lay_out(self._content(theme), self.panel)

    def _content(self, theme: Theme) -> QWidget:
        page = QWidget()
        box = QVBoxLayout(page)
        box.setContentsMargins(0, 0, theme.tokens.space.small, 0)
        box.setSpacing(theme.tokens.space.small)
        box.addWidget(label(CARE, wrap=True))
        for part in (self.tubs, self.new, self.full, self.usual):
            box.addWidget(part)
        box.addStretch(1)
        return page

    def show_state(self, state: TubsState) -> None:
        """Show the tubs and the one that is chosen."""
        self.tubs.show_rows(state.rows)
        self.new.setVisible(state.can_begin)
        self.full.setText(state.full)
        self.full.setVisible(bool(state.full))
        self.panel.show_state(state)

    def show_unreadable(self, sentence: str) -> None:
        """Say why the list cannot be read; the one way on is to begin again."""
        self.told.say(Meaning.STOP, sentence)
        self.new.hide()
        self.usual.show()
