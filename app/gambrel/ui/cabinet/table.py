"""The lines of the cabinet as a table for fingers: tall rows, large figures, a state in a word."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, Qt, Signal
from PySide6.QtGui import QFont, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QHeaderView

from gambrel.ui.cabinet.line_painter import FIGURE, PADS, ROW, SMALL, LineDelegate
from gambrel.ui.cabinet.lines_model import FIGURES, FOUR, Column, Index, LinesModel
from gambrel.ui.cabinet.state import RowState
from gambrel.ui.theme import Theme, Weight
from gambrel.ui.widgets.movable import MovableRows
from gambrel.ui.widgets.painting import text_width
from gambrel.ui.widgets.read_rows import read_in_rows
from gambrel.ui.widgets.scroll import touch_scroll

HEAD = 40
WIDTHS = {
    Column.COST: 92,
    Column.BY_WEIGHT: 84,
    Column.BY_SALES: 84,
    Column.BY_NRV: 84,
    Column.BY_MARGIN: 84,
    Column.PRICE: 92,
    Column.MARGIN: 92,
    Column.NORM: 88,
    Column.STATE: 146,
    Column.HISTORY: 80,
}
NARROW = 760
"""Below this width the mark-up is left to the panel."""

LEAST_NAME = 176
"""Where names have less room, columns that the panel tells as well are folded away."""


class LinesTable(MovableRows):
    """Tells the cut that is chosen, a tap on a tick, keys that type, and a row that is moved."""

    chosen = Signal(str)
    ticked = Signal(str)
    typed = Signal(QKeyEvent)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._widths: dict[Column, int] = {}
        self.four = False
        self.lines = LinesModel(self)
        self.setModel(self.lines)
        self.setItemDelegate(LineDelegate(theme, self))
        self.setAccessibleName(self.tr("Cuts with their cost and price"))
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        read_in_rows(self, row=ROW, head=HEAD)
        head = self.horizontalHeader()
        head.setFixedHeight(HEAD)
        head.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        head.setSectionResizeMode(Column.NAME, QHeaderView.ResizeMode.Stretch)
        for column, width in WIDTHS.items():
            self.setColumnWidth(column, width)
        touch_scroll(self)
        self.clicked.connect(self._tapped)
        theme.changed.connect(self.viewport().update)
        self._fold()

    def show_rows(self, rows: tuple[RowState, ...], chosen: str) -> None:
        """Show other rows, the chosen line marked where it is among them."""
        stood = self.verticalScrollBar().value()
        self.selectionModel().blockSignals(True)
        self.lines.show_rows(rows)
        for number, row in enumerate(rows):
            if row.key == chosen:
                self.setCurrentIndex(self.lines.index(number, Column.NAME))
        self.selectionModel().blockSignals(False)
        self.four = any(row.costs for row in rows)
        self._widen()
        self._fold()
        self.verticalScrollBar().setValue(stood)
        self.viewport().update()

    def row_keys(self) -> list[str]:
        """The cuts that are shown."""
        return [row.key for row in self.lines.rows]

    def _widen(self) -> None:
        """Give every figure its room; names wrap in what is left."""
        font = self._theme.font(FIGURE, Weight.Bold)
        small = self._theme.font(SMALL)
        for column in FIGURES:
            texts = [self.lines.texts(row, column) for row in self.lines.rows]
            large = max((_drawn(font, text) for text, _ in texts), default=0.0)
            below = max((_drawn(small, text) for _, text in texts), default=0.0)
            self._widths[column] = max(WIDTHS[column], int(max(large, below)) + PADS + 2)
            self.setColumnWidth(column, self._widths[column])

    def _fold(self) -> None:
        """Show what there is room for, so that names keep theirs."""
        narrow = self.width() < NARROW
        if narrow != self.lines.compact:
            self.lines.compact = narrow
            self._widen()
        folded = {*(() if self.four else FOUR)}
        if self.four:
            folded |= {Column.COST, Column.NORM, Column.HISTORY}
        spare = (Column.HISTORY, Column.NORM, Column.STATE, Column.MARGIN)
        for column in spare if self.four else spare[:2]:
            if self._room(folded) < LEAST_NAME:
                folded.add(column)
        for column in list(Column)[1:]:
            self.setColumnHidden(column, column in folded)

    def _room(self, folded: set[Column]) -> int:
        """What is left for the names while some columns are folded away."""
        shown = [column for column in list(Column)[1:] if column not in folded]
        bar = self.verticalScrollBar().sizeHint().width()
        return self.width() - bar - sum(max(self._wide(column), 1) for column in shown)

    def _wide(self, column: Column) -> int:
        # A hidden column has no width; what it had is what it gets back.
        return self._widths.get(column, WIDTHS[column])

    def currentChanged(self, current: Index, previous: Index) -> None:
        super().currentChanged(current, previous)
        if current.isValid() and not self.selectionModel().signalsBlocked():
            self.chosen.emit(self.lines.rows[current.row()].key)

    def _tapped(self, index: QModelIndex) -> None:
        self.ticked.emit(self.lines.rows[index.row()].key)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Space and self.currentIndex().isValid():
            self._tapped(self.currentIndex())
        elif event.text() and event.text() in "0123456789.,\b\r\x1b":
            self.typed.emit(event)
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._fold()
        super().resizeEvent(event)


def _drawn(font: QFont, text: str) -> float:
    """How wide a text is as `fit` draws it: with plain spaces."""
    return text_width(font, " ".join(text.split()))
