"""What stands at the right of the Lists section: a list, a new one, one cut, or cuts to add."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from gambrel.domain.trade.cut_edits import LONGEST_NAME
from gambrel.domain.trade.keys import LONGEST_KEY
from gambrel.ui.setup.lists_state import ListsState
from gambrel.ui.setup.page import KEY, TALLEST, SideCard
from gambrel.ui.setup.rows import RowGrid
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import label
from gambrel.ui.widgets.fields import Chips, NumberField, TextField
from gambrel.ui.widgets.keypad import Keypad
from gambrel.ui.widgets.scroll import scrolled

TALL = 56


def _act(theme: Theme, text: str = "", *, icon: str = "", role: Role = Role.PLAIN) -> ActionButton:
    made = ActionButton(theme, text, icon=icon, role=role, least=TALL)
    made.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
    return made


class Panel(SideCard):
    """A card with a title, a line about it, a refusal, and acts at its foot."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme, "list")
        self.refusal = Banner(theme, closable=False)
        self.box.addWidget(self.refusal)
        self.gap = theme.tokens.space.small

    def tell(self, title: str, about: str, refusal: str) -> None:
        """Show the words; a refusal takes the place of what is said of the thing."""
        self.title.setText(title)
        self.title.setVisible(bool(title))
        self.about.setText(about)
        self.about.setVisible(bool(about) and not refusal)
        self.setAccessibleName(title or about)
        if refusal:
            self.refusal.say(Meaning.STOP, refusal)
        else:
            self.refusal.clear()

    def foot(self, *buttons: ActionButton) -> None:
        """Put acts in a row, the last the widest."""
        row = QHBoxLayout()
        row.setSpacing(self.gap)
        for button in buttons:
            row.addWidget(button, 1 if button is buttons[-1] else 0)
        self.box.addLayout(row)


