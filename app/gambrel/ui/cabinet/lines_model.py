"""The lines of the cabinet as Qt's model: which columns there are, and what stands in them."""

from __future__ import annotations

from enum import IntEnum
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, QPersistentModelIndex, Qt

from gambrel.ui.cabinet.state import RowState
from gambrel.ui.widgets.painting import LEFT, RIGHT

Index = QModelIndex | QPersistentModelIndex


class Column(IntEnum):
    """From left to right."""

    NAME = 0
    COST = 1
    BY_WEIGHT = 2
    BY_SALES = 3
    BY_NRV = 4
    BY_MARGIN = 5
    PRICE = 6
    MARGIN = 7
    NORM = 8
    STATE = 9
    HISTORY = 10


FOUR = (Column.BY_WEIGHT, Column.BY_SALES, Column.BY_NRV, Column.BY_MARGIN)
"""The cost per kilo by each method, in the order of `Method`."""

FIGURES = (Column.COST, *FOUR, Column.PRICE, Column.MARGIN, Column.NORM)

HEADS = (
    "Cut",
    "Cost/kg",
    "Weight",
    "Sales",
    "NRV",
    "Even",
    "Price/kg",
    "Margin",
    "4 weeks",
    "State",
    "History",
)
TIPS = {
    Column.BY_WEIGHT: "Cost per kilo shared by weight",
    Column.BY_SALES: "Cost per kilo shared by sales value",
    Column.BY_NRV: "Cost per kilo shared by net realisable value",
    Column.BY_MARGIN: "Cost per kilo at which every cut earns the same margin",
    Column.NORM: "The margin earned in the last four weeks, at the prices of the day",
}


class LinesModel(QAbstractTableModel):
    """The rows; while tickets are chosen the first column carries a tick."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.rows: tuple[RowState, ...] = ()
        self.ticked: frozenset[str] | None = None
        self.compact = False
        """Where the room is short the mark-up is left to the panel."""

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else len(Column)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:  # noqa: ANN401 - Qt's own signature
        if orientation is not Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return self.tr(HEADS[section])
        if role in (Qt.ItemDataRole.ToolTipRole, Qt.ItemDataRole.AccessibleTextRole):
            return self.tr(TIPS.get(Column(section), HEADS[section]))
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return int(RIGHT if section in FIGURES else LEFT)
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:  # noqa: ANN401
        row = self.rows[index.row()]
        if role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            return row.words
        if role == Qt.ItemDataRole.DisplayRole:
            return self.texts(row, Column(index.column()))[0]
        if role == Qt.ItemDataRole.CheckStateRole and index.column() == Column.NAME:
            if self.ticked is None:
                return None
            ticked = row.key in self.ticked
            return Qt.CheckState.Checked if ticked else Qt.CheckState.Unchecked
        return None

    def show_rows(self, rows: tuple[RowState, ...]) -> None:
        """Show other rows."""
        self.beginResetModel()
        self.rows = rows
        self.endResetModel()

    def show_ticks(self, ticked: frozenset[str] | None) -> None:
        """Show which cuts are chosen; None while none can be."""
        if ticked != self.ticked:
            self.ticked = ticked
            if self.rows:
                end = self.index(len(self.rows) - 1, Column.NAME)
                self.dataChanged.emit(self.index(0, Column.NAME), end)

    def texts(self, row: RowState, column: Column) -> tuple[str, str]:
        """What stands in a cell: large, and small below it."""
        if column in FOUR:
            number = FOUR.index(column)
            return (row.costs[number], "") if row.costs else ("", "")
        found = {
            Column.NAME: (row.name, row.note),
            Column.COST: (row.cost, row.kilos),
            Column.PRICE: (row.price, row.was),
            Column.MARGIN: (row.margin, "" if self.compact else row.mark_up),
            Column.NORM: (row.norm, ""),
            Column.STATE: (row.word, ""),
        }
        return found.get(column, ("", ""))
