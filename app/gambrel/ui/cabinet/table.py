"""The lines of the cabinet as a table for fingers: tall rows, large figures, a state in a word."""

from __future__ import annotations

from enum import IntEnum
from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QPointF,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QKeyEvent, QPainter, QPen, QPolygonF, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableView,
)

from gambrel.ui.cabinet.state import RowState
from gambrel.ui.icons import paint_icon
from gambrel.ui.theme import MEANING_ICONS, Meaning, Theme, Weight
from gambrel.ui.widgets.painting import LEFT, RIGHT, box, draw_fitted, fit, text_width
from gambrel.ui.widgets.scroll import touch_scroll
from gambrel.ui.widgets.spark_line import spark_points

ROW = 60
FIGURE = 20
PADS = 22
"""Free room left and right of a cell's text together."""

Index = QModelIndex | QPersistentModelIndex


class Column(IntEnum):
    """From left to right."""

    NAME = 0
    KILOS = 1
    COST = 2
    PRICE = 3
    MARGIN = 4
    STATE = 5
    HISTORY = 6


HEADS = ("Cut", "kg, 4 weeks", "Cost/kg", "Price/kg", "Margin", "State", "Price so far")
WIDTHS = {
    Column.KILOS: 108,
    Column.COST: 92,
    Column.PRICE: 96,
    Column.MARGIN: 92,
    Column.STATE: 144,
    Column.HISTORY: 104,
}
NARROW = 760
"""Below this width the kilos and the history are folded away."""


