"""The lines of the cabinet as a table for fingers: tall rows, large figures, a state in a word."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPoint, Qt, Signal
from PySide6.QtGui import QFont, QKeyEvent, QMouseEvent, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QScroller,
    QTableView,
)

from gambrel.ui.cabinet.line_painter import FIGURE, PADS, ROW, SMALL, LineDelegate
from gambrel.ui.cabinet.lines_model import FIGURES, FOUR, Column, Index, LinesModel
from gambrel.ui.cabinet.state import RowState
from gambrel.ui.theme import Theme, Weight
from gambrel.ui.widgets.painting import text_width
from gambrel.ui.widgets.scroll import touch_scroll

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

EDGE = 40
"""So near its edge a row that is dragged scrolls the list."""


class LinesTable(QTableView):
    """Tells the cut that is chosen, a tap on a tick, keys that type, and a row that is moved.

    ``moved`` tells a cut and the place among those shown that it shall have, ``arranged`` that the
    order is meant to stay. Alt with Up or Down moves the chosen row; while `arrange` is on, a
    finger or the mouse drags any.
    """

    chosen = Signal(str)
    ticked = Signal(str)
    typed = Signal(QKeyEvent)
    moved = Signal(str, int)
    arranged = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._dragged = ""
        self._widths: dict[Column, int] = {}
        self.arranging = False
        self.four = False
        self.lines = LinesModel(self)
        self.setModel(self.lines)
        self.setItemDelegate(LineDelegate(theme, self))
        self.setAccessibleName(self.tr("Cuts with their cost and price"))
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setShowGrid(False)
        self.setTabKeyNavigation(False)
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(ROW)
        head = self.horizontalHeader()
        head.setFixedHeight(40)
        head.setHighlightSections(False)
        head.setSectionsClickable(False)
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

    def arrange(self, on: bool) -> None:
        """Let rows be dragged; a finger then moves a row instead of the list."""
        self.arranging = on
        touch = QScroller.ScrollerGestureType.TouchGesture
        if on:
            QScroller.ungrabGesture(self.viewport())
        else:
            QScroller.grabGesture(self.viewport(), touch)
        self.viewport().update()

    def move_chosen(self, by: int) -> None:
        """Wish the chosen row so many places down (or up)."""
        at = self.currentIndex().row()
        if 0 <= at < len(self.lines.rows) and 0 <= at + by < len(self.lines.rows):
            self.moved.emit(self.lines.rows[at].key, at + by)
            self.arranged.emit()

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
        steps = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}
        alt = event.modifiers() & Qt.KeyboardModifier.AltModifier
        if alt and (by := steps.get(Qt.Key(event.key()))):
            self.move_chosen(by)
        elif event.key() == Qt.Key.Key_Space and self.currentIndex().isValid():
            self._tapped(self.currentIndex())
        elif event.text() and event.text() in "0123456789.,\b\r\x1b":
            self.typed.emit(event)
        else:
            super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        super().mousePressEvent(event)
        row = self.rowAt(event.position().toPoint().y())
        if self.arranging and row >= 0:
            self._dragged = self.lines.rows[row].key
            self.viewport().setCursor(Qt.CursorShape.ClosedHandCursor)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if not self._dragged:
            super().mouseMoveEvent(event)
            return
        at = event.position().toPoint()
        self._scroll_at(at)
        row = self.rowAt(at.y())
        if 0 <= row != self._place(self._dragged):
            self.moved.emit(self._dragged, row)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self._dragged:
            self.arranged.emit()
        self._dragged = ""
        self.viewport().unsetCursor()
        super().mouseReleaseEvent(event)

    def _place(self, key: str) -> int:
        return next((n for n, row in enumerate(self.lines.rows) if row.key == key), -1)

    def _scroll_at(self, at: QPoint) -> None:
        bar = self.verticalScrollBar()
        if at.y() < EDGE:
            bar.setValue(bar.value() - ROW // 4)
        elif at.y() > self.viewport().height() - EDGE:
            bar.setValue(bar.value() + ROW // 4)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._fold()
        super().resizeEvent(event)


def _drawn(font: QFont, text: str) -> float:
    """How wide a text is as `fit` draws it: with plain spaces."""
    return text_width(font, " ".join(text.split()))
