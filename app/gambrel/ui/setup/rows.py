"""Rows that can be tapped: a limit, a person, a tub."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QResizeEvent
from PySide6.QtWidgets import QGridLayout, QSizePolicy, QWidget

from gambrel.ui.setup.rows_state import RowState
from gambrel.ui.theme import Theme, Weight
from gambrel.ui.widgets.button import Button
from gambrel.ui.widgets.painting import LEFT, RIGHT, draw_fitted, fit, text_width

ROW = 72
LAST = 99
"""The number of the grid's last line, under all rows."""
NARROWEST = 290
"""A row is no narrower while several stand side by side."""
TIGHT = 3
"""Of the room above and below its words a row with a long name uses so much."""
WIDE_ROW = 400
"""The same for rows with long names."""


class SettingRow(Button):
    """Paints a `RowState`; the screen decides whether it is chosen."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme, least=ROW)
        self.setCheckable(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setFixedHeight(ROW)
        self._shown: RowState | None = None

    def nextCheckState(self) -> None:
        """The screen decides what is chosen, not the tap."""

    def sizeHint(self) -> QSize:
        return QSize(NARROWEST, ROW)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter on the row that is chosen already is for the section: it keeps what was typed."""
        if self.isChecked() and event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            event.ignore()
        else:
            super().keyPressEvent(event)

    def show_row(self, row: RowState) -> None:
        """Show another row, or the same as it is now."""
        self.setChecked(row.chosen)
        self.setEnabled(not row.fixed)
        if row != self._shown:
            self._shown = row
            self.setAccessibleName(row.spoken)
            self.update()

    def colours(self) -> tuple[QColor, QColor, QColor, QColor]:
        fill, edge, ink, soft = super().colours()
        if not self.isEnabled():  # it is read like any other
            return fill, edge, self.theme.colour("soft_ink"), self.theme.colour("soft_ink")
        return fill, edge, ink, soft

    def paint_face(self, painter: QPainter, rect: QRectF, ink: QColor, soft: QColor) -> None:
        row = self._shown
        if row is None:
            return
        rect = rect.adjusted(6, 0, -6, 0)
        room = rect.width() - self._paint_value(painter, rect, row, (ink, soft))
        font = self.theme.font(self.theme.tokens.type.label, Weight.DemiBold)
        tall = rect.height() * 0.56 if row.about else rect.height()
        name = fit(row.name, font, room, tall)
        if row.about and not name.whole:  # two small lines, and the one under them
            rect = rect.adjusted(0, -TIGHT, 0, TIGHT)
            tall = rect.height() * 0.66
            name = fit(row.name, font, room, tall)
        painter.setPen(ink)
        draw_fitted(painter, QRectF(rect.left(), rect.top(), room, tall), name, LEFT)
        small = self.theme.font(self.theme.tokens.type.body)
        foot = QRectF(rect.left(), rect.top() + tall, room, rect.height() - tall)
        about = fit(row.about, small, room, foot.height())
        painter.setPen(soft)
        draw_fitted(painter, foot, about, LEFT)
        self.setToolTip("" if name.whole and about.whole else row.spoken)

    def _paint_value(
        self, painter: QPainter, rect: QRectF, row: RowState, inks: tuple[QColor, QColor]
    ) -> float:
        """The value and its unit at the right; tells how much room they took."""
        if not row.value:
            return 0.0
        small = self.theme.font(self.theme.tokens.type.body, Weight.DemiBold)
        wide = text_width(small, row.unit) + 6 if row.unit else 0.0
        is_word = not row.value[0].isdigit()
        size = self.theme.tokens.type.label if is_word else self.theme.tokens.type.figure
        large = self.theme.font(size, Weight.DemiBold if is_word else Weight.Bold)
        value = fit(row.value, large, rect.width() * 0.45, rect.height())
        painter.setPen(inks[0])
        draw_fitted(painter, rect.adjusted(0, 0, -wide, 0), value, RIGHT)
        painter.setPen(inks[1])
        draw_fitted(painter, rect.adjusted(0, 4, 0, 4), fit(row.unit, small, wide, 24), RIGHT)
        return wide + text_width(value.font, value.lines[0]) + 12


class RowGrid(QWidget):
    """Rows side by side where there is room; ``tapped`` tells a row's key."""

    tapped = Signal(str)

    def __init__(
        self, theme: Theme, name: str, *, most: int = 3, narrowest: int = NARROWEST
    ) -> None:
        super().__init__()
        self._theme, self._most, self._columns = theme, most, 0
        self._narrowest = narrowest
        self.rows: dict[str, SettingRow] = {}
        self._rooms = [_room() for _ in range(most)]
        """Keep a column as wide as the others where no row stands in it."""
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(theme.tokens.space.small)
        self.setAccessibleName(name)

    def show_rows(self, rows: Sequence[RowState]) -> None:
        """Show these rows; buttons stay where their keys stay."""
        if [row.key for row in rows] != list(self.rows):
            self._rebuild(rows)
        for row in rows:
            self.rows[row.key].show_row(row)

    def _rebuild(self, rows: Sequence[RowState]) -> None:
        old, self.rows = self.rows, {}
        for row in rows:
            self.rows[row.key] = old.pop(row.key) if row.key in old else self._row(row.key)
        for gone in old.values():
            self._grid.removeWidget(gone)
            gone.setParent(None)
            gone.deleteLater()
        self._place(self._columns or 1)
        for before, after in pairwise(self.rows.values()):
            QWidget.setTabOrder(before, after)

    def _row(self, key: str) -> SettingRow:
        made = SettingRow(self._theme)
        made.clicked.connect(lambda: self.tapped.emit(key))
        return made

    def _place(self, columns: int) -> None:
        self._columns = columns
        for number, row in enumerate(self.rows.values()):
            self._grid.addWidget(row, number // columns, number % columns)
            row.show()  # at once, so that Tab finds it before the layout's next turn
        for column, room in enumerate(self._rooms):
            self._grid.addWidget(room, LAST, column)
            room.setVisible(len(self.rows) <= column < columns)
            self._grid.setColumnStretch(column, 1 if column < columns else 0)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        columns = min(max(self.width() // self._narrowest, 1), self._most)
        if columns != self._columns:
            self._place(columns)


def _room() -> QWidget:
    made = QWidget()
    made.setFixedHeight(0)
    made.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
    return made
