"""The Suppliers section's page: who sells to the shop, and the one that is chosen."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from gambrel.domain.trade.cut_edits import LONGEST_NAME
from gambrel.services.suppliers import LONGEST_WORDS
from gambrel.ui.setup.page import SectionPage, SideCard
from gambrel.ui.setup.rows import WIDE_ROW, RowGrid
from gambrel.ui.setup.suppliers_state import CAPTIONS, ORIGIN_CARE, SuppliersState
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import label
from gambrel.ui.widgets.fields import TextField
from gambrel.ui.widgets.scroll import scrolled

FIXED = QSizePolicy.Policy.Fixed
OWN = ("name", "contact")


class SupplierForm(SideCard):
    """The chosen supplier; ``typed`` tells a line and its new text."""

    WIDE = 460
    typed = Signal(str, str)

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme, "truck")
        self.lines = {name: TextField(theme, caption) for name, caption in CAPTIONS.items()}
        for name, line in self.lines.items():
            line.setMaxLength(LONGEST_NAME if name == "name" else LONGEST_WORDS)
            line.textEdited.connect(lambda text, name=name: self.typed.emit(name, text))
        self.follows = Banner(theme, closable=False)
        self.refusal = Banner(theme, closable=False)
        self.aside = ActionButton(theme, least=56)
        self.keep = ActionButton(theme, role=Role.PRIMARY, least=56)
        for button in (self.aside, self.keep):
            button.setSizePolicy(QSizePolicy.Policy.Preferred, FIXED)
        self.fields = scrolled(self._fields(theme.tokens.space.small))
        acts = QHBoxLayout()
        acts.setSpacing(theme.tokens.space.small)
        acts.addWidget(self.aside)
        acts.addWidget(self.keep, 1)
        self.box.addWidget(self.fields, 100)
        self.box.addWidget(self.follows)
        self.box.addWidget(self.refusal)
        self.box.addLayout(acts)
        self.box.addStretch(1)

    def _fields(self, gap: int) -> QWidget:
        page = QWidget()
        box = QVBoxLayout(page)
        box.setContentsMargins(0, 0, gap, 0)
        box.setSpacing(gap)
        for name in OWN:
            box.addWidget(self.lines[name])
        box.addWidget(label(self.tr("Origin"), "strong"))
        box.addWidget(label(ORIGIN_CARE, "soft", wrap=True))
        for name, line in self.lines.items():
            if name not in OWN:
                box.addWidget(line)
        box.addStretch(1)
        return page

    def show_state(self, state: SuppliersState) -> None:
        """Show the chosen supplier, or what to do where there is none."""
        some = bool(state.title)
        self.stand_empty(empty=not some)
        self.title.setText(state.title)
        self.title.setVisible(some)
        self.setAccessibleName(state.title or state.about)
        self.about.setText(state.about)
        self.about.setVisible(bool(state.about))
        for part in (self.fields, self.keep):
            part.setVisible(some)
        for name, line in self.lines.items():
            text = state.texts.get(name, "")
            if line.text() != text:
                line.setText(text)
                line.setCursorPosition(0)
        self._tell(state)
        self.aside.say(state.aside)
        self.aside.setVisible(bool(state.aside))
        self.keep.say(state.act)
        self.keep.setEnabled(state.can_act)

    def _tell(self, state: SuppliersState) -> None:
        """A refusal, or what follows from what was typed."""
        if state.refusal:
            self.refusal.say(Meaning.STOP, state.refusal)
        else:
            self.refusal.clear()
        if state.follows and not state.refusal:
            self.follows.say(Meaning.WATCH, state.follows, word=self.tr("Before you keep it"))
        else:
            self.follows.clear()


class SuppliersView(SectionPage):
    """Shows a `SuppliersState`; ``chosen`` tells the key of a supplier."""

    chosen = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.rows = RowGrid(theme, self.tr("The suppliers"), most=2, narrowest=WIDE_ROW)
        self.rows.tapped.connect(self.chosen)
        self.new = ActionButton(theme, self.tr("A new supplier"), icon="plus", least=56)
        self.new.setSizePolicy(FIXED, FIXED)
        self.panel = SupplierForm(theme)
        page = QWidget()
        box = QVBoxLayout(page)
        box.setContentsMargins(0, 0, theme.tokens.space.small, 0)
        box.setSpacing(theme.tokens.space.small)
        box.addWidget(self.rows)
        box.addWidget(self.new)
        box.addStretch(1)
        self.lay_out(page, self.panel, wide=SupplierForm.WIDE)

    def show_state(self, state: SuppliersState) -> None:
        """Show the suppliers, and the one that is chosen."""
        self.rows.show_rows(state.rows)
        self.rows.setVisible(bool(state.rows))
        self.panel.show_state(state)
