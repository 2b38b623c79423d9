"""A table whose rows are put in order: dragged, or moved by keys."""

from __future__ import annotations

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QScroller, QTableView

EDGE = 40
"""So near its edge a row that is dragged scrolls the table."""


class MovableRows(QTableView):
    """Tells wishes to move rows; whoever shows them shows them in their new order.

    ``moved`` tells a row's key and the place among those shown that it shall have, ``arranged``
    that the order is meant to stay. Alt with Up or Down moves the row that is current; while
    `arrange` is on, a finger or the mouse drags any.
    """

    moved = Signal(str, int)
    arranged = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.arranging = False
        self._dragged = ""

    def row_keys(self) -> list[str]:
        """The keys of the rows that are shown, in their order."""
        raise NotImplementedError

    def arrange(self, on: bool) -> None:
        """Let rows be dragged; a finger then moves a row instead of the table."""
        self.arranging = on
        touch = QScroller.ScrollerGestureType.TouchGesture
        if on:
            QScroller.ungrabGesture(self.viewport())
        else:
            QScroller.grabGesture(self.viewport(), touch)
        self.viewport().update()

    def move_chosen(self, by: int) -> None:
        """Wish the current row so many places down (or up)."""
        at, keys = self.currentIndex().row(), self.row_keys()
        if 0 <= at < len(keys) and 0 <= at + by < len(keys):
            self.moved.emit(keys[at], at + by)
            self.arranged.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        steps = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}
        alt = event.modifiers() & Qt.KeyboardModifier.AltModifier
        if alt and (by := steps.get(Qt.Key(event.key()))):
            self.move_chosen(by)
        else:
            super().keyPressEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        super().mousePressEvent(event)
        row = self.rowAt(event.position().toPoint().y())
        if self.arranging and row >= 0:
            self._dragged = self.row_keys()[row]
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
        keys = self.row_keys()
        return keys.index(key) if key in keys else -1

    def _scroll_at(self, at: QPoint) -> None:
        bar, step = self.verticalScrollBar(), self.verticalHeader().defaultSectionSize() // 4
        if at.y() < EDGE:
            bar.setValue(bar.value() - step)
        elif at.y() > self.viewport().height() - EDGE:
            bar.setValue(bar.value() + step)
