"""Rows that can be tapped: a class of trim, a piece of it, a line of the blend."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Signal
from PySide6.QtGui import QColor, QFont, QPainter, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from gambrel.ui.icons import paint_icon
from gambrel.ui.theme import MEANING_ICONS, Meaning, Theme, Weight
from gambrel.ui.tub.blend_state import LineText
from gambrel.ui.tub.trim_state import RowText
from gambrel.ui.widgets.button import Button
from gambrel.ui.widgets.painting import LEFT, RIGHT, Fitted, draw_fitted, fit, text_width

HEAD, LINE = 30, 22
"""Heights of a row's name and of a line under it, where each stands on one line."""

MOST_LINES = 8
"""No name of a catalogue needs more."""

FRAME = 12
LOW = HEAD + LINE + FRAME
"""A row is never lower than this."""

KILOS = 128
MARK = 20


class Row(Button):
    """Paints a `RowText` or a `LineText`; the screen decides whether it is chosen.

    Words that have no room on one line get more of them, and the row grows.
    """

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme, least=LOW)
        self.setCheckable(True)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.key = ""
        self._shown: RowText | LineText | None = None
        self._heights = (HEAD, LINE, 0)

    def nextCheckState(self) -> None:
        """The screen decides what is chosen, not the tap."""

    def sizeHint(self) -> QSize:
        return QSize(320, max(sum(self._heights) + FRAME, LOW))

    def minimumSizeHint(self) -> QSize:
        return QSize(120, self.sizeHint().height())

    def show_row(self, row: RowText | LineText) -> None:
        """Show another row, or the same as it is now."""
        self.key = row.key
        if isinstance(row, RowText):
            self.setChecked(row.chosen)
        if row != self._shown:
            self._shown = row
            self.setAccessibleName(row.spoken)
            self.setToolTip(row.spoken)
            self._fit_height()
            self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self._fit_height()

    def _fit_height(self) -> None:
        """Measure the words in the width at hand."""
        row, wide = self._shown, self.width() - 28
        if row is None or wide <= 0:
            return
        small = self.theme.font(self.theme.tokens.type.body)
        bold = self.theme.font(self.theme.tokens.type.body, Weight.DemiBold)
        head = HEAD
        if not self._name(row, wide, HEAD).whole:
            head = max(_tall(row.name, bold, wide - self._kilos_wide(row)), HEAD)
        under = _tall(row.under, small, wide)
        side = text_width(bold, _side_of(row)) + 12 if _side_of(row) else 0
        word = wide - side - (MARK + 6 if row.mark else 0)
        foot = _tall(row.word, bold, word) if row.word else (LINE if side else 0)
        self._heights = (head, under, foot)
        if self.height() != self.sizeHint().height():
            self.setFixedHeight(self.sizeHint().height())

    @property
    def whole(self) -> bool:
        """Whether every word of name and explanation has room."""
        row, wide = self._shown, self.width() - 28
        if row is None:
            return True
        small = self.theme.font(self.theme.tokens.type.body)
        head, under, _ = self._heights
        return self._name(row, wide, head).whole and fit(row.under, small, wide, under).whole

    def _name(self, row: RowText | LineText, wide: float, tall: float) -> Fitted:
        label = self.theme.font(self.theme.tokens.type.label, Weight.DemiBold)
        return fit(row.name, label, wide - self._kilos_wide(row), tall)

    def _kilos_wide(self, row: RowText | LineText) -> float:
        if not row.kilos:
            return 0.0
        unit = self.theme.font(self.theme.tokens.type.body, Weight.DemiBold)
        figure = self._figure(row)
        return text_width(figure.font, figure.lines[0]) + text_width(unit, "kg") + 18

    def _figure(self, row: RowText | LineText) -> Fitted:
        font = self.theme.font(self.theme.tokens.type.label + 2, Weight.Bold)
        return fit(row.kilos, font, KILOS, HEAD)

    def paint_face(self, painter: QPainter, rect: QRectF, ink: QColor, soft: QColor) -> None:
        row = self._shown
        if row is None:
            return
        rect = rect.adjusted(6, 0, -6, 0)
        head, under, foot = self._heights
        self._paint_head(painter, row, QRectF(rect.left(), rect.top(), rect.width(), head), ink)
        middle = QRectF(rect.left(), rect.top() + head, rect.width(), under)
        small = self.theme.font(self.theme.tokens.type.body)
        painter.setPen(soft)
        draw_fitted(painter, middle, fit(row.under, small, middle.width(), under), LEFT)
        if foot:
            lower = QRectF(rect.left(), middle.bottom(), rect.width(), foot)
            self._paint_foot(painter, row, lower, ink)

    def _paint_head(
        self, painter: QPainter, row: RowText | LineText, place: QRectF, ink: QColor
    ) -> None:
        painter.setPen(ink)
        if row.kilos:
            unit = self.theme.font(self.theme.tokens.type.body, Weight.DemiBold)
            wide = text_width(unit, "kg") + 6
            line = QRectF(place.left(), place.top(), place.width(), HEAD)
            draw_fitted(painter, line.adjusted(0, 0, -wide, 0), self._figure(row), RIGHT)
            draw_fitted(painter, line.adjusted(0, 3, 0, 3), fit("kg", unit, wide, 24), RIGHT)
        draw_fitted(painter, place, self._name(row, place.width(), place.height()), LEFT)

    def _paint_foot(
        self, painter: QPainter, row: RowText | LineText, place: QRectF, ink: QColor
    ) -> None:
        bold = self.theme.font(self.theme.tokens.type.body, Weight.DemiBold)
        side, left, room = _side_of(row), place.left(), place.width()
        if side:
            painter.setPen(self.theme.colour("accent") if isinstance(row, RowText) else ink)
            words = fit(side, bold, room, place.height())
            draw_fitted(painter, place, words, RIGHT)
            room -= max(text_width(words.font, line) for line in words.lines) + 12
        painter.setPen(ink)
        if row.mark:
            own = self.theme.colour(row.mark)
            spot = QRectF(left, place.center().y() - MARK / 2, MARK, MARK)
            paint_icon(painter, MEANING_ICONS[Meaning(row.mark)], spot, own)
            painter.setPen(own)
            left, room = spot.right() + 6, room - MARK - 6
        word = QRectF(left, place.top(), room, place.height())
        draw_fitted(painter, word, fit(row.word, bold, room, place.height()), LEFT)


def _tall(text: str, font: QFont, wide: float) -> int:
    """The height of a text in a width, with as many lines as it needs."""
    return len(fit(text, font, wide, MOST_LINES * LINE).lines) * LINE if text else 0


def _side_of(row: RowText | LineText) -> str:
    """What stands at the right of the last line."""
    return row.taken if isinstance(row, RowText) else row.strong


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
