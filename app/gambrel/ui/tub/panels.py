"""The panels that stand in place of the blend: lists to choose from, with a keypad beside them."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from gambrel.ui.theme import Theme
from gambrel.ui.tub.entry import EntryPad
from gambrel.ui.tub.panel_state import ListText
from gambrel.ui.tub.rows import RowList
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import Card, label
from gambrel.ui.widgets.fields import DayStepper, TextField
from gambrel.ui.widgets.scroll import scrolled
from gambrel.ui.widgets.sentences import Sentences


class Panel(Card):
    """A card with a heading and a way back; `closed` is told by both its key and Escape."""

    closed = Signal()

    def __init__(self, theme: Theme, title: str) -> None:
        super().__init__(theme)
        self.theme = theme
        self.title = label(title, "label", wrap=True)
        self.close_key = ActionButton(theme, icon="x", role=Role.QUIET)
        self.close_key.setAccessibleName(self.tr("Back to the blend"))
        self.close_key.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.close_key.clicked.connect(self.closed)
        self.head = QHBoxLayout()
        self.head.addWidget(self.title, 1)
        self.head.addWidget(self.close_key, 0, Qt.AlignmentFlag.AlignTop)
        self.box.addLayout(self.head)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
        else:
            super().keyPressEvent(event)


class ListPanel(Panel):
    """A list at the left; at the right, where ``with_pad``, a keypad for the row that is chosen."""

    tapped = Signal(str)
    typed = Signal(str)
    acted = Signal()

    def __init__(self, theme: Theme, title: str, *, with_pad: bool = True) -> None:
        super().__init__(theme, title)
        self.list = RowList(theme, title)
        self.hint = label(role="soft", wrap=True)
        self.entry = EntryPad(theme)
        self.left = QVBoxLayout()
        self.left.addWidget(scrolled(self.list), 1)
        self.left.addWidget(self.hint)
        row = QHBoxLayout()
        row.setSpacing(theme.tokens.space.gap)
        row.addLayout(self.left, 3)
        if with_pad:
            row.addWidget(self.entry, 2)
        self.box.addLayout(row, 1)
        self.list.tapped.connect(self.tapped)
        self.entry.typed.connect(self.typed)
        self.entry.acted.connect(self.acted)

    def show_list(self, state: ListText) -> None:
        """Show the rows, and what the keypad and the act do with the chosen one."""
        self.list.show_rows(state.rows)
        self.hint.setText(state.hint)
        self.hint.setVisible(bool(state.hint))
        self.entry.show_entry(state.typed, "kg", state.act, can_act=state.can_act)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not (self.entry.isVisible() and self.entry.handle_key(event)):
            super().keyPressEvent(event)


class RecipesPanel(ListPanel):
    """The shop's recipes: lay one out, rename it, remove it."""

    rename_wanted = Signal(str)
    remove_wanted = Signal()
    save_wanted = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme, self.tr("Recipes"))
        self.name = TextField(theme, self.tr("Name of the recipe"))
        self.rename = ActionButton(theme, self.tr("Rename"), size=18)
        self.remove = ActionButton(theme, self.tr("Remove"), size=18)
        self.rename.clicked.connect(lambda: self.rename_wanted.emit(self.name.text()))
        self.name.returnPressed.connect(self.rename.click)
        self.remove.clicked.connect(self.remove_wanted)
        self.save = ActionButton(theme, self.tr("Save the blend as a recipe"), size=18)
        self.save.clicked.connect(self.save_wanted)
        self._row = QWidget()
        acts = QHBoxLayout(self._row)
        acts.setContentsMargins(0, 0, 0, 0)
        acts.addWidget(self.rename)
        acts.addWidget(self.remove)
        self.left.addWidget(self.name)
        self.left.addWidget(self._row)
        self.left.addWidget(self.save)
        self._chosen = ""

    def show_recipes(self, state: ListText, name: str, *, can_save: bool) -> None:
        """Show the recipes; ``name`` is that of the chosen one."""
        self.show_list(state)
        self.save.setEnabled(can_save)
        if state.chosen != self._chosen:
            self._chosen = state.chosen
            self.name.setText(name)
        for part in (self.name, self._row):
            part.setVisible(bool(state.chosen))


class IngredientsPanel(ListPanel):
    """What is bought in: choose one, type its weight and lot; or write a new one down."""

    day_stepped = Signal(int)
    remove_wanted = Signal()
    new_wanted = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme, self.tr("Ingredients"))
        self.lot = TextField(theme, self.tr("Lot on the pack"))
        self.day = DayStepper(theme, self.tr("Use by"))
        self.new = ActionButton(theme, self.tr("New ingredient"), icon="plus", size=18)
        self.remove = ActionButton(theme, self.tr("Take it out"), size=18)
        self.day.stepped.connect(self.day_stepped)
        self.new.clicked.connect(self.new_wanted)
        self.remove.clicked.connect(self.remove_wanted)
        self.left.addWidget(self.lot)
        self.left.addWidget(self.day)
        acts = QHBoxLayout()
        acts.addWidget(self.remove)
        acts.addWidget(self.new, 1)
        self.left.addLayout(acts)
        self._chosen = ""

    def show_ingredients(self, state: ListText, lot: str, day: str, *, inside: bool) -> None:
        """Show the list, and lot and date of the chosen one."""
        self.show_list(state)
        if state.chosen != self._chosen:
            self._chosen = state.chosen
            self.lot.setText(lot)
        self.day.value.show_value(day)
        for part in (self.lot, self.day):
            part.setVisible(bool(state.chosen))
        self.remove.setVisible(inside)


class FormPanel(Panel):
    """Some lines of text and one act; ``acted`` tells what was typed, in the fields' order."""

    acted = Signal(list)

    def __init__(self, theme: Theme, title: str, names: Sequence[str], act: str) -> None:
        super().__init__(theme, title)
        self.fields = [TextField(theme, name) for name in names]
        self.more = label(role="soft", wrap=True)
        self.act = ActionButton(theme, act, role=Role.PRIMARY, least=56)
        for field in self.fields:
            field.returnPressed.connect(self.act.click)
            self.box.addWidget(field)
        self.act.clicked.connect(lambda: self.acted.emit([f.text() for f in self.fields]))
        self.box.addWidget(self.more)
        self.box.addWidget(self.act)
        self.box.addStretch(1)

    def open(self, texts: Sequence[str], more: str) -> None:
        """Begin with these texts; ``more`` says what the act does."""
        for field, text in zip(self.fields, texts, strict=True):
            field.setText(text)
        self.more.setText(more)
        self.fields[0].setFocus()


class LawPanel(Panel):
    """What is on file about the law, as information."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme, self.tr("Legal limits, for information"))
        self.lines = Sentences(theme)
        self.box.addWidget(scrolled(self.lines), 1)


def next_day(day: date | None, step: int, today: date) -> date | None:
    """A date after a step; the first step sets today, and no date is never before today."""
    if day is None:
        return today if step else None
    return max(date.fromordinal(day.toordinal() + step), today)
