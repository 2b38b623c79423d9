"""One proposed price: taken or left by a tick, and the way to the cut's bounds."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Signal
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import QHBoxLayout, QWidget

from gambrel.ui.cabinet.solve_state import ProposedRow
from gambrel.ui.theme import Theme, Weight
from gambrel.ui.widgets.button import ActionButton, Button
from gambrel.ui.widgets.painting import LEFT, RIGHT, draw_fitted, fit, text_width

TALL = 72


class PricesButton(Button):
    """The cut's name, and below it the prices at the left and what they do at the right.

    Where both have no room side by side they stand one below the other.
    """

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme, size=18)
        self.setCheckable(True)
        self._row: ProposedRow | None = None

    def show_row(self, row: ProposedRow) -> None:
        """Show one cut's proposed price."""
        self._row = row
        self.setChecked(row.held)
        self.setText(row.name)
        words = self.tr("{0}, {1}, {2}: bounds").format(row.name, row.prices, row.caption)
        self.setAccessibleName(words)
        self.setToolTip(words)
        self.update()

    def paint_face(self, painter: QPainter, rect: QRectF, ink: QColor, soft: QColor) -> None:
        if self._row is None:
            return
        plain = self.theme.font(self.theme.tokens.type.body)
        strong = self.theme.font(18, Weight.DemiBold)
        prices, caption = self._row.prices, self._row.caption
        apart = text_width(plain, prices) + text_width(plain, caption) + 12 > rect.width()
        tall = rect.height() / (3 if apart else 2)
        lines = [
            QRectF(rect.left(), rect.top() + n * tall, rect.width(), tall)
            for n in range(3 if apart else 2)
        ]
        painter.setPen(ink)
        draw_fitted(painter, lines[0], fit(self._row.name, strong, rect.width(), tall), LEFT)
        draw_fitted(painter, lines[1], fit(prices, plain, rect.width(), tall), LEFT)
        painter.setPen(soft)
        draw_fitted(painter, lines[-1], fit(caption, plain, rect.width(), tall), RIGHT)


class SolveRow(QWidget):
    """A tick, and a button with the prices."""

    ticked = Signal()
    opened = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.told = ""
        self.tick = ActionButton(theme, icon="check", size=20)
        self.tick.setCheckable(True)
        self.tick.setFixedSize(52, TALL)
        self.open = PricesButton(theme)
        self.open.setFixedHeight(TALL)
        self.tick.clicked.connect(self.ticked)
        self.open.clicked.connect(self.opened)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(theme.tokens.space.tight)
        row.addWidget(self.tick)
        row.addWidget(self.open, 1)

    def show_row(self, row: ProposedRow) -> None:
        """Show one cut's proposed price."""
        self.told = row.caption
        self.open.show_row(row)
        self.tick.setEnabled(row.changes)
        self.tick.setChecked(row.taken)
        self.tick.say("", icon="check" if row.taken else "minus")
        words = self.tr("Take {0}") if row.taken else self.tr("Leave {0} as it is")
        self.tick.setAccessibleName(words.format(row.name))