class LinesModel(QAbstractTableModel):
    """The rows; while tickets are chosen the first column carries a tick."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.rows: tuple[RowState, ...] = ()
        self.ticked: frozenset[str] | None = None

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
        if role == Qt.ItemDataRole.TextAlignmentRole:
            number = Column.KILOS <= section <= Column.MARGIN
            return int(RIGHT if number else LEFT)
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:  # noqa: ANN401
        row = self.rows[index.row()]
        if role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            return row.words
        if role == Qt.ItemDataRole.DisplayRole:
            return (row.name, row.kilos, row.cost, row.price, row.margin, row.word, "")[
                index.column()
            ]
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
        """Show which rows are chosen for tickets; None while none are chosen from."""
        self.ticked = ticked
        if self.rows:
            last = self.index(len(self.rows) - 1, Column.NAME)
            self.dataChanged.emit(self.index(0, Column.NAME), last)


class LinesTable(QTableView):
    """Shows the rows; tells the line that was moved to, and the line that was tapped."""

    chosen = Signal(str)
    ticked = Signal(str)
    typed = Signal(QKeyEvent)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self.lines = LinesModel(self)
        self.setModel(self.lines)
        self.setItemDelegate(LineDelegate(theme, self))
        self.setAccessibleName(self.tr("Cuts with cost, price and margin"))
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
        head.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        head.setSectionResizeMode(Column.NAME, QHeaderView.ResizeMode.Stretch)
        for column, width in WIDTHS.items():
            self.setColumnWidth(column, width)
        touch_scroll(self)
        self.clicked.connect(self._tapped)
        theme.changed.connect(self.viewport().update)

    def show_rows(self, rows: tuple[RowState, ...], chosen: str) -> None:
        """Show other rows, the chosen line marked where it is among them."""
        stood = self.verticalScrollBar().value()
        self.selectionModel().blockSignals(True)
        self.lines.show_rows(rows)
        for number, row in enumerate(rows):
            if row.key == chosen:
                self.setCurrentIndex(self.lines.index(number, Column.NAME))
        self.selectionModel().blockSignals(False)
        self._widen()
        self.verticalScrollBar().setValue(stood)
        self.viewport().update()

    def _widen(self) -> None:
        """Give every figure its room; names wrap in what is left."""
        font = self._theme.font(FIGURE, Weight.Bold)
        for column in (Column.KILOS, Column.COST, Column.PRICE, Column.MARGIN):
            texts = [str(self.lines.index(n, column).data()) for n in range(len(self.lines.rows))]
            widest = max((text_width(font, text) for text in texts), default=0.0)
            self.setColumnWidth(column, max(WIDTHS[column], int(widest) + PADS + 2))

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
        narrow = self.width() < NARROW
        for column in (Column.KILOS, Column.HISTORY):
            self.setColumnHidden(column, narrow)
        super().resizeEvent(event)


class LineDelegate(QStyledItemDelegate):
    """Paints one cell."""

    def __init__(self, theme: Theme, parent: QObject) -> None:
        super().__init__(parent)
        self._theme = theme

    def sizeHint(self, _option: QStyleOptionViewItem, _index: Index) -> QSize:
        return QSize(80, ROW)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        table = self.parent()
        assert isinstance(table, LinesTable)
        row, column = table.lines.rows[index.row()], Column(index.column())
        here = index.row() == table.currentIndex().row()
        rect = QRectF(option.rect)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(rect, self._theme.colour("chosen" if here else "card"))
        painter.fillRect(rect.adjusted(0, ROW - 1, 0, 0), self._theme.colour("rule"))
        if here and column is Column.NAME:
            painter.fillRect(rect.adjusted(0, 0, 5 - rect.width(), 0), self._theme.colour("accent"))
        inner = rect.adjusted(PADS - 10, 0, -10, 0)
        if column is Column.NAME:
            self._name(painter, inner, index, row)
        elif column is Column.STATE:
            self._state(painter, inner, row)
        elif column is Column.HISTORY:
            self._history(painter, inner, row)
        else:
            self._number(painter, inner, str(index.data()), column)
        painter.restore()

    def _name(self, painter: QPainter, rect: QRectF, index: Index, row: RowState) -> None:
        tick = index.data(Qt.ItemDataRole.CheckStateRole)
        if tick is not None:
            on = tick == Qt.CheckState.Checked
            square = QRectF(rect.left() + 2, rect.center().y() - 13, 26, 26)
            accent, card = self._theme.colour("accent"), self._theme.colour("card")
            box(painter, square, accent if on else card, accent, 2, 5)
            if on:
                ink = self._theme.colour("on_accent")
                paint_icon(painter, "check", square.adjusted(3, 3, -3, -3), ink)
            rect = rect.adjusted(40, 0, 0, 0)
        painter.setPen(self._theme.colour("ink"))
        fitted = fit(
            row.name, self._theme.font(FIGURE, Weight.DemiBold), rect.width(), rect.height()
        )
        draw_fitted(painter, rect, fitted, LEFT)

    def _number(self, painter: QPainter, rect: QRectF, text: str, column: Column) -> None:
        strong = column in (Column.PRICE, Column.MARGIN)
        painter.setPen(self._theme.colour("ink" if strong else "soft_ink"))
        font = self._theme.font(FIGURE, Weight.Bold if strong else Weight.Normal)
        draw_fitted(painter, rect, fit(text, font, rect.width(), 30), RIGHT)

    def _state(self, painter: QPainter, rect: QRectF, row: RowState) -> None:
        chip = QRectF(rect.left(), rect.center().y() - 18, rect.width(), 36)
        own, tint = self._theme.colour(row.meaning), self._theme.colour(f"{row.meaning}_tint")
        box(painter, chip, tint, own, 1, 18)
        mark = QRectF(chip.left() + 9, chip.center().y() - 10, 20, 20)
        paint_icon(painter, MEANING_ICONS[Meaning(row.meaning)], mark, own)
        painter.setPen(self._theme.colour("ink"))
        words = chip.adjusted(34, 0, -6, 0)
        draw_fitted(painter, words, fit(row.word, self._theme.font(16), words.width(), 22), LEFT)

    def _history(self, painter: QPainter, rect: QRectF, row: RowState) -> None:
        accent = self._theme.colour("accent")
        painter.translate(rect.left() + 6, rect.top() + 16)
        painter.setPen(QPen(accent, 2, c=Qt.PenCapStyle.RoundCap, j=Qt.PenJoinStyle.RoundJoin))
        lines = spark_points(row.history, rect.width() - 16, ROW - 32)
        for line in lines:
            painter.drawPolyline(QPolygonF([QPointF(x, y) for x, y in line]))
        if lines:
            painter.setBrush(accent)
            painter.drawEllipse(QPointF(*lines[-1][-1]), 3.5, 3.5)
