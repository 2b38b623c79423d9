"""The block's view: shows a state and reports wishes; it decides nothing."""

from __future__ import annotations

from contextlib import AbstractContextManager

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QStackedWidget, QVBoxLayout, QWidget

from gambrel.ui.block.bottom import Bottom
from gambrel.ui.block.choices import ChoicePanel, Question
from gambrel.ui.block.cut_grid import CutGrid
from gambrel.ui.block.finish_state import EndState
from gambrel.ui.block.finish_view import FinishView
from gambrel.ui.block.keyboard import back_to_the_weight, minded
from gambrel.ui.block.sizes import left_heights, right_width
from gambrel.ui.block.state import BlockState, TopText
from gambrel.ui.block.top_line import TopLine
from gambrel.ui.block.weigh_column import WeighColumn
from gambrel.ui.block.what_if_view import WhatIfPanel
from gambrel.ui.theme import Theme

_ARROWS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}


class WorkPage(QWidget):
    """Two columns: the cuts over the balance, and the weighing; or a question over the cuts."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.grid = CutGrid(theme)
        self.panel = ChoicePanel(theme)
        self.what_if = WhatIfPanel(theme)
        self.bottom = Bottom(theme)
        self.column = WeighColumn(theme)
        for child in (self.grid, self.panel, self.what_if, self.bottom, self.column):
            child.setParent(self)
        self.panel.hide()
        self.what_if.hide()

    def ask(self, question: Question | None) -> None:
        """Put a question in place of the cuts, or take it away."""
        if question is not None:
            self.panel.ask(question)
        self.panel.setVisible(question is not None)
        self.grid.setVisible(question is None)

    def ask_what_if(self, *, asked: bool) -> None:
        """Put the comparison in place of the cuts, or take it away."""
        self.what_if.setVisible(asked)
        if asked:
            self.grid.hide()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        wide, tall = self.width(), self.height()
        margin = 8 if tall >= 640 else 4
        heights = left_heights(tall - 2 * margin)
        right = right_width(wide)
        left = wide - right - 12 - 2 * margin
        upper = tall - 2 * margin - heights.balance - heights.strip - 2 * heights.gap
        self.grid.set_heights(heights)
        for child in (self.grid, self.panel, self.what_if):
            child.setGeometry(margin, margin, left, upper)
        below = margin + upper + heights.gap
        self.bottom.setGeometry(margin, below, left, tall - margin - below)
        self.column.setGeometry(wide - margin - right, margin, right, tall - 2 * margin)


class BlockView(QWidget):
    """The top line, and under it the work, what waits, or the end of a body."""

    weigh_wished = Signal()
    cut_wished = Signal(str)
    undo_wished = Signal()
    no_wished = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.top = TopLine(theme)
        self.work = WorkPage(theme)
        self.waits = ChoicePanel(theme)
        self.end = FinishView(theme)
        self._stack = QStackedWidget()
        frame = QWidget()
        around = QVBoxLayout(frame)
        gap = theme.tokens.space.gap
        around.setContentsMargins(gap, gap, gap, gap)
        around.addWidget(self.waits)
        self._free = frame
        for page in (self.work, frame, self.end):
            self._stack.addWidget(page)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        box.addWidget(self.top)
        box.addWidget(self._stack, 1)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.work.grid.cut_chosen.connect(self.cut_wished)
        self.work.column.weigh_key.clicked.connect(self.weigh_wished)
        self.work.bottom.undo_key.clicked.connect(self.undo_wished)
        self.work.column.saying.no_key.clicked.connect(self.no_wished)

        column, bottom = self.work.column, self.work.bottom
        acts = (
            column.zero_key,
            column.weigh_key,
            column.saying.no_key,
            column.tubs.scale_key,
            bottom.undo_key,
        )
        back_to_the_weight(self, (*column.tubs.keys, *acts))

    def minding_focus(self) -> AbstractContextManager[None]:
        """For the time of showing another state."""
        return minded(self, (self.work.panel, self.work.what_if))

    def show_state(self, state: BlockState, question: Question | None) -> None:
        """Show the work, with a question in place of the cuts where there is one."""
        self.top.show_top(state.top)
        self.work.grid.show_cuts(state.cuts, state.cut, state.list_name)
        self.work.column.show_state(state)
        self.work.bottom.show_state(state)
        self.work.ask(question)
        self._stack.setCurrentWidget(self.work)

    def show_waiting(self, top: TopText, question: Question) -> None:
        """Show what can be put on the block."""
        self.top.show_top(top)
        self.waits.ask(question)
        self._stack.setCurrentWidget(self._free)

    def show_end(self, top: TopText, end: EndState) -> None:
        """Show the end of a body."""
        self.top.show_top(top)
        self.end.show_state(end)
        self._stack.setCurrentWidget(self.end)

    @property
    def working(self) -> bool:
        """Whether weights can be typed now."""
        return self._stack.currentWidget() is self.work

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if not self.working or not self._handle(event):
            super().keyPressEvent(event)

    def _handle(self, event: QKeyEvent) -> bool:
        key = Qt.Key(event.key())
        control = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
        if control:
            if key == Qt.Key.Key_Z:
                self.undo_wished.emit()
            return key == Qt.Key.Key_Z
        if self.work.panel.isVisible() and self.work.panel.press(event):
            return True
        if self.work.column.keypad.handle_key(event):
            return True
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.work.column.weigh_key.click()
        elif key == Qt.Key.Key_Escape:
            self.no_wished.emit()
        elif key in _ARROWS:
            self.work.grid.step(*_ARROWS[key])
        elif event.text().isalpha():
            self.work.grid.choose_by_letter(event.text())
        else:
            return False
        return True
