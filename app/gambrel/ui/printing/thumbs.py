"""Small pictures of all pages beside the one that is shown; each is asked for when it is seen."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QRectF,
    QSize,
    Qt,
    QTimer,
    Signal,
)
from PySide6.QtGui import QColor, QImage, QPainter, QPixmap
from PySide6.QtWidgets import QListView, QStyle, QStyledItemDelegate, QStyleOptionViewItem

from gambrel.devices.pages import PageSize
from gambrel.ui.theme import Theme, Weight
from gambrel.ui.widgets.painting import CENTRE, box
from gambrel.ui.widgets.scroll import touch_scroll

WIDE, TALL = 88, 104
"""Logical pixels in which a small picture fits."""

NUMBER = 26
"""Room for a page's number under it."""

Index = QModelIndex | QPersistentModelIndex


class ThumbModel(QAbstractListModel):
    """The pages; ``wished`` tells those that came into sight and have no picture yet."""

    wished = Signal(list)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._count = 0
        self._pictures: dict[int, QPixmap] = {}
        self._asked: set[int] = set()
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.timeout.connect(self._ask)
        self._waiting: list[int] = []

    def show_count(self, count: int) -> None:
        """Begin anew with so many pages."""
        self.beginResetModel()
        self._count = count
        self._pictures, self._asked, self._waiting = {}, set(), []
        self.endResetModel()

    def show_picture(self, page: int, picture: QImage) -> None:
        """Show the picture of a page."""
        if page < self._count:
            self._pictures[page] = QPixmap.fromImage(picture)
            self.dataChanged.emit(self.index(page), self.index(page))

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own signature
        return 0 if parent.isValid() else self._count

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:  # noqa: ANN401
        page = index.row()
        if role == Qt.ItemDataRole.DisplayRole:
            return str(page + 1)
        if role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            return self.tr("Page {0} of {1}").format(page + 1, self._count)
        if role == Qt.ItemDataRole.DecorationRole:
            if page not in self._pictures and page not in self._asked:
                self._asked.add(page)
                self._waiting.append(page)
                self._soon.start()  # never from within a paint
            return self._pictures.get(page)
        if role == Qt.ItemDataRole.SizeHintRole:
            return QSize(WIDE + 16, TALL + NUMBER + 12)
        return None

    def _ask(self) -> None:
        pages, self._waiting = self._waiting, []
        if pages:
            self.wished.emit(pages)


class ThumbPainter(QStyledItemDelegate):
    """Paints a page in its own colours, and an edge around the one that is shown."""

    def __init__(self, theme: Theme, parent: QObject) -> None:
        super().__init__(parent)
        self._theme = theme

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        room = QRectF(option.rect)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        colour = self._theme.colour
        if chosen:
            inner = room.adjusted(2, 2, -2, -2)
            box(painter, inner, colour("chosen"), colour("accent"), 2, 6)
        picture = index.data(Qt.ItemDataRole.DecorationRole)
        above = QRectF(room.left(), room.top() + 6, room.width(), TALL)
        if isinstance(picture, QPixmap):
            size = picture.deviceIndependentSize()
            place = QRectF(0, 0, size.width(), size.height())
            place.moveCenter(above.center())
            white = QColor(Qt.GlobalColor.white)
            box(painter, place.adjusted(-1, -1, 1, 1), white, colour("edge"), 1, 0)
            painter.drawPixmap(place.toRect(), picture)
        below = QRectF(room.left(), above.bottom(), room.width(), NUMBER)
        painter.setPen(colour("ink"))
        weight = Weight.DemiBold if chosen else Weight.Normal
        painter.setFont(self._theme.font(self._theme.tokens.type.body, weight))
        painter.drawText(below, int(CENTRE), str(index.row() + 1))


class Thumbs(QListView):
    """A strip of pages; ``chosen`` tells the one that was tapped or walked to."""

    chosen = Signal(int)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.pages = ThumbModel(self)
        self.setModel(self.pages)
        self.setItemDelegate(ThumbPainter(theme, self))
        self.setAccessibleName(self.tr("Pages"))
        self.setUniformItemSizes(True)
        self.setFixedWidth(WIDE + 36)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        touch_scroll(self)
        self.clicked.connect(lambda index: self.chosen.emit(index.row()))

    def show_pages(self, sizes: Sequence[PageSize]) -> None:
        """Begin anew."""
        self.pages.show_count(len(sizes))

    def mark(self, page: int) -> None:
        """Mark the page that is shown, and bring it into sight; tells nobody."""
        self.setCurrentIndex(self.pages.index(page))

    def currentChanged(self, current: Index, previous: Index) -> None:
        super().currentChanged(current, previous)
        if self.hasFocus() and current.isValid():
            self.chosen.emit(current.row())
