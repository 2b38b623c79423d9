"""The Lists section's page: all lists, or the one that is open with its cuts in their order."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QStackedWidget, QVBoxLayout, QWidget

from gambrel.ui.setup.list_table import ListTable
from gambrel.ui.setup.lists_panels import AddPanel, LinePanel, ListPanel, MakePanel
from gambrel.ui.setup.lists_state import CARE, ListsState, Side
from gambrel.ui.setup.page import SectionPage
from gambrel.ui.setup.rows import WIDE_ROW, RowGrid
from gambrel.ui.theme import Theme
from gambrel.ui.widgets.button import ActionButton
from gambrel.ui.widgets.card import label
from gambrel.ui.widgets.scroll import scrolled

FIXED = QSizePolicy.Policy.Fixed
WIDEST = 880
"""Of a row: a norm far from its name is hard to follow."""


class OpenList(QWidget):
    """The open list: back, its name, its cuts, what the norms add up to."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.back = ActionButton(theme, self.tr("Lists"), icon="chevron-left", size=18)
        self.back.setAccessibleName(self.tr("Back to all lists"))
        self.title = label(role="label", wrap=True)
        self.add = ActionButton(theme, self.tr("Add a cut"), icon="plus", size=18)
        self.arrange = ActionButton(theme, self.tr("Arrange"), size=18)
        self.arrange.setCheckable(True)
        self.arrange.setToolTip(self.tr("Put the cuts in order with a finger"))
        self.table = ListTable(theme)
        self.empty = label(wrap=True)
        self.total = label(role="strong", wrap=True)
        self.take_all = ActionButton(theme, size=18)
        self.arrange.clicked.connect(self._arrange)
        for button in (self.back, self.add, self.arrange, self.take_all):
            button.setSizePolicy(FIXED, FIXED)
        head, foot, box = QHBoxLayout(), QHBoxLayout(), QVBoxLayout(self)
        for each in (head, foot, box):
            each.setContentsMargins(0, 0, 0, 0)
            each.setSpacing(theme.tokens.space.small)
        head.addWidget(self.back)
        head.addWidget(self.title, 1)
        head.addWidget(self.arrange)
        head.addWidget(self.add)
        foot.addWidget(self.total, 1)
        foot.addWidget(self.take_all)
        box.addLayout(head)
        box.addWidget(self.empty)
        box.addWidget(self.table, 1)
        box.addLayout(foot)
        box.addStretch(0)

    def _arrange(self, on: bool) -> None:
        """Let a finger move cuts instead of the table."""
        self.table.arrange(on)
        self.arrange.say(self.tr("Done") if on else self.tr("Arrange"))

    def stop_arranging(self) -> None:
        """A finger moves the table again."""
        self.arrange.setChecked(False)
        self._arrange(on=False)

    def show_state(self, state: ListsState) -> None:
        """Show the list."""
        self.title.setText(state.title)
        self.table.show_rows(state.lines, state.chosen_cut)
        self.table.setVisible(bool(state.lines))
        self.arrange.setEnabled(len(state.lines) > 1)
        self.empty.setText(state.empty)
        self.empty.setVisible(bool(state.empty))
        self.total.setText(state.total)
        self.take_all.say(state.all_usual)
        self.take_all.setVisible(bool(state.all_usual))


class ListsView(SectionPage):
    """Shows a `ListsState`; ``chosen`` tells the key of a list as one text."""

    chosen = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.new = ActionButton(theme, self.tr("A new list"), icon="plus", least=56)
        self.new.setSizePolicy(FIXED, FIXED)
        self.lists = RowGrid(theme, self.tr("The cutting lists"), most=2, narrowest=WIDE_ROW)
        self.lists.tapped.connect(self.chosen)
        self.open = OpenList(theme)
        self.list, self.make = ListPanel(theme), MakePanel(theme)
        self.line, self.add = LinePanel(theme), AddPanel(theme)
        self._panels = {
            Side.LIST: self.list,
            Side.MAKE: self.make,
            Side.LINE: self.line,
            Side.ADD: self.add,
        }
        self._pages, self._side = QStackedWidget(), QStackedWidget()
        self._all = scrolled(self._lists(theme))
        self._pages.addWidget(self._all)
        self._one = _at_left(self.open)
        self._pages.addWidget(self._one)
        for panel in self._panels.values():
            self._side.addWidget(panel)
        self.stand_beside(self._pages, self._side)

    def _lists(self, theme: Theme) -> QWidget:
        page = QWidget()
        box = QVBoxLayout(page)
        box.setContentsMargins(0, 0, theme.tokens.space.small, 0)
        box.setSpacing(theme.tokens.space.small)
        box.addWidget(label(CARE, wrap=True))
        box.addWidget(self.lists)
        box.addWidget(self.new)
        box.addStretch(1)
        return page

    def show_state(self, state: ListsState) -> None:
        """Show the lists, or the one that is open."""
        self.lists.show_rows(state.rows)
        self.lists.setVisible(bool(state.rows))
        self.open.show_state(state)
        for panel in (self.list, self.make, self.line, self.add):
            panel.show_state(state)
        _turn(self._pages, self._one if state.is_open else self._all)
        _turn(self._side, self._panels[state.side])
        if not state.is_open:
            self.open.stop_arranging()


def _at_left(widget: QWidget) -> QWidget:
    """A page that gives a widget no more width than an eye can follow."""
    widget.setMaximumWidth(WIDEST)
    page = QWidget()
    row = QHBoxLayout(page)
    row.setContentsMargins(0, 0, 0, 0)
    row.addWidget(widget, 100)
    row.addStretch(1)
    return page


def _turn(pages: QStackedWidget, page: QWidget) -> None:
    """Show another page; the focus stays here, else Qt hands it to whatever comes next."""
    focused = pages.window().focusWidget()
    if pages.currentWidget() is not page and pages.isAncestorOf(focused):
        pages.setFocus()
    pages.setCurrentWidget(page)
