"""How the print desk is laid out: its head, and under it the pages, what waits, or the log."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from gambrel.ui.printing.log import LogPage
from gambrel.ui.printing.options import PrintOptions
from gambrel.ui.printing.preview import Preview
from gambrel.ui.printing.waiting import WaitingPage
from gambrel.ui.theme import Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton
from gambrel.ui.widgets.card import Card, label

PAGES, WAITING, LOG = range(3)
NARROW, WIDE = 348, 404


class DeskView(QWidget):
    """Shows states and reports wishes; decides nothing."""

    left = Signal()
    turned = Signal(int)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self.back = ActionButton(theme, self.tr("Back"), icon="chevron-left", size=18)
        self.back.clicked.connect(self.left)
        self.title = label("", "label")
        self.made = label("", "soft")
        self.banner = Banner(theme)
        self.preview = Preview(theme)
        self.options = PrintOptions(theme)
        self.panel = Card(theme)
        self.waiting = WaitingPage(theme)
        self.log = LogPage(theme)
        self.stack = QStackedWidget()
        self.tabs = QButtonGroup(self)
        self._lay_out()

    def _lay_out(self) -> None:
        space = self._theme.tokens.space
        words = QVBoxLayout()
        words.setSpacing(0)
        words.addWidget(self.title)
        words.addWidget(self.made)
        head = QHBoxLayout()
        head.setSpacing(space.gap)
        head.addWidget(self.back)
        head.addLayout(words, 1)
        for number, (name, icon) in enumerate(
            ((self.tr("Pages"), "printer"), (self.tr("Waiting"), "clock"), (self.tr("Log"), "list"))
        ):
            button = ActionButton(self._theme, name, icon=icon, size=18)
            button.setCheckable(True)
            self.tabs.addButton(button, number)
            head.addWidget(button)
        self.tabs.idClicked.connect(self.turn)
        pages = QWidget()
        row = QHBoxLayout(pages)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(space.gap)
        row.addWidget(self.preview, 1)
        self.panel.box.addWidget(self.options)
        row.addWidget(self.panel)
        for page in (pages, self.waiting, self.log):
            self.stack.addWidget(page)
        column = QVBoxLayout(self)
        column.setContentsMargins(space.gap, space.gap, space.gap, space.gap)
        column.setSpacing(space.gap)
        column.addLayout(head)
        column.addWidget(self.banner)
        column.addWidget(self.stack, 1)

    def turn(self, number: int) -> None:
        """Turn to a page; tells it."""
        self.stack.setCurrentIndex(number)
        self.tabs.button(number).setChecked(True)
        self.turned.emit(number)

    def show_head(self, title: str, made: str) -> None:
        """Name what is shown, and how much of it was made."""
        self.title.setText(title)
        self.made.setText(made)
        self.made.setVisible(bool(made))

    def show_waiting(self, words: str) -> None:
        """Say on its tab how much waits."""
        button = self.tabs.button(WAITING)
        assert isinstance(button, ActionButton)
        button.say(words)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self.panel.setFixedWidth(WIDE if self.width() >= 1200 else NARROW)
        super().resizeEvent(event)
