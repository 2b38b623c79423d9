"""The Week's view: five figures, two tables, and the exceptions in sentences."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from gambrel.ui.theme import Theme
from gambrel.ui.week.state import FigureText, WeekState
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import Card, label
from gambrel.ui.widgets.empty import EmptyState
from gambrel.ui.widgets.figure import Figure
from gambrel.ui.widgets.scroll import scrolled
from gambrel.ui.widgets.sentences import Sentences
from gambrel.ui.widgets.table import Column, ReadTable

FIGURE_SIZE = 30

LOW = 640
"""Below this height the five figures leave room for the table."""

ANY_HEIGHT, LOW_FIGURE = 1_000, 52


class FigureCard(Card):
    """One of the five figures, with what it means and last week's beneath."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self._theme = theme
        self.figure = Figure(theme, size=FIGURE_SIZE)
        self.more, self.last = label("", "soft"), label("", "soft")
        for part in (self.figure, self.more, self.last):
            self.box.addWidget(part)

    def show_text(self, text: FigureText) -> None:
        """Show a figure."""
        self.figure.show_value(text.value, caption=text.caption)
        self.more.setText(text.more)
        self.last.setText(text.last)
        self.setToolTip(f"{text.caption}: {text.more}")

    def make_room(self, *, low: bool) -> None:
        """On a low screen what a figure means is told by the tool tip alone."""
        space = self._theme.tokens.space
        pad = space.small if low else space.gap
        self.box.setContentsMargins(pad, pad, pad, pad)
        self.box.setSpacing(0 if low else space.small)
        self.figure.setMaximumHeight(LOW_FIGURE if low else ANY_HEIGHT)
        self.more.setVisible(not low)


