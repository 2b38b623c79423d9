"""The tub's left side: classes of trim or trays, and one class opened with a keypad."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QStackedWidget, QVBoxLayout, QWidget

from gambrel.ui.theme import Theme
from gambrel.ui.tub.entry import EntryPad
from gambrel.ui.tub.pages import Pages
from gambrel.ui.tub.picking import Pad
from gambrel.ui.tub.rows import RowList
from gambrel.ui.tub.trim_state import OpenText, TrimState
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import Card, label
from gambrel.ui.widgets.choice import Choice
from gambrel.ui.widgets.empty import EmptyState
from gambrel.ui.widgets.fields import Chips
from gambrel.ui.widgets.scroll import scrolled

TRIM, TRAYS = "trim", "trays"

MOST_OPEN = 2
"""So many open blends have a key; the oldest are weighed out first."""


class OpenedClass(Card):
    """The pieces of one class, to be chosen, and the keypad under them."""

    piece_tapped = Signal(str)
    aside_wanted = Signal()
    closed = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.title = label(role="label", wrap=True)
        self.summary = label(role="soft", wrap=True)
        self.close_key = ActionButton(theme, icon="chevron-left", role=Role.QUIET)
        self.close_key.setAccessibleName(self.tr("Back to all classes"))
        self.aside = ActionButton(theme, size=18)
        self.pieces = RowList(theme, self.tr("Pieces, oldest first"))
        self.entry = EntryPad(theme, apart=True, wide=True)
        self.close_key.clicked.connect(self.closed)
        self.pieces.tapped.connect(self.piece_tapped)
        self.aside.clicked.connect(self.aside_wanted)
        fixed = QSizePolicy.Policy.Fixed
        head, under = QHBoxLayout(), QHBoxLayout()
        for key in (self.close_key, self.aside):
            key.setSizePolicy(fixed, fixed)
        head.addWidget(self.close_key, 0, Qt.AlignmentFlag.AlignTop)
        head.addWidget(self.title, 1)
        head.addWidget(self.aside, 0, Qt.AlignmentFlag.AlignTop)
        under.addWidget(self.summary, 2)
        under.addWidget(self.entry.figure, 1)
        self.box.addLayout(head)
        self.box.addWidget(scrolled(self.pieces), 1)
        self.box.addLayout(under)
        self.box.addWidget(self.entry)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def show_state(self, state: OpenText) -> None:
        """Show a class's pieces and what would be taken of them."""
        self.setAccessibleName(state.title)
        self.title.setText(state.title)
        self.summary.setText(state.hint or state.summary)
        self.pieces.show_rows(state.rows)
        kilos = state.pad is Pad.KILOS
        self.aside.say(state.aside)
        decimals, longest = (3, 4) if kilos else (2, 3)
        self.entry.keypad.set_limits(decimals=decimals, longest=longest)
        self.entry.show_entry(state.typed, state.unit, state.act, can_act=state.can_act)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if self.entry.handle_key(event):
            return
        if event.key() == Qt.Key.Key_Escape:
            self.closed.emit()
        else:
            super().keyPressEvent(event)


class TrimColumn(QWidget):
    """Chips for trim or trays, and beneath them the classes, or the one that is open."""

    class_tapped = Signal(str)
    open_wanted = Signal(str)
    shelf_wanted = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.shelves = Chips(theme, self.tr("What stands free"), 2, tall=48)
        self.classes = RowList(theme, self.tr("Classes, oldest first"))
        self.opened = OpenedClass(theme)
        self._open: list[str] = []
        self.open_keys = [
            ActionButton(theme, icon="scale", size=18, least=56) for _ in range(MOST_OPEN)
        ]
        self.empty = EmptyState(theme, "layers", self.tr("No trim stands free."))
        self.shelves.chosen.connect(self.shelf_wanted)
        self.classes.tapped.connect(self.class_tapped)
        self._list = QWidget()
        listed = QVBoxLayout(self._list)
        listed.setContentsMargins(0, 0, 0, 0)
        listed.setSpacing(theme.tokens.space.small)
        for number, key in enumerate(self.open_keys):
            key.clicked.connect(lambda _=False, n=number: self.open_wanted.emit(self._open[n]))
            listed.addWidget(key)
        listed.addWidget(self.shelves)
        self._area = scrolled(self.classes)
        self._inner = QStackedWidget()
        self._inner.addWidget(self._area)
        self._inner.addWidget(self.empty)
        listed.addWidget(self._inner, 1)
        self._pages = Pages()
        self._pages.addWidget(self._list)
        self._pages.addWidget(self.opened)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.addWidget(self._pages)

    def show_state(self, state: TrimState, shelf: str) -> None:
        """Show the classes of a shelf, or the open one."""
        self.shelves.show_choices(
            [
                Choice(TRIM, self.tr("Trim to blend"), shelf == TRIM),
                Choice(TRAYS, self.tr("Trays to work back"), shelf == TRAYS),
            ]
        )
        self.classes.show_rows(state.rows)
        trim = shelf == TRIM
        self.empty.sentence.setText(
            self.tr("No trim stands free.") if trim else self.tr("No tray stands unsold.")
        )
        self.empty.more.setText(
            self.tr("Weigh trim in at the block; it then stands here, oldest first.")
            if trim
            else self.tr("What is weighed in for the cabinet stands here, oldest first.")
        )
        self.empty.more.show()
        self._inner.setCurrentWidget(self._area if state.rows else self.empty)
        if state.opened is not None:
            self.opened.show_state(state.opened)
        self._pages.setCurrentWidget(self.opened if state.opened else self._list)

    def show_open(self, rows: Sequence[tuple[str, str, str]]) -> None:
        """Offer to go on with open blends: key, what stands on the button, and its caption."""
        self._open = [key for key, _, _ in rows[:MOST_OPEN]]
        for number, button in enumerate(self.open_keys):
            there = number < len(self._open)
            if there:
                button.say(rows[number][1], rows[number][2])
            button.setVisible(there)
