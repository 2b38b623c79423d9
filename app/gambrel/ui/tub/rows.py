"""Rows that can be tapped: a class of trim, a piece of it, a line of the blend."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Signal
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from gambrel.ui.icons import paint_icon
from gambrel.ui.theme import MEANING_ICONS, Meaning, Theme, Weight
from gambrel.ui.tub.blend_state import LineText
from gambrel.ui.tub.trim_state import RowText
from gambrel.ui.widgets.button import Button
from gambrel.ui.widgets.painting import LEFT, RIGHT, draw_fitted, fit, text_width

ROW, LOW = 88, 64
"""A row's height with three lines (name and kilos, what it is, how it stands), and with two."""

KILOS = 128
MARK = 20


class Row(Button):
    """Paints a `RowText` or a `LineText`; the screen decides whether it is chosen."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme, least=LOW)
        self.setCheckable(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.key = ""
        self._shown: RowText | LineText | None = None

    def nextCheckState(self) -> None:
        """The screen decides what is chosen, not the tap."""

    def sizeHint(self) -> QSize:
        return QSize(320, self._tall)

    def minimumSizeHint(self) -> QSize:
        return QSize(120, self._tall)

    @property
    def _tall(self) -> int:
        return ROW if self._shown is not None and _foot_of(self._shown) else LOW

    def show_row(self, row: RowText | LineText) -> None:
        """Show another row, or the same as it is now."""
        self.key = row.key
        if isinstance(row, RowText):
            self.setChecked(row.chosen)
        if row != self._shown:
            self._shown = row
            self.setAccessibleName(row.spoken)
            self.setToolTip(row.spoken)
            self.setFixedHeight(self._tall)
            self.update()

    def paint_face(self, painter: QPainter, rect: QRectF, ink: QColor, soft: QColor) -> None:
        row = self._shown
        if row is None:
            return
        rect = rect.adjusted(6, 0, -6, 0)
        foot = bool(_foot_of(row))
        third = rect.height() / (3 if foot else 2)
        self._paint_head(painter, QRectF(rect.left(), rect.top(), rect.width(), third + 2), ink)
        middle = QRectF(rect.left(), rect.top() + third + 2, rect.width(), third - 1)
        small = self.theme.font(self.theme.tokens.type.body)
        painter.setPen(soft)
        draw_fitted(painter, middle, fit(row.under, small, middle.width(), middle.height()), LEFT)
        if foot:
            lower = QRectF(rect.left(), middle.bottom(), rect.width(), third - 1)
            self._paint_foot(painter, lower, ink)

    def _paint_head(self, painter: QPainter, place: QRectF, ink: QColor) -> None:
        row = self._shown
        assert row is not None
        label = self.theme.tokens.type.label
        unit = self.theme.font(self.theme.tokens.type.body, Weight.DemiBold)
        wide = text_width(unit, "kg") + 6 if row.kilos else 0.0
        figure = fit(row.kilos, self.theme.font(label + 2, Weight.Bold), KILOS, place.height())
        painter.setPen(ink)
        draw_fitted(painter, place.adjusted(0, 0, -wide, 0), figure, RIGHT)
        if row.kilos:
            draw_fitted(painter, place.adjusted(0, 3, 0, 3), fit("kg", unit, wide, 24), RIGHT)
        room = place.width() - wide - text_width(figure.font, figure.lines[0]) - 12
        name = fit(row.name, self.theme.font(label, Weight.DemiBold), room, place.height())
        draw_fitted(painter, QRectF(place.left(), place.top(), room, place.height()), name, LEFT)

    def _paint_foot(self, painter: QPainter, place: QRectF, ink: QColor) -> None:
        row = self._shown
        assert row is not None
        bold = self.theme.font(self.theme.tokens.type.body, Weight.DemiBold)
        right = row.taken if isinstance(row, RowText) else row.strong
        if isinstance(row, LineText):
            bold = self.theme.font(self.theme.tokens.type.body, Weight.Bold)
        room = place.width()
        if right:
            painter.setPen(self.theme.colour("accent") if isinstance(row, RowText) else ink)
            words = fit(right, bold, room * 0.6, place.height())
            draw_fitted(painter, place, words, RIGHT)
            room -= max(text_width(words.font, line) for line in words.lines) + 12
        mark = row.mark
        left = place.left()
        painter.setPen(ink)
        if mark:
            own = self.theme.colour(mark)
            spot = QRectF(left, place.center().y() - MARK / 2, MARK, MARK)
            paint_icon(painter, MEANING_ICONS[Meaning(mark)], spot, own)
            painter.setPen(own)
            left, room = spot.right() + 6, room - MARK - 6
        font = self.theme.font(self.theme.tokens.type.body, Weight.DemiBold)
        word = QRectF(left, place.top(), room, place.height())
        draw_fitted(painter, word, fit(row.word, font, room, word.height()), LEFT)


class RowList(QWidget):
    """Rows under each other; ``tapped`` tells a row's key. Rows stay where their keys stay."""

    tapped = Signal(str)

    def __init__(self, theme: Theme, name: str) -> None:
        super().__init__()
        self._theme = theme
        self.rows: list[Row] = []
        self.setAccessibleName(name)
        self._box = QVBoxLayout(self)
        self._box.setContentsMargins(0, 0, 0, 0)
        self._box.setSpacing(theme.tokens.space.small)
        self._box.addStretch(1)

    def show_rows(self, rows: Sequence[RowText | LineText]) -> None:
        """Show these rows in this order."""
        while len(self.rows) > len(rows):
            gone = self.rows.pop()
            gone.hide()
            gone.deleteLater()
        while len(self.rows) < len(rows):
            row = Row(self._theme)
            row.clicked.connect(lambda _=False, row=row: self.tapped.emit(row.key))
            self._box.insertWidget(len(self.rows), row)
            self.rows.append(row)
            row.show()
        for row, text in zip(self.rows, rows, strict=True):
            row.show_row(text)

    def row(self, key: str) -> Row:
        """The row of a key.

        Raises:
            StopIteration: There is none.
        """
        return next(row for row in self.rows if row.key == key)

    def minimumSizeHint(self) -> QSize:
        gaps = max(len(self.rows) - 1, 0) * self._theme.tokens.space.small
        return QSize(120, sum(row.sizeHint().height() for row in self.rows) + gaps)


def _foot_of(row: RowText | LineText) -> str:
    """What stands on the third line."""
    return row.word or (row.taken if isinstance(row, RowText) else row.strong)
