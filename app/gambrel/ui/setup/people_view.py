"""The People section's page: the team, a line for a new name, and what can be done with a name."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from gambrel.domain.trade.pins import MOST
from gambrel.services.people import LONGEST_NAME
from gambrel.ui.setup.page import KEY, TALLEST, SectionPage, SideCard
from gambrel.ui.setup.people_state import NO_LOCK, PeopleState, PinState
from gambrel.ui.setup.rows import RowGrid
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import label
from gambrel.ui.widgets.fields import FIELD, TextField
from gambrel.ui.widgets.keypad import CODE, Keypad

FIXED = QSizePolicy.Policy.Fixed


class PinPanel(QWidget):
    """Shows a `PinState`; ``typed`` tells the digits after every key."""

    typed = Signal(str)
    go_on_wanted = Signal()
    closed = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)  # so that Enter goes on, not a button
        self.setAccessibleName(self.tr("A new PIN"))
        self.told = label(wrap=True)
        self.refusal = Banner(theme, closable=False)
        self.dots = label(role="figure")
        self.dots.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.dots.setMinimumHeight(40)
        self.keypad = Keypad(theme, longest=MOST, least=KEY, rows=CODE, code=True)
        self.keypad.setMaximumHeight(len(CODE) * TALLEST)
        self.leave = ActionButton(theme, self.tr("Leave"), least=56)
        self.go_on = ActionButton(theme, role=Role.PRIMARY, least=56)
        for button in (self.leave, self.go_on):
            button.setSizePolicy(QSizePolicy.Policy.Preferred, FIXED)
        self.keypad.text_changed.connect(self.typed)
        self.go_on.clicked.connect(self.go_on_wanted)
        self.leave.clicked.connect(self.closed)
        acts = QHBoxLayout()
        acts.addWidget(self.leave)
        acts.addWidget(self.go_on, 1)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(theme.tokens.space.small)
        for part in (self.told, self.refusal, self.dots):
            box.addWidget(part)
        box.addWidget(self.keypad, 100)
        box.addLayout(acts)
        box.addStretch(1)

    def show_state(self, state: PinState) -> None:
        """Show how far the PIN is; its digits are never shown."""
        self.told.setText(state.told)
        self.told.setVisible(not state.refusal)
        if state.refusal:
            self.refusal.say(Meaning.WATCH, state.refusal)
        else:
            self.refusal.clear()
        self.dots.setText(state.dots)
        self.dots.setVisible(not state.refusal)
        self.dots.setAccessibleName(self.tr("{0} digits typed").format(len(state.typed)))
        self.keypad.blockSignals(True)
        self.keypad.set_text(state.typed)
        self.keypad.blockSignals(False)
        self.go_on.say(state.act)
        self.go_on.setEnabled(state.can_act)


class PersonPanel(SideCard):
    """What can be done with the name that is chosen; with none it says what to tap."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme, "users")
        self.give = ActionButton(theme, least=56)
        self.take_away = ActionButton(theme, self.tr("Take the PIN away"), least=56)
        self.retire = ActionButton(theme, self.tr("Take off the team"), least=56)
        self.pin = PinPanel(theme)
        self.acts = (self.give, self.take_away, self.retire)
        for button in self.acts:
            button.setSizePolicy(QSizePolicy.Policy.Preferred, FIXED)
            self.box.addWidget(button)
        self.box.addWidget(self.pin, 100)
        self.box.addStretch(1)

    def show_state(self, state: PeopleState) -> None:
        """Show the name that is chosen, or its new PIN on the way."""
        named, typing = bool(state.title), state.pin is not None
        self.stand_empty(empty=not named)
        self.title.setText(state.title)
        self.title.setVisible(named)
        self.setAccessibleName(state.title or state.about)
        self.about.setText(state.about)
        self.about.setVisible(not typing)
        self.give.say(state.give)
        for button, offered in zip(self.acts, (True, state.can_take_away, True), strict=True):
            button.setVisible(named and offered and not typing)
        if state.pin is not None:
            self.pin.show_state(state.pin)
        self.pin.setVisible(typing)


class PeopleView(SectionPage):
    """Shows a `PeopleState`."""

    chosen = Signal(str)
    name_typed = Signal(str)
    add_wanted = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.name = TextField(theme, self.tr("A new name"))
        self.name.setMaxLength(LONGEST_NAME)
        self.add = ActionButton(theme, self.tr("Add"), icon="plus", least=FIELD)
        self.add.setSizePolicy(FIXED, FIXED)
        self.refusal = Banner(theme, closable=False)
        self.team = RowGrid(theme, self.tr("The team"))
        self.team.tapped.connect(self.chosen)
        self.name.textEdited.connect(self.name_typed)
        self.add.clicked.connect(self.add_wanted)
        line = QHBoxLayout()
        line.setSpacing(theme.tokens.space.small)
        line.addWidget(self.name, 1)
        line.addWidget(self.add)
        self.left.addLayout(line)
        self.left.addWidget(self.refusal)
        self.panel = PersonPanel(theme)
        self.lay_out(self._content(theme), self.panel)

    def _content(self, theme: Theme) -> QWidget:
        page = QWidget()
        box = QVBoxLayout(page)
        box.setContentsMargins(0, 0, theme.tokens.space.small, 0)
        box.setSpacing(theme.tokens.space.small)
        box.addWidget(self.team)
        box.addWidget(label(NO_LOCK, "soft", wrap=True))
        box.addStretch(1)
        return page

    def show_state(self, state: PeopleState) -> None:
        """Show the team, and who is chosen."""
        self.team.show_rows(state.rows)
        if self.name.text() != state.name:
            self.name.setText(state.name)
        self.add.setEnabled(state.can_add)
        if state.refusal:
            self.refusal.say(Meaning.STOP, state.refusal)
        else:
            self.refusal.clear()
        self.panel.show_state(state)