class WeekView(QWidget):
    """Shows a state and reports wishes; decides nothing."""

    earlier = Signal()
    later = Signal()
    print_wished = Signal()
    save = Signal(str)
    """Keep the sheet as "pdf", "xlsx" or "csv"."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self.banner = Banner(theme)
        self.title = label("", "heading")
        self.back = ActionButton(theme, "", icon="chevron-left")
        self.forth = ActionButton(theme, "", icon="chevron-right")
        self.back.setAccessibleName(self.tr("Week before"))
        self.forth.setAccessibleName(self.tr("Week after"))
        self.back.clicked.connect(self.earlier)
        self.forth.clicked.connect(self.later)
        self.print_button = ActionButton(theme, self.tr("Print"), icon="printer", role=Role.PRIMARY)
        self.print_button.setAccessibleName(self.tr("Print the week or a day"))
        self.print_button.clicked.connect(self.print_wished)
        self.saves = {kind: self._save_button(kind) for kind in ("pdf", "xlsx", "csv")}
        self.cards = [FigureCard(theme) for _ in range(5)]
        self.cuts = ReadTable(theme, self.tr("Cuts of the week"), self._cut_columns())
        self.bodies = ReadTable(theme, self.tr("Bodies of the week"), self._body_columns())
        self.tables = QStackedWidget()
        self.by_cut = ActionButton(theme, self.tr("By cut"))
        self.by_body = ActionButton(theme, self.tr("By body"))
        for button in (self.by_cut, self.by_body):
            button.setCheckable(True)
        self.by_cut.clicked.connect(lambda: self._show_table(0))
        self.by_body.clicked.connect(lambda: self._show_table(1))
        self.empty = EmptyState(
            theme,
            "calendar",
            self.tr("Nothing was bought or broken in this week."),
            more=self.tr("Look at the week before, or receive a body on the rail."),
        )
        self.exceptions = Sentences(theme)
        self._page, self._grid, self._side = QVBoxLayout(self), QGridLayout(), QVBoxLayout()
        self._lay_out()
        self._show_table(0)

    def _save_button(self, kind: str) -> ActionButton:
        made = ActionButton(self._theme, kind.upper(), icon="file-down")
        made.setAccessibleName(self.tr("Save the week as {0}").format(kind.upper()))
        made.clicked.connect(lambda: self.save.emit(kind))
        return made

    def _cut_columns(self) -> list[Column]:
        return [
            Column(self.tr("Cut"), words=True),
            Column(self.tr("kg")),
            Column(self.tr("Cost/kg")),
            Column(self.tr("Last week")),
            Column(self.tr("Price/kg")),
            Column(self.tr("Should sell for")),
            Column(self.tr("Margin")),
        ]

    def _body_columns(self) -> list[Column]:
        return [
            Column(self.tr("Body"), words=True),
            Column(self.tr("Supplier"), words=True),
            Column(self.tr("Cutting list"), words=True, wide=True),
            Column(self.tr("Taken kg")),
            Column(self.tr("Saleable")),
            Column(self.tr("Cost/kg")),
            Column(self.tr("Unexplained")),
        ]

    def _lay_out(self) -> None:
        self._page.addLayout(self._top())
        self._page.addWidget(self.banner)
        self.pages = QStackedWidget()
        self.pages.addWidget(self._body())
        self.pages.addWidget(self.empty)
        self._page.addWidget(self.pages, 1)
        self.make_room()

    def make_room(self) -> None:
        """On a low screen the table has what the figures and the gaps leave."""
        low = self.height() < LOW
        space = self._theme.tokens.space
        gap = space.small if low else space.gap
        self._page.setContentsMargins(gap, gap, gap, gap)
        for layout in (self._page, self._grid, self._side):
            layout.setSpacing(gap)
        for card in self.cards:
            card.make_room(low=low)

    def _top(self) -> QHBoxLayout:
        top = QHBoxLayout()
        for part in (self.back, self.title, self.forth):
            top.addWidget(part)
        top.addStretch(1)
        top.addWidget(self.print_button)
        for button in self.saves.values():
            top.addWidget(button)
        return top

    def _body(self) -> QWidget:
        body = QWidget()
        grid = self._grid
        body.setLayout(grid)
        grid.setContentsMargins(0, 0, 0, 0)
        for column, card in enumerate(self.cards):
            grid.addWidget(card, 0, column)
            grid.setColumnStretch(column, 1)
        grid.addWidget(self._table_side(), 1, 0, 1, 4)
        grid.addWidget(self._exception_side(), 1, 4)
        grid.setRowStretch(1, 1)
        return body

    def _table_side(self) -> QWidget:
        side = QWidget()
        box = self._side
        side.setLayout(box)
        box.setContentsMargins(0, 0, 0, 0)
        row = QHBoxLayout()
        row.addWidget(self.by_cut)
        row.addWidget(self.by_body)
        row.addStretch(1)
        box.addLayout(row)
        self.tables.addWidget(self.cuts)
        self.tables.addWidget(self.bodies)
        box.addWidget(self.tables, 1)
        return side

    def _exception_side(self) -> QWidget:
        card = Card(self._theme)
        card.box.addWidget(label(self.tr("Look at"), "label"))
        card.box.addWidget(scrolled(self.exceptions), 1)
        return card

    def _show_table(self, index: int) -> None:
        self.tables.setCurrentIndex(index)
        for at, button in enumerate((self.by_cut, self.by_body)):
            button.setChecked(at == index)

    def show_state(self, state: WeekState) -> None:
        """Show one week."""
        self.title.setText(state.title)
        self.pages.setCurrentIndex(1 if state.is_empty else 0)
        for card, text in zip(self.cards, state.figures, strict=True):
            card.show_text(text)
        self.cuts.show_rows(state.cuts)
        self.bodies.show_rows(state.bodies)
        quiet = self.tr("Nothing stands out this week.")
        self.exceptions.show_sentences(state.exceptions or (quiet,))

    def set_busy(self, *, busy: bool) -> None:
        """While a paper is being made its buttons wait."""
        for button in self.saves.values():
            button.setEnabled(not busy)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self.make_room()
        super().resizeEvent(event)
