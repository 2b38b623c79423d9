"""A table to read that may have thousands of rows: only what is in sight is looked at."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
    Signal,
)
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHeaderView, QSizePolicy, QTableView

from gambrel.ui.theme import Theme
from gambrel.ui.widgets.painting import text_width
from gambrel.ui.widgets.read_rows import read_in_rows
from gambrel.ui.widgets.scroll import touch_scroll
from gambrel.ui.widgets.table import LEFT, RIGHT, ROW, Column

Index = QModelIndex | QPersistentModelIndex
PADS = 24
"""Free room left and right of a cell's text together."""

WIDEST_WORDS = 220
"""Words of a column that is not the wide one are cut beyond this and told by the tool tip."""


class TextsModel(QAbstractTableModel):
    """Rows of texts under headings."""

    def __init__(self, columns: Sequence[Column], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.columns = tuple(columns)
        self.rows: Sequence[Sequence[str]] = ()

    def show_rows(self, rows: Sequence[Sequence[str]]) -> None:
        """Show other rows."""
        self.beginResetModel()
        self.rows = rows
        self.endResetModel()

    def show_headings(self, headings: Sequence[str]) -> None:
        """Give the columns other headings."""
        self.columns = tuple(
            Column(heading, words=old.words, wide=old.wide)
            for heading, old in zip(headings, self.columns, strict=True)
        )
        self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, len(self.columns) - 1)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(self.columns)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:  # noqa: ANN401 - Qt's own signature
        if orientation is not Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return self.columns[section].heading
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return int(LEFT if self.columns[section].words else RIGHT)
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:  # noqa: ANN401
        if role == Qt.ItemDataRole.DisplayRole:
            return self.rows[index.row()][index.column()]
        if role == Qt.ItemDataRole.ToolTipRole:
            return self.rows[index.row()][index.column()]
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return int(LEFT if self.columns[index.column()].words else RIGHT)
        return None


class LongTable(QTableView):
    """Shows texts in rows that a finger can hit; ``opened`` tells the row that was tapped."""

    opened = Signal(int)

    def __init__(self, theme: Theme, name: str, columns: Sequence[Column]) -> None:
        super().__init__()
        self._theme = theme
        self.texts = TextsModel(columns, self)
        self.setModel(self.texts)
        self.setAccessibleName(name)
        read_in_rows(self, row=ROW, head=theme.tokens.target.elsewhere)
        self.setAlternatingRowColors(True)
        self.setWordWrap(False)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.horizontalHeader().setAccessibleName(name)
        touch_scroll(self)
        self.clicked.connect(lambda index: self.opened.emit(index.row()))

    def show_rows(self, rows: Sequence[Sequence[str]]) -> None:
        """Replace all rows; each has one text a column."""
        self.texts.show_rows(rows)
        self._widen()
        self.scrollToTop()
        if rows:
            self.setCurrentIndex(self.texts.index(0, 0))

    def _widen(self) -> None:
        """Every column as wide as its longest text; the wide one has what is left."""
        head, mode = self.horizontalHeader(), QHeaderView.ResizeMode
        strong = self._theme.font(
            self._theme.tokens.type.body, self._theme.font(16).Weight.DemiBold
        )
        plain = self._theme.font(self._theme.tokens.type.body)
        for number, column in enumerate(self.texts.columns):
            if column.wide:
                head.setSectionResizeMode(number, mode.Stretch)
                continue
            longest = max((row[number] for row in self.texts.rows), key=len, default="")
            wide = text_width(plain, longest)
            wide = min(wide, WIDEST_WORDS) if column.words else wide
            head.setSectionResizeMode(number, mode.Fixed)
            room = max(wide, text_width(strong, column.heading)) + PADS
            self.setColumnWidth(number, int(room) + 1)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        enter = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)
        if event.key() in enter and self.currentIndex().isValid():
            self.opened.emit(self.currentIndex().row())
        else:
            super().keyPressEvent(event)
