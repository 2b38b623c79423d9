"""How the Cabinet is laid out: the lines at the left, one of its panels at the right."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QHBoxLayout,
    QLineEdit,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from gambrel.domain.numbers.money import Currency
from gambrel.ui.cabinet.limits_panel import LimitsPanel
from gambrel.ui.cabinet.price_panel import PricePanel
from gambrel.ui.cabinet.solve_panel import SolvePanel
from gambrel.ui.cabinet.special_panel import SpecialPanel
from gambrel.ui.cabinet.state import ALL, Chip
from gambrel.ui.cabinet.table import LinesTable
from gambrel.ui.cabinet.tickets_panel import TicketsPanel
from gambrel.ui.theme import Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton
from gambrel.ui.widgets.card import Card, label

PRICE, SOLVE, TICKETS, SPECIAL, LIMITS = range(5)
TABS = {SPECIAL: PRICE, LIMITS: SOLVE}
"""Panels that another one leads to, and which one that is."""

NARROW_PANEL, WIDE_PANEL = 348, 392


class CabinetView(QWidget):
    """Shows states and reports wishes; decides nothing."""

    filter_changed = Signal()
    panel_changed = Signal(int)
    method_wished = Signal()
    four_wished = Signal()
    arranging = Signal(bool)

    def __init__(self, theme: Theme, currency: Currency) -> None:
        super().__init__()
        self._theme = theme
        self.wanted = ALL
        self.banner = Banner(theme)
        self.table = LinesTable(theme)
        self.search = QLineEdit()
        self.search.setPlaceholderText(self.tr("Search"))
        self.search.setAccessibleName(self.tr("Search for a cut by name or number"))
        self.search.setClearButtonEnabled(True)
        self.search.textChanged.connect(self.filter_changed)
        self.chips: dict[str, ActionButton] = {}
        self._chips_row = QHBoxLayout()
        self.footer = label("", "soft", wrap=True)
        self.method_button = ActionButton(theme, size=18)
        self.method_button.clicked.connect(self.method_wished)
        self.four_button = ActionButton(theme, self.tr("4 costs"), size=18)
        self.four_button.setCheckable(True)
        self.four_button.setAccessibleName(self.tr("Cost by all four methods, side by side"))
        self.four_button.setToolTip(self.four_button.accessibleName())
        self.four_button.clicked.connect(self.four_wished)
        self.arrange_button = ActionButton(theme, self.tr("Arrange"), size=18)
        self.arrange_button.setCheckable(True)
        self.arrange_button.setToolTip(self.tr("Put the trays in the shop's own order"))
        self.arrange_button.clicked.connect(self._arrange)
        self.up_button = ActionButton(theme, icon="chevron-up", size=18)
        self.down_button = ActionButton(theme, icon="chevron-down", size=18)
        self.up_button.setAccessibleName(self.tr("Move the chosen cut up"))
        self.down_button.setAccessibleName(self.tr("Move the chosen cut down"))
        self.up_button.clicked.connect(lambda: self.table.move_chosen(-1))
        self.down_button.clicked.connect(lambda: self.table.move_chosen(1))
        self.price = PricePanel(theme, currency)
        self.solve = SolvePanel(theme)
        self.tickets = TicketsPanel(theme)
        self.special = SpecialPanel(theme, currency)
        self.limits = LimitsPanel(theme, currency)
        self.stack = QStackedWidget()
        for panel in (self.price, self.solve, self.tickets, self.special, self.limits):
            self.stack.addWidget(panel)
        self.panel = Card(theme)
        self._lay_out()

    def _lay_out(self) -> None:
        space = self._theme.tokens.space
        self._chips_row.setSpacing(space.small)
        head = QHBoxLayout()
        head.setSpacing(space.small)
        head.addLayout(self._chips_row, 1)
        self.search.setFixedWidth(124)
        head.addWidget(self.search)
        foot = QHBoxLayout()
        foot.setSpacing(space.small)
        foot.addWidget(self.footer, 1)
        for button in (self.up_button, self.down_button):
            button.hide()
            foot.addWidget(button)
        for button in (self.arrange_button, self.four_button, self.method_button):
            foot.addWidget(button)
        left = QVBoxLayout()
        left.setSpacing(space.small)
        left.addLayout(head)
        left.addWidget(self.banner)
        left.addWidget(self.table, 1)
        left.addLayout(foot)
        self.panel.box.addLayout(self._tabs())
        self.panel.box.addWidget(self.stack, 1)
        row = QHBoxLayout(self)
        row.setContentsMargins(space.gap, space.gap, space.gap, space.gap)
        row.setSpacing(space.gap)
        row.addLayout(left, 1)
        row.addWidget(self.panel)

    def _tabs(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(self._theme.tokens.space.small)
        names = (
            (self.tr("Price"), "tag"),
            (self.tr("Solve"), "calculator"),
            (self.tr("Tickets"), "barcode"),
        )
        self.tabs = QButtonGroup(self)
        for number, (name, icon) in enumerate(names):
            button = ActionButton(self._theme, name, icon=icon, size=18)
            button.setCheckable(True)
            button.setChecked(number == PRICE)
            self.tabs.addButton(button, number)
            row.addWidget(button, 1)
        self.tabs.idClicked.connect(self.show_panel)
        return row

    def show_panel(self, number: int) -> None:
        """Turn to a panel; tells it."""
        self.stack.setCurrentIndex(number)
        self.tabs.button(TABS.get(number, number)).setChecked(True)
        self.panel_changed.emit(number)

    def _arrange(self, on: bool) -> None:
        """Let the trays be moved, by dragging or by the two arrows."""
        self.table.arrange(on)
        self.up_button.setVisible(on)
        self.down_button.setVisible(on)
        self.four_button.setVisible(not on)
        self.method_button.setVisible(not on)
        self.arrange_button.say(self.tr("Done") if on else self.tr("Arrange"))
        self.arranging.emit(on)

    def show_chips(self, chips: Sequence[Chip]) -> None:
        """Offer filters; one that is gone lets everything pass again."""
        keys = [chip.key for chip in chips]
        if self.wanted not in keys:
            self.wanted = ALL
        if keys != list(self.chips):
            self._make_chips(keys)
        for chip in chips:
            self.chips[chip.key].say(chip.text)
            self.chips[chip.key].setChecked(chip.key == self.wanted)

    def _make_chips(self, keys: list[str]) -> None:
        for old in self.chips.values():
            self._chips_row.removeWidget(old)
            old.hide()
            old.deleteLater()
        self.chips = {}
        for key in keys:
            button = ActionButton(self._theme, size=18)
            button.setCheckable(True)
            button.clicked.connect(lambda _=False, key=key: self._choose(key))
            self.chips[key] = button
            self._chips_row.addWidget(button)

    def _choose(self, key: str) -> None:
        self.wanted = key
        for other, button in self.chips.items():
            button.setChecked(other == key)
        self.filter_changed.emit()

    def show_undo(self, what: str) -> None:
        """Offer to take the last act back."""
        self.price.show_undo(what)
        self.solve.show_undo(what)

    def resizeEvent(self, event: QResizeEvent) -> None:
        wide = self.width() >= 1200
        self.panel.setFixedWidth(WIDE_PANEL if wide else NARROW_PANEL)
        self.search.setFixedWidth(200 if wide else 112)
        super().resizeEvent(event)
