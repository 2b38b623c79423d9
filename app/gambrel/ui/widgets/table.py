"""A table to read: figures right-aligned, rows a finger can hit, nothing to edit by accident."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QScroller,
    QSizePolicy,
    QTableWidget,
    QTableWidgetItem,
)

from gambrel.ui.theme import Theme
from gambrel.ui.widgets.read_rows import read_in_rows

ROW = 48
LEFT = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
RIGHT = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its heading, and whether it holds words (at the left) or figures.

    ``wide`` takes what room the others leave; without one the first column of words does.
    """

    heading: str
    words: bool = False
    wide: bool = False


class ReadTable(QTableWidget):
    """Rows of texts under headings; scrolled by a finger, walked by the arrow keys.

    ``opened`` tells the row that was tapped, or where Enter was pressed.
    """

    opened = Signal(int)

    def __init__(self, theme: Theme, name: str, columns: Sequence[Column]) -> None:
        super().__init__(0, len(columns))
        self._columns = tuple(columns)
        self.setAccessibleName(name)
        self.setHorizontalHeaderLabels([column.heading for column in columns])
        for index, column in enumerate(columns):
            heading = self.horizontalHeaderItem(index)
            if heading is not None:
                heading.setTextAlignment(LEFT if column.words else RIGHT)
        read_in_rows(self, row=ROW, head=theme.tokens.target.elsewhere)
        self.horizontalHeader().setAccessibleName(name)
        self.setAlternatingRowColors(True)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        QScroller.grabGesture(self.viewport(), QScroller.ScrollerGestureType.TouchGesture)
        self.cellClicked.connect(lambda row, _column: self.opened.emit(row))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        enter = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if enter and self.currentRow() >= 0:
            self.opened.emit(self.currentRow())
        else:
            super().keyPressEvent(event)

    def show_rows(self, rows: Sequence[Sequence[str]]) -> None:
        """Replace all rows; each has one text a column."""
        mode = QHeaderView.ResizeMode
        header = self.horizontalHeader()
        # Columns that follow their contents would be measured again after every single cell.
        header.setSectionResizeMode(mode.Fixed)
        self.setRowCount(len(rows))
        wide = self._wide()
        for at, row in enumerate(rows):
            for index, (text, column) in enumerate(zip(row, self._columns, strict=True)):
                item = QTableWidgetItem(text)
                item.setTextAlignment(LEFT if column.words else RIGHT)
                item.setToolTip(text if index == wide else "")
                self.setItem(at, index, item)
        for index in range(len(self._columns)):
            header.setSectionResizeMode(
                index, mode.Stretch if index == wide else mode.ResizeToContents
            )

    def _wide(self) -> int:
        wished = [at for at, column in enumerate(self._columns) if column.wide]
        words = [at for at, column in enumerate(self._columns) if column.words]
        return next(iter([*wished, *words]), 0)

    def texts(self) -> list[list[str]]:
        """What the table shows, row by row."""
        cells = [
            [self.item(row, column) for column in range(self.columnCount())]
            for row in range(self.rowCount())
        ]
        return [[cell.text() if cell else "" for cell in row] for row in cells]
