"""The week's pictures and its table, one at a time under a row of buttons."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QScrollArea, QStackedWidget, QVBoxLayout, QWidget

from gambrel.domain.sheets.behind import Wish
from gambrel.ui.theme import Theme
from gambrel.ui.week.state import WeekState
from gambrel.ui.widgets.button import ActionButton
from gambrel.ui.widgets.card import Card
from gambrel.ui.widgets.cost_rows import CostRows
from gambrel.ui.widgets.flow_picture import FlowPicture
from gambrel.ui.widgets.picture_rows import PictureRows
from gambrel.ui.widgets.scroll import scrolled
from gambrel.ui.widgets.short_label import ShortLabel
from gambrel.ui.widgets.table import Column, ReadTable
from gambrel.ui.widgets.yield_rows import YieldRows

MONEY, YIELDS, COSTS, TABLE = range(4)
ALL_LISTS = -1


class WeekPictures(QWidget):
    """Shows one of money, yields, costs and table; ``wished`` tells what shall be opened."""

    wished = Signal(object)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._state: WeekState | None = None
        self._list = ALL_LISTS
        self.segments = [
            ActionButton(theme, name)
            for name in (
                self.tr("Money"),
                self.tr("Yields"),
                self.tr("Cost by week"),
                self.tr("Table"),
            )
        ]
        self.flow = FlowPicture(theme, self.tr("Where the money went"))
        self.yields = YieldRows(theme, self.tr("Yields beside norm and limits"))
        self.costs = CostRows(theme, self.tr("Cost per kilo by week"))
        self.cuts = ReadTable(theme, self.tr("Cuts of the week"), self._cut_columns())
        self.bodies = ReadTable(theme, self.tr("Bodies of the week"), self._body_columns())
        self.captions = [ShortLabel("soft") for _ in range(3)]
        self.by_cut = ActionButton(theme, self.tr("By cut"))
        self.by_body = ActionButton(theme, self.tr("By body"))
        self.cost_cuts = ActionButton(theme, self.tr("Cuts"))
        self.cost_portions = ActionButton(theme, self.tr("Portions"))
        self.all_lists = ActionButton(theme, self.tr("All lists"), icon="chevron-left")
        self.tables, self.stack, self.more = QStackedWidget(), QStackedWidget(), QStackedWidget()
        self._lay_out()
        self._connect()
        self._show_costs(portions=False)
        self._show_table(0)
        self.show_segment(MONEY)

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
        self.box = QVBoxLayout(self)
        self.box.setContentsMargins(0, 0, 0, 0)
        row = QHBoxLayout()
        for button in self.segments:
            row.addWidget(button)
        row.addStretch(1)
        row.addWidget(self.more)
        self.box.addLayout(row)
        extras: tuple[tuple[ActionButton, ...], ...] = (
            (),
            (self.all_lists,),
            (self.cost_cuts, self.cost_portions),
            (self.by_cut, self.by_body),
        )
        for buttons in extras:
            self.more.addWidget(_in_a_row(self._theme, buttons))
        self.areas: list[QScrollArea] = []
        for picture, caption in zip(
            (self.flow, self.yields, self.costs), self.captions, strict=True
        ):
            card, area = Card(self._theme), scrolled(picture)
            self.areas.append(area)
            card.box.addWidget(caption)
            card.box.addWidget(area, 1)
            self.stack.addWidget(card)
        self.tables.addWidget(self.cuts)
        self.tables.addWidget(self.bodies)
        self.stack.addWidget(self.tables)
        self.box.addWidget(self.stack, 1)
        checkable = (self.by_cut, self.by_body, self.cost_cuts, self.cost_portions)
        for button in (*self.segments, *checkable):
            button.setCheckable(True)

    def _connect(self) -> None:
        for number, button in enumerate(self.segments):
            button.clicked.connect(lambda _on=False, at=number: self.show_segment(at))
        self.by_cut.clicked.connect(lambda: self._show_table(0))
        self.by_body.clicked.connect(lambda: self._show_table(1))
        self.cost_cuts.clicked.connect(lambda: self._show_costs(portions=False))
        self.cost_portions.clicked.connect(lambda: self._show_costs(portions=True))
        self.all_lists.clicked.connect(lambda: self._show_yields(ALL_LISTS))
        self.flow.opened.connect(self._open_bar)
        self.yields.opened.connect(self._open_yield)
        self.costs.opened.connect(self._open_cost)
        self.cuts.opened.connect(lambda row: self._open_row(0, row))
        self.bodies.opened.connect(lambda row: self._open_row(1, row))
        pictures: tuple[PictureRows, ...] = (self.yields, self.costs)
        for picture, area in zip(pictures, self.areas[1:], strict=True):
            picture.reached.connect(
                lambda top, bottom, area=area: area.ensureVisible(
                    0, (top + bottom) // 2, 0, (bottom - top) // 2 + 4
                )
            )

    def make_room(self, *, low: bool) -> None:
        """On a low screen the captions are told by the pictures' descriptions alone."""
        space = self._theme.tokens.space
        self.box.setSpacing(space.small if low else space.gap)
        for caption in self.captions:
            caption.setVisible(not low)

    def show_segment(self, segment: int) -> None:
        """Show one of the pictures, or the table."""
        self.stack.setCurrentIndex(segment)
        self.more.setCurrentIndex(segment)
        for number, button in enumerate(self.segments):
            button.setChecked(number == segment)

    def show_state(self, state: WeekState) -> None:
        """Show one week; what is shown of it stays the same."""
        self._state = state
        if state.flow.plans:
            self.flow.show_flow(state.flow.plans, state.flow.words)
        self.flow.setVisible(bool(state.flow.plans))
        self.captions[MONEY].setText(state.flow.words)
        self.cuts.show_rows(state.cuts)
        self.bodies.show_rows(state.bodies)
        self._show_yields(ALL_LISTS)
        self._show_costs(portions=self.cost_portions.isChecked())

    def _show_table(self, index: int) -> None:
        self.tables.setCurrentIndex(index)
        for at, button in enumerate((self.by_cut, self.by_body)):
            button.setChecked(at == index)

    def _show_costs(self, *, portions: bool) -> None:
        self.cost_cuts.setChecked(not portions)
        self.cost_portions.setChecked(portions)
        if self._state is None:
            return
        costs = self._state.costs
        page = costs.portions if portions else costs.cuts
        self.costs.show_rows(page.rows, page.words)
        self.captions[COSTS].setText(page.words)
        self.areas[COSTS].verticalScrollBar().setValue(0)

    def _show_yields(self, number: int) -> None:
        self._list = number
        self.all_lists.setVisible(number != ALL_LISTS)
        if self._state is None:
            return
        found = self._state.yields
        page = found.lists if number == ALL_LISTS else found.cuts[number]
        self.yields.show_rows(page.rows, page.words)
        legend = self.tr("Each dot is a body of the week; dashed: the norm; the band: the limits.")
        if not page.rows:
            legend = self.tr("No body was finished by a cutting list in this week.")
        self.captions[YIELDS].setText(f"{page.title}. {legend}" if page.rows else legend)
        self.areas[YIELDS].verticalScrollBar().setValue(0)

    # What is opened

    def _open_bar(self, plan: int, column: int, number: int) -> None:
        if self._state is not None:
            self.wished.emit(self._state.flow.wishes[plan][column][number])

    def _open_yield(self, row: int, dot: int) -> None:
        if self._state is None:
            return
        found = self._state.yields
        if dot < 0:
            if self._list == ALL_LISTS:
                self._show_yields(row)
            return
        page = found.lists if self._list == ALL_LISTS else found.cuts[self._list]
        self.wished.emit(page.stages[row][dot])

    def _open_cost(self, row: int, _part: int) -> None:
        if self._state is None:
            return
        costs = self._state.costs
        page = costs.portions if self.cost_portions.isChecked() else costs.cuts
        if page.rows[row].leads:
            self.wished.emit(page.wishes[row])

    def _open_row(self, table: int, row: int) -> None:
        if self._state is not None:
            wishes: tuple[Wish, ...] = self._state.body_wishes if table else self._state.cut_wishes
            self.wished.emit(wishes[row])


def _in_a_row(theme: Theme, buttons: tuple[ActionButton, ...]) -> QWidget:
    holder = QWidget()
    row = QHBoxLayout(holder)
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(theme.tokens.space.small)
    row.addStretch(1)
    for button in buttons:
        row.addWidget(button)
    return holder
