"""Rows that are painted, each as tall as a finger: walked by arrows, opened by a tap or Enter."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
)
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from gambrel.ui.theme import Theme
from gambrel.ui.widgets.painting import box

ROW = 56


class PictureRows(QWidget):
    """The ground of such lists. A subclass says how many rows, parts and words there are.

    A row may have parts beside itself (dots of a chart): Left and Right walk them, and a tap near
    one means it. ``opened`` tells the row and the part, −1 for the row itself; ``reached`` the
    part of the widget that should be in sight.
    """

    opened = Signal(int, int)
    reached = Signal(int, int)

    def __init__(self, theme: Theme, name: str) -> None:
        super().__init__()
        self._theme, self._name = theme, name
        self._cursor = (0, -1)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self.setAccessibleName(name)
        theme.changed.connect(self.update)

    def count(self) -> int:
        """How many rows there are."""
        raise NotImplementedError

    def parts(self, _row: int) -> int:
        """How many parts a row has beside itself."""
        return 0

    def part_at(self, _row: int, _place: QPointF) -> int:
        """The part of a row under a point, −1 for the row itself."""
        return -1

    def words(self, row: int, part: int) -> str:
        """What a screen reader and the tool tip say."""
        raise NotImplementedError

    def paint_row(self, painter: QPainter, row: int, place: QRectF) -> None:
        """Paint one row."""
        raise NotImplementedError

    @property
    def cursor_at(self) -> tuple[int, int]:
        """Row and part that Enter opens."""
        return self._cursor

    def begin(self, words: str) -> None:
        """Start anew after other rows were given; ``words`` say what the picture tells."""
        self._cursor = (0, -1)
        self.setAccessibleName(self._name)
        self.setAccessibleDescription(words)
        self.setMinimumHeight(self.count() * ROW)
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(600, self.count() * ROW)

    def place_of(self, row: int) -> QRectF:
        """Where a row stands."""
        return QRectF(0, row * ROW, self.width(), ROW)

    def _at(self, place: QPointF) -> tuple[int, int] | None:
        row = int(place.y() // ROW)
        return (row, self.part_at(row, place)) if 0 <= row < self.count() else None

    def mousePressEvent(self, event: QMouseEvent) -> None:
        event.accept()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        found = self._at(event.position())
        if found is not None and event.button() == Qt.MouseButton.LeftButton:
            self._go(*found)
            self.opened.emit(*found)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        row, part = self._cursor
        key = Qt.Key(event.key())
        if key in (Qt.Key.Key_Up, Qt.Key.Key_Down) and self.count():
            step = 1 if key == Qt.Key.Key_Down else -1
            self._go(min(max(row + step, 0), self.count() - 1), -1)
        elif key in (Qt.Key.Key_Left, Qt.Key.Key_Right) and self.count():
            step = 1 if key == Qt.Key.Key_Right else -1
            self._go(row, min(max(part + step, -1), self.parts(row) - 1))
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space) and self.count():
            self.opened.emit(row, part)
        else:
            super().keyPressEvent(event)

    def _go(self, row: int, part: int) -> None:
        self._cursor = (row, part)
        self.setAccessibleName(f"{self._name}: {self.words(row, part)}")
        self.reached.emit(row * ROW, (row + 1) * ROW)
        self.update()

    def focusInEvent(self, event: QFocusEvent) -> None:
        self.update()
        super().focusInEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        self.update()
        super().focusOutEvent(event)

    def event(self, event: QEvent) -> bool:
        if isinstance(event, QHelpEvent):
            found = self._at(QPointF(event.pos()))
            QToolTip.showText(event.globalPos(), self.words(*found) if found else "", self)
            return True
        return super().event(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        first = max(event.rect().top() // ROW, 0)
        last = min(event.rect().bottom() // ROW, self.count() - 1)
        for row in range(first, last + 1):
            place = self.place_of(row)
            if row % 2:
                painter.fillRect(place, self._theme.colour("paper"))
            painter.save()
            self.paint_row(painter, row, place)
            painter.restore()
            if self.hasFocus() and self._cursor == (row, -1):
                clear = QColor(Qt.GlobalColor.transparent)
                line, radius = self._theme.tokens.line, self._theme.tokens.radius
                inner = place.adjusted(1, 1, -1, -1)
                box(painter, inner, clear, self._theme.colour("accent"), line.strong, radius.small)
        painter.end()
