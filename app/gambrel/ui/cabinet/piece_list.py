"""Pieces that can be labelled, to be ticked by a finger or by the keyboard."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import (
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QKeyEvent, QPainter
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QListWidget,
    QListWidgetItem,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)

from gambrel.ui.theme import Theme, Weight
from gambrel.ui.widgets.button import ActionButton
from gambrel.ui.widgets.painting import LEFT, draw_fitted, fit
from gambrel.ui.widgets.scroll import touch_scroll
from gambrel.ui.widgets.tick import SIDE, paint_tick

ROW = 60
PAD = 8


@dataclass(frozen=True, slots=True)
class PieceRow:
    """A piece as it is offered: its key, two lines of words, its grams, whether it is of today."""

    key: str
    name: str
    more: str
    left_g: int = 0
    today: bool = False


class PiecePainter(QStyledItemDelegate):
    """Paints a row: its tick, its name, and under it the rest."""

    def __init__(self, theme: Theme, parent: QObject) -> None:
        super().__init__(parent)
        self._theme = theme

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        theme, room = self._theme, QRectF(option.rect)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if option.state & QStyle.StateFlag.State_Selected:
            painter.fillRect(room, theme.colour("chosen"))
        on = Qt.CheckState(index.data(Qt.ItemDataRole.CheckStateRole)) == Qt.CheckState.Checked
        paint_tick(theme, painter, room.adjusted(PAD, 0, 0, 0), on=on)
        words = room.adjusted(PAD + SIDE + PAD + 4, 5, -PAD, -5)
        name, _, more = index.data(Qt.ItemDataRole.DisplayRole).partition("\n")
        upper = QRectF(words.left(), words.top(), words.width(), words.height() / 2)
        lower = QRectF(words.left(), upper.bottom(), words.width(), words.height() / 2)
        size = theme.tokens.type.body
        for text, place, weight, role in (
            (name, upper, Weight.DemiBold, "ink"),
            (more, lower, Weight.Normal, "soft_ink"),
        ):
            painter.setPen(theme.colour(role))
            fitted = fit(text, theme.font(size, weight), place.width(), place.height())
            draw_fitted(painter, place, fitted, LEFT)
        painter.setPen(theme.colour("rule"))
        painter.drawLine(room.bottomLeft(), room.bottomRight())
        painter.restore()


class _Rows(QListWidget):
    """Toggles by a tap or by Space; a drag scrolls."""

    toggled = Signal(QListWidgetItem)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        item = self.currentItem()
        if event.key() == Qt.Key.Key_Space and item is not None:
            self.toggled.emit(item)
        else:
            super().keyPressEvent(event)


class PieceList(QWidget):
    """Rows with a tick each; ``changed`` tells that other pieces are chosen."""

    changed = Signal()
    split_wished = Signal(str)
    """The key of a piece that shall be split onto trays."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._rows: tuple[PieceRow, ...] = ()
        self.trays: dict[str, tuple[int, ...]] = {}
        """Net grams of the trays of pieces that were split."""
        self.list = _Rows()
        self.list.setAccessibleName(self.tr("Pieces that can be labelled"))
        self.list.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.list.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.list.setItemDelegate(PiecePainter(theme, self))
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        touch_scroll(self.list)
        self.list.itemClicked.connect(self._toggle)
        self.list.toggled.connect(self._toggle)
        self.today_button = ActionButton(theme, self.tr("Today's"), size=18)
        self.none_button = ActionButton(theme, self.tr("None"), size=18)
        self.split_button = ActionButton(theme, self.tr("Split"), size=18)
        self.split_button.setAccessibleName(self.tr("Split the marked piece onto trays"))
        self.split_button.clicked.connect(self._split)
        self.list.currentItemChanged.connect(lambda *_: self._show_split())
        self.today_button.clicked.connect(self._tick_today)
        self.none_button.clicked.connect(lambda: self.tick(()))
        foot = QHBoxLayout()
        foot.setSpacing(theme.tokens.space.small)
        foot.addWidget(self.today_button, 1)
        foot.addWidget(self.none_button, 1)
        foot.addWidget(self.split_button, 1)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(theme.tokens.space.small)
        box.addWidget(self.list, 1)
        box.addLayout(foot)

    @property
    def ticked(self) -> list[str]:
        """The pieces that are chosen, in the order of the list."""
        return [row.key for number, row in enumerate(self._rows) if self._is_ticked(number)]

    def _is_ticked(self, number: int) -> bool:
        return self.list.item(number).checkState() == Qt.CheckState.Checked

    def show_rows(self, rows: Sequence[PieceRow]) -> None:
        """Show other pieces; those that stay keep their tick."""
        kept = set(self.ticked)
        self._rows = tuple(rows)
        offered = {row.key for row in rows}
        self.trays = {key: trays for key, trays in self.trays.items() if key in offered}
        self.list.clear()
        for row in rows:
            item = QListWidgetItem()
            item.setSizeHint(QSize(0, ROW))
            item.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable)
            item.setCheckState(
                Qt.CheckState.Checked if row.key in kept else Qt.CheckState.Unchecked
            )
            self.list.addItem(item)
            self._word(item, row)
        self._show_split()
        self.today_button.setEnabled(any(row.today for row in rows))
        self.changed.emit()

    def _word(self, item: QListWidgetItem, row: PieceRow) -> None:
        """Write a row's words; of a piece that was split, how many trays it is on."""
        trays = len(self.trays.get(row.key, ()))
        name = self.tr("{0} · {1} trays").format(row.name, trays) if trays else row.name
        item.setText(f"{name}\n{row.more}")
        item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{name}, {row.more}")

    def row(self, key: str) -> PieceRow | None:
        """A piece that is offered."""
        return next((row for row in self._rows if row.key == key), None)

    def show_trays(self, key: str, trays: tuple[int, ...]) -> None:
        """Keep the trays of a piece, and choose it."""
        self.trays[key] = trays
        for number, row in enumerate(self._rows):
            if row.key == key:
                self._word(self.list.item(number), row)
                self.list.item(number).setCheckState(Qt.CheckState.Checked)
        self.changed.emit()

    def _show_split(self) -> None:
        self.split_button.setEnabled(0 <= self.list.currentRow() < len(self._rows))

    def _split(self) -> None:
        self.split_wished.emit(self._rows[self.list.currentRow()].key)

    def tick(self, keys: Sequence[str]) -> None:
        """Choose just these."""
        wanted = set(keys)
        for number, row in enumerate(self._rows):
            state = Qt.CheckState.Checked if row.key in wanted else Qt.CheckState.Unchecked
            self.list.item(number).setCheckState(state)
        self.changed.emit()

    def _tick_today(self) -> None:
        self.tick([row.key for row in self._rows if row.today])

    def _toggle(self, item: QListWidgetItem) -> None:
        on = item.checkState() == Qt.CheckState.Checked
        item.setCheckState(Qt.CheckState.Unchecked if on else Qt.CheckState.Checked)
        self.changed.emit()
