"""The lines of a cutting list as a table whose rows are put in order."""

from __future__ import annotations

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
from PySide6.QtWidgets import QHeaderView

from gambrel.ui.setup.lists_state import LineRow
from gambrel.ui.theme import Theme
from gambrel.ui.widgets.movable import MovableRows
from gambrel.ui.widgets.painting import LEFT, RIGHT
from gambrel.ui.widgets.read_rows import read_in_rows
from gambrel.ui.widgets.scroll import touch_scroll

Index = QModelIndex | QPersistentModelIndex
HEADS = ("", "Cut", "Norm %", "Usual %")
ROW = 52
NAME = 1
WIDTHS = {0: 44, 2: 92, 3: 92}


class LineModel(QAbstractTableModel):
    """The rows as Qt asks for them."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.rows: tuple[LineRow, ...] = ()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(HEADS)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:  # noqa: ANN401 - Qt's own signature
        if orientation is not Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return self.tr(HEADS[section]) if HEADS[section] else ""
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return int(LEFT if section == NAME else RIGHT)
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:  # noqa: ANN401
        row = self.rows[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return (row.place, row.name, row.norm or "–", row.usual)[index.column()]
        if role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            return row.words
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return int(LEFT if index.column() == NAME else RIGHT)
        return None

    def show_rows(self, rows: tuple[LineRow, ...]) -> None:
        """Show other rows."""
        if rows != self.rows:
            self.beginResetModel()
            self.rows = rows
            self.endResetModel()


class ListTable(MovableRows):
    """Tells the cut that is chosen."""

    chosen = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.lines = LineModel(self)
        self.setModel(self.lines)
        self.setAccessibleName(self.tr("The cuts in their order"))
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        read_in_rows(self, row=ROW, head=theme.tokens.target.elsewhere)
        head = self.horizontalHeader()
        head.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        head.setSectionResizeMode(NAME, QHeaderView.ResizeMode.Stretch)
        for column, width in WIDTHS.items():
            self.setColumnWidth(column, width)
        touch_scroll(self)
        self.clicked.connect(lambda index: self.chosen.emit(self.lines.rows[index.row()].cut))

    def row_keys(self) -> list[str]:
        """The cuts that are shown."""
        return [row.cut for row in self.lines.rows]

    def show_rows(self, rows: tuple[LineRow, ...], chosen: str) -> None:
        """Show other rows, the chosen one marked."""
        stood = self.verticalScrollBar().value()
        self.selectionModel().blockSignals(True)
        self.lines.show_rows(rows)
        found = next((number for number, row in enumerate(rows) if row.cut == chosen), -1)
        self.setCurrentIndex(self.lines.index(found, NAME))
        self.selectionModel().blockSignals(False)
        self.verticalScrollBar().setValue(stood)
        if found >= 0 and not self.arranging:
            self.scrollTo(self.lines.index(found, NAME))
        self.viewport().update()

    def currentChanged(self, current: Index, previous: Index) -> None:
        super().currentChanged(current, previous)
        if current.isValid() and not self.selectionModel().signalsBlocked():
            self.chosen.emit(self.lines.rows[current.row()].cut)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Digits are for the norm, not for finding a row."""
        if event.text() and event.text() in "0123456789.,\b":
            event.ignore()
        else:
            super().keyPressEvent(event)
