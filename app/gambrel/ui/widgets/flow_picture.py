"""A flow as a picture: bars joined by ribbons, each with its name and figure; a tap opens one."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QFont,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from gambrel.domain.drawing.flow_layout import (
    Bar,
    FlowLayout,
    Frame,
    lay_flow,
)
from gambrel.domain.sheets.flow_nodes import RIBBONS
from gambrel.ui.theme import Theme, Weight
from gambrel.ui.widgets.map_drawing import painter_path
from gambrel.ui.widgets.painting import (
    LEFT,
    RIGHT,
    SMALLEST_TEXT,
    box,
    draw_fitted,
    fit,
    text_width,
)
from gambrel.ui.widgets.pictured import GAP, SLOT, FlowLabel, FlowPlan

BAR = 14
"""A bar's width in pixels."""

PAD = 8
WIDEST = (0.2, 0.19, 0.22)
"""The parts of the width that the labels of each column may take at most."""

FULL = 0.72
"""The part of the height that labels may take where there is a choice: the rest is for the flow."""

PALE = 84
"""How opaque a ribbon is, of 255: names are read upon it, and crossings are seen through it."""


class FlowPicture(QWidget):
    """Shows the fullest of some plans that leaves room for the flow itself.

    Arrows move among the bars, Enter opens. ``opened`` tells the plan, the column and the number
    of the bar.
    """

    opened = Signal(int, int, int)

    def __init__(self, theme: Theme, name: str) -> None:
        super().__init__()
        self._theme, self._name = theme, name
        self._plans: tuple[FlowPlan, ...] = ()
        self._at = 0
        self._layout = FlowLayout((), ())
        self._widths = (0.0, 0.0, 0.0)
        self._cursor = (0, 0)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(name)
        self.setMouseTracking(True)
        theme.changed.connect(self.update)

    def show_flow(self, plans: Sequence[FlowPlan], words: str) -> None:
        """Show another flow.

        Args:
            plans: The same flow with few bars first and many last; one at least.
            words: What the picture says, in a sentence, for those who do not see it.
        """
        self._plans = tuple(plans)
        self._cursor = (0, 0)
        self.setAccessibleName(self._name)
        self.setAccessibleDescription(words)
        self.setMinimumHeight(self._plans[0].height)
        self._place()
        self.updateGeometry()
        self.update()

    @property
    def plan(self) -> FlowPlan | None:
        """The plan that fits the present height."""
        return self._plans[self._at] if self._plans else None

    @property
    def cursor_at(self) -> tuple[int, int]:
        """Column and number of the bar that Enter opens."""
        return self._cursor

    def sizeHint(self) -> QSize:
        return QSize(720, self._plans[-1].height if self._plans else 400)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._place()
        super().resizeEvent(event)

    def _place(self) -> None:
        """Choose the plan and lay it out."""
        room = self.height() * FULL
        fitting = [n for n, plan in enumerate(self._plans) if plan.height <= room]
        self._at = fitting[-1] if fitting else 0
        plan = self.plan
        if plan is None:
            return
        self._widths = self._label_widths(plan)
        left, middle, right = self._widths
        frame = Frame(self.width() - 2.0, self.height() - 2.0, BAR, SLOT, GAP, left, middle, right)
        amounts = [[label.amount for label in column] for column in plan.columns]
        self._layout = lay_flow(amounts, plan.links, frame)
        column, number = self._cursor
        self._cursor = (column, min(number, len(plan.columns[column]) - 1))

    def _label_widths(self, plan: FlowPlan) -> tuple[float, float, float]:
        """As wide as the longest name needs, within bounds; a figure is never cut."""
        bold, plain = self._fonts()
        found = []
        for column, part in zip(plan.columns, WIDEST, strict=True):
            names = max(text_width(bold, each.name) for each in column)
            figures = max(text_width(plain, each.value) for each in column)
            room = max(min(names, self.width() * part - 2 * PAD - 2), figures)
            found.append(room + 2 * PAD + 2)
        return found[0], found[1], found[2]

    def slot(self, column: int, number: int) -> QRectF:
        """Where a bar and its label stand."""
        bar = self._layout.bars[column][number]
        wide = self._widths[column] + BAR
        left = bar.left - self._widths[column] if column == 0 else bar.left
        return QRectF(left + 1, bar.slot_top + 1, wide, bar.slot_height)

    def bar_at(self, place: QPointF) -> tuple[int, int] | None:
        """The bar whose slot is under a point."""
        for column, bars in enumerate(self._layout.bars):
            for number in range(len(bars)):
                if self.slot(column, number).contains(place):
                    return column, number
        return None

    # Acting

    def mousePressEvent(self, event: QMouseEvent) -> None:
        event.accept()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        found = self.bar_at(event.position())
        if found is not None and event.button() == Qt.MouseButton.LeftButton:
            self._go(*found)
            self.opened.emit(self._at, *found)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        hand = self.bar_at(event.position()) is not None
        self.setCursor(Qt.CursorShape.PointingHandCursor if hand else Qt.CursorShape.ArrowCursor)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        plan, key = self.plan, Qt.Key(event.key())
        steps = {
            Qt.Key.Key_Up: (0, -1),
            Qt.Key.Key_Down: (0, 1),
            Qt.Key.Key_Left: (-1, 0),
            Qt.Key.Key_Right: (1, 0),
        }
        if plan is not None and key in steps:
            across, down = steps[key]
            column = min(max(self._cursor[0] + across, 0), len(plan.columns) - 1)
            last = len(plan.columns[column]) - 1
            self._go(column, min(max(self._cursor[1] + down, 0), last))
        elif plan is not None and key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.opened.emit(self._at, *self._cursor)
        else:
            super().keyPressEvent(event)

    def _go(self, column: int, number: int) -> None:
        self._cursor = (column, number)
        plan = self.plan
        if plan is not None:
            words = plan.columns[column][number].words
            self.setAccessibleName(f"{self._name}: {words}")
        self.update()

    def focusInEvent(self, event: QFocusEvent) -> None:
        self.update()
        super().focusInEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        self.update()
        super().focusOutEvent(event)

    def event(self, event: QEvent) -> bool:
        plan = self.plan
        if isinstance(event, QHelpEvent) and plan is not None:
            found = self.bar_at(QPointF(event.pos()))
            words = plan.columns[found[0]][found[1]].words if found else ""
            QToolTip.showText(event.globalPos(), words, self)
            return True
        return super().event(event)

    # Painting

    def paintEvent(self, _event: QPaintEvent) -> None:
        plan = self.plan
        if plan is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.translate(1, 1)
        painter.setPen(Qt.PenStyle.NoPen)
        for link, path in zip(plan.links, self._layout.ribbons, strict=True):
            role = plan.columns[link.column + 1][link.end].colour
            colour = self._fill(RIBBONS.get(role, role))
            colour.setAlpha(PALE)
            painter.setBrush(colour)
            painter.drawPath(painter_path(path))
        for column, labels in enumerate(plan.columns):
            for number, label in enumerate(labels):
                self._paint_bar(painter, column, number, label)
        painter.end()

    def _paint_bar(self, painter: QPainter, column: int, number: int, label: FlowLabel) -> None:
        bar = self._layout.bars[column][number]
        painter.setBrush(self._fill(label.colour))
        painter.setPen(QPen(self._theme.colour("edge"), 1))
        painter.drawRect(QRectF(bar.left, bar.top, bar.width, bar.height))
        place = self._label_place(bar, column)
        if column == 1:
            self._paint_ground(painter, place, label)
        if self.hasFocus() and self._cursor == (column, number):
            clear = QColor(Qt.GlobalColor.transparent)
            slot = self.slot(column, number).translated(-1, -1)
            line, radius = self._theme.tokens.line, self._theme.tokens.radius
            box(painter, slot, clear, self._theme.colour("accent"), line.strong, radius.small)
        self._paint_words(painter, place, label, right=column == 0)

    def _label_place(self, bar: Bar, column: int) -> QRectF:
        """The label's two lines, in the middle of the slot."""
        wide = self._widths[column] - PAD
        left = bar.left - self._widths[column] if column == 0 else bar.left + bar.width + PAD
        top = bar.slot_top + (bar.slot_height - SLOT) / 2
        return QRectF(left + (PAD / 2 if column == 0 else 0), top, wide - PAD / 2, SLOT)

    def _paint_ground(self, painter: QPainter, place: QRectF, label: FlowLabel) -> None:
        """A bit of the card under words that stand on ribbons."""
        bold, plain = self._fonts()
        wide = max(text_width(bold, label.name), text_width(plain, label.value))
        ground = self._theme.colour("card")
        ground.setAlpha(215)
        under = QRectF(place.left() - 4, place.top() + 1, min(wide, place.width()) + 8, SLOT - 2)
        box(painter, under, ground, ground, 0, self._theme.tokens.radius.small)

    def _paint_words(
        self, painter: QPainter, place: QRectF, label: FlowLabel, *, right: bool
    ) -> None:
        bold, plain = self._fonts()
        align = RIGHT if right else LEFT
        half = place.height() / 2
        upper = QRectF(place.left(), place.top() + 1, place.width(), half - 1)
        lower = QRectF(place.left(), place.top() + half, place.width(), half - 1)
        painter.setPen(self._theme.colour("ink"))
        draw_fitted(painter, upper, fit(label.name, bold, upper.width(), half), align)
        painter.setPen(self._theme.colour("soft_ink"))
        draw_fitted(painter, lower, fit(label.value, plain, lower.width(), half), align)

    def _fonts(self) -> tuple[QFont, QFont]:
        return self._theme.font(SMALLEST_TEXT, Weight.DemiBold), self._theme.font(SMALLEST_TEXT)

    def _fill(self, colour: str) -> QColor:
        if colour in ("tray", "trim", "byproduct", "waste", "loss"):
            return self._theme.kind(colour)[0]
        return self._theme.colour(colour)
