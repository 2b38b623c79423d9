"""The Rail's view: a head line, the cards, and one panel beside them at a time."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from gambrel.domain.numbers.money import Currency
from gambrel.ui.rail.card import LEAST_WIDTH, BodyCard
from gambrel.ui.rail.receive_panel import ReceivePanel
from gambrel.ui.rail.reweigh_panel import ReweighPanel
from gambrel.ui.rail.state import RailState
from gambrel.ui.theme import Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import label
from gambrel.ui.widgets.empty import EmptyState
from gambrel.ui.widgets.scroll import scrolled

MOST_COLUMNS = 4


class CardGrid(QWidget):
    """The cards in as many columns as fit; a card keeps its place in memory by its body."""

    block_wanted = Signal(str)
    reweigh_wanted = Signal(str)
    moved = Signal()
    """The cards have other places now, or another one is marked."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._marked = ""
        self.cards: dict[str, BodyCard] = {}
        self._columns = 0
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(theme.tokens.space.gap)

    def show_state(self, state: RailState) -> None:
        """Show these cards in this order."""
        wanted = [card.key for card in state.cards]
        for key in [key for key in self.cards if key not in wanted]:
            gone = self.cards.pop(key)
            gone.hide()  # at once; it is deleted only when the window has nothing else to do
            gone.deleteLater()
        for card in state.cards:
            if card.key not in self.cards:
                self.cards[card.key] = self._card()
            self.cards[card.key].show_state(card)
        self.cards = {key: self.cards[key] for key in wanted}
        self._place()

    def _card(self) -> BodyCard:
        card = BodyCard(self._theme)
        card.block_wanted.connect(self.block_wanted)
        card.reweigh_wanted.connect(self.reweigh_wanted)
        return card

    def mark(self, key: str) -> None:
        """Mark the card that a panel is about; an empty key marks none."""
        self._marked = key
        for each, card in self.cards.items():
            card.set_chosen(each == key)
        self.moved.emit()

    @property
    def marked(self) -> BodyCard | None:
        """The card that a panel is about."""
        return self.cards.get(self._marked)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.moved.emit()

    def fit_width(self, width: int) -> None:
        """Take as many columns as a width has room for."""
        gap = self._grid.spacing()
        columns = max(1, min((width + gap) // (LEAST_WIDTH + gap), MOST_COLUMNS))
        if columns != self._columns:
            self._columns = columns
            self._place()

    def _place(self) -> None:
        columns = max(self._columns, 1)
        while self._grid.takeAt(0) is not None:
            pass
        for number, card in enumerate(self.cards.values()):
            self._grid.addWidget(card, number // columns, number % columns)
            card.show()
        rows = -(-len(self.cards) // columns)
        for row in range(self._grid.rowCount() + 1):
            self._grid.setRowStretch(row, int(row == rows))
        for column in range(MOST_COLUMNS):
            self._grid.setColumnStretch(column, int(column < columns))
        before: QWidget | None = None
        for card in self.cards.values():
            if before is not None:
                QWidget.setTabOrder(before, card.reweigh)
            QWidget.setTabOrder(card.reweigh, card.block)
            before = card.block


class RailView(QWidget):
    """Shows a `RailState`, and the panels that the presenter opens."""

    receive_wanted = Signal()

    def __init__(self, theme: Theme, currency: Currency, symbol: str) -> None:
        super().__init__()
        self.heading = label(self.tr("On the rail"), "heading")
        self.summary = label(role="soft")
        self.receive_button = ActionButton(
            theme, self.tr("Receive a body"), icon="truck", role=Role.PRIMARY, least=52
        )
        self.receive_button.clicked.connect(self.receive_wanted)
        policy = self.receive_button.sizePolicy()
        policy.setRetainSizeWhenHidden(True)  # the cards do not jump when it goes
        self.receive_button.setSizePolicy(policy)
        self.banner = Banner(theme)
        self.grid = CardGrid(theme)
        self.empty = EmptyState(
            theme,
            "beef",
            self.tr("Nothing hangs."),
            self.tr("Receive a body"),
            self.tr("When a body comes in, its docket is checked against your scale here."),
        )
        self.empty.acted.connect(self.receive_wanted)
        self.reweigh = ReweighPanel(theme)
        self.receive = ReceivePanel(theme, currency, symbol)
        self._area = scrolled(self.grid)
        self._area.viewport().installEventFilter(self)
        self._gap = theme.tokens.space.gap
        self.grid.moved.connect(self._keep_in_sight)
        self._pages = QStackedWidget()
        self._lay_out(theme)

    def _lay_out(self, theme: Theme) -> None:
        gap = theme.tokens.space.gap
        head = QHBoxLayout()
        head.setSpacing(gap)
        head.addWidget(self.heading)
        self.summary.setContentsMargins(0, 6, 0, 0)  # so that it stands on the heading's line
        head.addWidget(self.summary, 1, Qt.AlignmentFlag.AlignVCenter)
        head.addWidget(self.receive_button)
        for page in (self._area, self.empty):
            self._pages.addWidget(page)
        self._hung = QWidget()
        left = QVBoxLayout()
        left.setSpacing(gap)
        left.addLayout(head)
        left.addWidget(self.banner)
        left.addWidget(self._pages, 1)
        row = QHBoxLayout(self._hung)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(gap)
        row.addLayout(left, 1)
        row.addWidget(self.reweigh)
        self.reweigh.hide()
        self._whole = QStackedWidget()
        self._whole.addWidget(self._hung)
        self._whole.addWidget(self.receive)
        box = QVBoxLayout(self)
        box.setContentsMargins(gap, gap, gap, gap)
        box.addWidget(self._whole)

    def show_state(self, state: RailState) -> None:
        """Show what hangs, or that nothing does."""
        self.summary.setText(state.summary)
        self.grid.show_state(state)
        some = bool(state.cards)
        self._pages.setCurrentWidget(self._area if some else self.empty)
        self.receive_button.setVisible(some and self.reweigh.isHidden())

    @property
    def receiving(self) -> bool:
        """Whether the form at the door is open."""
        return self._whole.currentWidget() is self.receive

    def show_cards(self) -> None:
        """Leave the form; show the cards, or the empty rail."""
        self._whole.setCurrentWidget(self._hung)

    def show_reweigh(self, shown: bool) -> None:
        """Show or leave the panel that weighs again; meanwhile nothing else is offered."""
        self.reweigh.setVisible(shown)
        self.receive_button.setVisible(not shown and self._pages.currentWidget() is self._area)

    def _keep_in_sight(self) -> None:
        """Scroll to the card that is weighed again, which the panel may have pushed away."""
        card = self.grid.marked
        if card is not None:
            self._area.ensureWidgetVisible(card, 0, self._gap)

    def show_form(self) -> None:
        """Show the form at the door."""
        self._whole.setCurrentWidget(self.receive)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Resize and watched is self._area.viewport():
            self.grid.fit_width(self._area.viewport().width())
        return super().eventFilter(watched, event)