class ListPanel(Panel):
    """The chosen list, closed."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.copy = _act(theme, self.tr("Copy under a new name"))
        self.remove = _act(theme, self.tr("Remove the list"))
        self.open = _act(theme, self.tr("Open"), role=Role.PRIMARY)
        for button in (self.open, self.copy, self.remove):
            self.box.addWidget(button)
        self.box.addStretch(1)

    def show_state(self, state: ListsState) -> None:
        """Show the list, or what to do where none is chosen."""
        self.stand_empty(empty=not state.can_open)
        self.tell(state.title, state.about, state.refusal)
        for button in (self.copy, self.remove, self.open):
            button.setVisible(state.can_open)


class MakePanel(Panel):
    """A list that is begun, or a copy of one; ``typed`` tells a word and its new text."""

    typed = Signal(str, str)
    portion_chosen = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.words = {
            "name": TextField(theme, self.tr("Name of the list")),
            "species": TextField(theme, self.tr("Species")),
            "portion": TextField(theme, self.tr("Portion")),
        }
        for name, field in self.words.items():
            field.setMaxLength(LONGEST_NAME if name == "name" else LONGEST_KEY)
            field.textEdited.connect(lambda text, name=name: self.typed.emit(name, text))
        self.portions = Chips(theme, self.tr("What is cut by it"), 2)
        self.portions.chosen.connect(self.portion_chosen)
        self.leave = _act(theme, self.tr("Leave"))
        self.make = _act(theme, self.tr("Make the list"), role=Role.PRIMARY)
        self.box.addWidget(self.words["name"])
        self.fields = scrolled(self._fields())
        self.box.addWidget(self.fields, 100)
        self.foot(self.leave, self.make)
        self.box.addStretch(1)

    def _fields(self) -> QWidget:
        page = QWidget()
        box = QVBoxLayout(page)
        box.setContentsMargins(0, 0, self.gap, 0)
        box.setSpacing(self.gap)
        box.addWidget(self.portions)
        box.addWidget(self.words["species"])
        box.addWidget(self.words["portion"])
        box.addStretch(1)
        return page

    def show_state(self, state: ListsState) -> None:
        """Show what was typed so far."""
        making = state.making
        if making is None:
            return
        copies = making.copy_of is not None
        title = self.tr("A copy") if copies else self.tr("A new list")
        self.tell(title, state.making_about, state.refusal)
        self.portions.show_choices(state.portions)
        self.fields.setVisible(not copies)
        for name, field in self.words.items():
            text = getattr(making, name)
            if field.text() != text:
                field.setText(text)
        self.make.setEnabled(all((making.name.strip(), making.species, making.portion)))


class LinePanel(Panel):
    """The chosen cut of the open list: its place and its norm."""

    typed = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.up = _act(theme, self.tr("Up"), icon="chevron-up")
        self.down = _act(theme, self.tr("Down"), icon="chevron-down")
        self.norm = NumberField(theme, self.tr("Norm"), "%")
        self.usual = label(role="soft", wrap=True)
        self.take = _act(theme, self.tr("Take"))
        self.take.setAccessibleName(self.tr("Take the usual yield as the norm"))
        self.keypad = Keypad(theme, decimals=2, longest=3, least=KEY)
        self.keypad.setMaximumHeight(3 * TALLEST)
        self.remove = _act(theme, self.tr("Take off"))
        self.keep = _act(theme, self.tr("Keep"), role=Role.PRIMARY)
        self.keypad.text_changed.connect(self.typed)
        self.moves = QHBoxLayout()
        self.moves.setSpacing(self.gap)
        self.moves.addWidget(self.up, 1)
        self.moves.addWidget(self.down, 1)
        usual = QHBoxLayout()
        usual.setSpacing(self.gap)
        usual.addWidget(self.norm, 1)
        usual.addWidget(self.take)
        self.box.addLayout(self.moves)
        self.box.addLayout(usual)
        self.box.addWidget(self.usual)
        self.box.addWidget(self.keypad, 100)
        self.foot(self.remove, self.keep)
        self.box.addStretch(1)

    def show_state(self, state: ListsState) -> None:
        """Show the chosen cut, or what to do where there is none."""
        line, some = state.line, bool(state.line.title)
        # On a low window there is no room for a title and a refusal.
        self.tell("" if state.refusal else line.title, line.about, state.refusal)
        self.setAccessibleName(line.title or line.about)
        for part in (self.norm, self.keypad, self.remove, self.keep):
            part.setVisible(some)
        for button, able in ((self.up, line.can_up), (self.down, line.can_down)):
            button.setVisible(some and not state.refusal)
            button.setEnabled(able)
        self.norm.show_value(line.norm)
        self.norm.setChecked(some)
        self.usual.setText(line.usual)
        self.usual.setVisible(bool(line.usual) and not state.refusal)
        self.take.setVisible(some)
        self.take.setEnabled(line.can_take)
        self.keep.setEnabled(line.can_keep)
        self.keypad.blockSignals(True)
        self.keypad.set_text(line.norm if line.typed is None else line.typed)
        self.keypad.blockSignals(False)


class AddPanel(Panel):
    """The cuts that can be added to the open list; ``chosen`` tells the key of one."""

    chosen = Signal(str)
    sought = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.search = TextField(theme, self.tr("Find by name"))
        self.search.textEdited.connect(self.sought)
        self.none = label(wrap=True)
        self.cuts = RowGrid(theme, self.tr("Cuts to add"), most=1)
        self.cuts.tapped.connect(self.chosen)
        self.done = _act(theme, self.tr("Done"), role=Role.PRIMARY)
        page = QWidget()
        box = QVBoxLayout(page)
        box.setContentsMargins(0, 0, self.gap, 0)
        box.addWidget(self.none)
        box.addWidget(self.cuts)
        box.addStretch(1)
        self.box.addWidget(self.search)
        self.box.addWidget(scrolled(page), 100)
        self.foot(self.done)

    def show_state(self, state: ListsState) -> None:
        """Show what can be added."""
        self.tell(self.tr("Add a cut at the end"), "", state.refusal)
        if self.search.text() != state.search:
            self.search.setText(state.search)
        self.none.setText(state.none)
        self.none.setVisible(bool(state.none))
        self.cuts.show_rows(state.offered)
