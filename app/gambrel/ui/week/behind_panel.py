"""The panel that shows what is behind a figure, in the place of the pictures."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from gambrel.ui.theme import Theme
from gambrel.ui.week.behind_state import BehindState
from gambrel.ui.widgets.button import ActionButton
from gambrel.ui.widgets.card import label
from gambrel.ui.widgets.long_table import LongTable
from gambrel.ui.widgets.short_label import ShortLabel
from gambrel.ui.widgets.table import Column

COLUMNS = (
    Column("", words=True),
    Column("", words=True),
    Column("", words=True, wide=True),
    Column("", words=True),
    Column("", words=True),
    Column(""),
    Column(""),
    Column(""),
)
"""Words or figures; what they are called depends on what is shown."""


class BehindPanel(QWidget):
    """Shows the rows behind a figure; ``opened`` tells the number of the row that was tapped.

    Escape and Backspace go back.
    """

    back = Signal()
    opened = Signal(int)
    save = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.back_button = ActionButton(theme, self.tr("Back"), icon="chevron-left")
        self.back_button.clicked.connect(self.back)
        self.title, self.sum = ShortLabel("label"), ShortLabel("strong")
        self.save_button = ActionButton(theme, self.tr("CSV"), icon="file-down")
        self.save_button.setAccessibleName(self.tr("Save this list as CSV"))
        self.save_button.clicked.connect(self.save)
        self.note = label("", "soft", wrap=True)
        self.table = LongTable(theme, self.tr("What is behind it"), COLUMNS)
        self.table.opened.connect(self.opened)
        row = QHBoxLayout()
        row.addWidget(self.back_button)
        words = QVBoxLayout()
        words.setSpacing(0)
        words.addWidget(self.title)
        words.addWidget(self.sum)
        row.addLayout(words, 1)
        row.addWidget(self.save_button)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(theme.tokens.space.small)
        box.addLayout(row)
        box.addWidget(self.note)
        box.addWidget(self.table, 1)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Escape, Qt.Key.Key_Backspace):
            self.back.emit()
        else:
            super().keyPressEvent(event)

    def show_state(self, state: BehindState) -> None:
        """Show what is behind one figure."""
        self.title.setText(state.title)
        self.sum.setText(state.sum)
        self.note.setText(state.note)
        self.note.setVisible(bool(state.note))
        self.table.setAccessibleName(f"{state.title}: {state.sum}")
        self.table.texts.show_headings(state.headings)
        self.table.show_rows(state.rows)
        self.table.setVisible(bool(state.rows))
        self.save_button.setEnabled(bool(state.rows))
        (self.table if state.rows else self.back_button).setFocus()
