"""The end of a body: its balance, then what every cut costs a kilo."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from gambrel.ui.block.finish_state import EndState, FigureText
from gambrel.ui.block.keys import BlockKey
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import Role
from gambrel.ui.widgets.card import Card, label
from gambrel.ui.widgets.figure import Figure
from gambrel.ui.widgets.scroll import touch_scroll

ROW = 40
FIGURES = 130, 220
"""The least and the most width of a column of figures; the names have what they leave."""


class FinishView(QWidget):
    """Shows an `EndState` and reports wishes."""

    finish_wished = Signal()
    back_wished = Signal()
    reopen_wished = Signal()
    rail_wished = Signal()
    minutes_stepped = Signal(int)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self.title: QLabel = label("", "heading")
        self.banner = Banner(theme)
        self.figures = [Figure(theme) for _ in range(5)]
        self.table = QTableWidget()
        self.table.setAccessibleName(self.tr("Cuts"))
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        self.table.setAlternatingRowColors(True)
        self.table.setShowGrid(False)
        self.table.setTabKeyNavigation(False)
        self.table.setFocusPolicy(Qt.FocusPolicy.TabFocus)  # so that the arrows scroll it
        self.table.horizontalHeader().setAccessibleName(self.tr("Cuts"))
        self.table.horizontalHeader().setSectionsClickable(False)
        self.table.verticalHeader().hide()
        self.table.verticalHeader().setDefaultSectionSize(ROW)
        touch_scroll(self.table)
        self.note: QLabel = label("", "soft", wrap=True)
        self.less_key = BlockKey(theme, icon="minus")
        self.more_key = BlockKey(theme, icon="plus")
        self.less_key.setAccessibleName(self.tr("A minute less"))
        self.more_key.setAccessibleName(self.tr("A minute more"))
        self.minutes: QLabel = label("", "figure")
        self.minutes.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.minutes_word: QLabel = label(self.tr("minutes of work"), "soft")
        self.minutes_word.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.back_key = BlockKey(theme, self.tr("Keep on weighing"))
        self.finish_key = BlockKey(theme, self.tr("Finish body"), role=Role.PRIMARY, size=28)
        self.reopen_key = BlockKey(theme, self.tr("Reopen"), icon="undo-2")
        self.rail_key = BlockKey(theme, self.tr("Back to rail"), role=Role.PRIMARY, size=28)
        self._connect()
        self._lay_out()

    def _connect(self) -> None:
        self.finish_key.clicked.connect(self.finish_wished)
        self.back_key.clicked.connect(self.back_wished)
        self.reopen_key.clicked.connect(self.reopen_wished)
        self.rail_key.clicked.connect(self.rail_wished)
        for key in (self.less_key, self.more_key):
            key.setAutoRepeat(True)  # held down it goes on
        self.less_key.clicked.connect(lambda: self.minutes_stepped.emit(-1))
        self.more_key.clicked.connect(lambda: self.minutes_stepped.emit(1))

    def _lay_out(self) -> None:
        gap = self._theme.tokens.space.gap
        card = Card(self._theme)
        card.box.addWidget(self.title)
        row = QHBoxLayout()
        row.setSpacing(gap)
        for figure in self.figures:
            row.addWidget(figure, 1)
        card.box.addLayout(row)
        card.box.addWidget(self.banner)
        foot = QHBoxLayout()
        foot.setSpacing(gap)
        for key in (self.back_key, self.reopen_key):
            foot.addWidget(key, 2)
        foot.addWidget(self.less_key)
        words = QVBoxLayout()
        words.setSpacing(0)
        for text in (self.minutes, self.minutes_word):
            words.addWidget(text)
        foot.addLayout(words, 2)
        foot.addWidget(self.more_key)
        for key in (self.finish_key, self.rail_key):
            foot.addWidget(key, 4)
        box = QVBoxLayout(self)
        box.setContentsMargins(gap, gap, gap, gap)
        box.setSpacing(gap)
        box.addWidget(card)
        box.addWidget(self.table, 1)
        box.addWidget(self.note)
        box.addLayout(foot)

    def show_state(self, state: EndState) -> None:
        """Show the end of a body."""
        self.title.setText(state.title)
        for figure, text in zip(self.figures, state.figures, strict=True):
            _show_figure(figure, text)
        self.banner.say(Meaning(state.meaning), state.sentence, word=state.word)
        self.banner.close_button.hide()
        self.note.setText(state.note)
        self.rail_key.say(state.onward)
        self.note.setVisible(bool(state.note))
        self.minutes.setText(str(state.minutes))
        for widget in (self.back_key, self.finish_key, self.less_key, self.more_key):
            widget.setVisible(not state.finished)
        for widget in (self.reopen_key, self.rail_key):
            widget.setVisible(state.finished)
        self._show_table(state)

    def _show_table(self, state: EndState) -> None:
        self.table.setColumnCount(len(state.columns))
        self.table.setRowCount(len(state.rows))
        self.table.setHorizontalHeaderLabels(list(state.columns))
        self._share_width()
        right = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        left = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        for across in range(len(state.columns)):
            head = self.table.horizontalHeaderItem(across)
            if head is not None:
                head.setTextAlignment(right if across else left)
        for down, texts in enumerate(state.rows):
            for across, text in enumerate(texts):
                item = QTableWidgetItem(text)
                item.setTextAlignment(right if across else left)
                self.table.setItem(down, across, item)

    def _share_width(self) -> None:
        """Give the figures a share of the width each, and the names the rest."""
        header, columns = self.table.horizontalHeader(), self.table.columnCount()
        least, most = FIGURES
        figures = min(max(self.width() // 7, least), most)
        for across in range(columns):
            mode = QHeaderView.ResizeMode.Fixed if across else QHeaderView.ResizeMode.Stretch
            header.setSectionResizeMode(across, mode)
            if across:
                header.resizeSection(across, figures)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._share_width()


def _show_figure(figure: Figure, text: FigureText) -> None:
    marked = Meaning(text.meaning) if text.meaning in ("watch", "stop") else None
    figure.show_value(text.value, text.unit, caption=text.caption, meaning=marked)
