"""The Week's view: five figures, pictures and table, and the exceptions in sentences."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from gambrel.ui.theme import Theme
from gambrel.ui.week.behind_panel import BehindPanel
from gambrel.ui.week.behind_state import BehindState
from gambrel.ui.week.figure_card import FigureCard
from gambrel.ui.week.pictures import WeekPictures
from gambrel.ui.week.state import WeekState
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import Card, label
from gambrel.ui.widgets.empty import EmptyState
from gambrel.ui.widgets.scroll import scrolled
from gambrel.ui.widgets.sentences import Sentences

LOW = 640
"""Below this height the five figures leave room for the pictures."""


class WeekView(QWidget):
    """Shows a state and reports wishes; decides nothing."""

    earlier = Signal()
    later = Signal()
    print_wished = Signal()
    save = Signal(str)
    """Keep the sheet as "pdf", "xlsx" or "csv"."""
    wished = Signal(object)
    """Open what is behind a figure: a `Wish`."""

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
        self.pictures = WeekPictures(theme)
        self.behind = BehindPanel(theme)
        self.sides = QStackedWidget()
        self.empty = EmptyState(
            theme,
            "calendar",
            self.tr("Nothing was bought or broken in this week."),
            more=self.tr("Look at the week before, or receive a body on the rail."),
        )
        self.exceptions = Sentences(theme)
        self._page, self._grid = QVBoxLayout(self), QGridLayout()
        self._lay_out()
        for card in self.cards:
            card.opened.connect(self.wished)
        self.pictures.wished.connect(self.wished)

    def _save_button(self, kind: str) -> ActionButton:
        made = ActionButton(self._theme, kind.upper(), icon="file-down")
        made.setAccessibleName(self.tr("Save the week as {0}").format(kind.upper()))
        made.clicked.connect(lambda: self.save.emit(kind))
        return made

    def _lay_out(self) -> None:
        self._page.addLayout(self._top())
        self._page.addWidget(self.banner)
        self.pages = QStackedWidget()
        self.pages.addWidget(self._body())
        self.pages.addWidget(self.empty)
        self._page.addWidget(self.pages, 1)
        self.make_room()

    def make_room(self) -> None:
        """On a low screen the pictures have what the figures and the gaps leave."""
        low = self.height() < LOW
        space = self._theme.tokens.space
        gap = space.small if low else space.gap
        self._page.setContentsMargins(gap, gap, gap, gap)
        for layout in (self._page, self._grid):
            layout.setSpacing(gap)
        for card in self.cards:
            card.make_room(low=low)
        self.pictures.make_room(low=low)

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
        self.sides.addWidget(self.pictures)
        self.sides.addWidget(self.behind)
        grid.addWidget(self.sides, 1, 0, 1, 4)
        grid.addWidget(self._exception_side(), 1, 4)
        grid.setRowStretch(1, 1)
        return body

    def _exception_side(self) -> QWidget:
        card = Card(self._theme)
        card.box.addWidget(label(self.tr("Look at"), "label"))
        card.box.addWidget(scrolled(self.exceptions), 1)
        return card

    def show_state(self, state: WeekState) -> None:
        """Show one week."""
        self.title.setText(state.title)
        self.pages.setCurrentIndex(1 if state.is_empty else 0)
        for card, text in zip(self.cards, state.figures, strict=True):
            card.show_text(text)
        self.pictures.show_state(state)
        quiet = self.tr("Nothing stands out this week.")
        self.exceptions.show_sentences((*(state.exceptions or (quiet,)), state.usual_note))

    def show_behind(self, state: BehindState | None) -> None:
        """Show what is behind a figure in the place of the pictures, or these again."""
        if state is None:
            self.sides.setCurrentWidget(self.pictures)
        else:
            self.sides.setCurrentWidget(self.behind)
            self.behind.show_state(state)

    def set_busy(self, *, busy: bool) -> None:
        """While a paper is being made its buttons wait."""
        for button in (*self.saves.values(), self.behind.save_button):
            button.setEnabled(not busy)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self.make_room()
        super().resizeEvent(event)
