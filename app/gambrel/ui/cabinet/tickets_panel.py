"""The panel for shelf tickets and tray labels: which cuts, or which pieces; then the real pages."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QHBoxLayout,
    QLayout,
    QSizePolicy,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from gambrel.ui.cabinet.keypad_panel import LOW
from gambrel.ui.cabinet.piece_list import PieceList
from gambrel.ui.cabinet.split_panel import SplitPanel
from gambrel.ui.theme import Theme
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import label
from gambrel.ui.widgets.scroll import scrolled

TICKETS, LABELS = range(2)


class TicketsPanel(QWidget):
    """Tells what shall be ticked ("reprint", "changed", "shown", "none") and what is wished."""

    tick_wished = Signal(str)
    wished = Signal()
    labels_wished = Signal(list)
    """Pieces that shall be labelled: pairs of a key and the net grams of its trays."""
    turned = Signal(int)
    waiting_wished = Signal()
    log_wished = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Expanding)
        self._theme = theme
        self._chosen = 0
        self.count = label("", "label", wrap=True)
        hint = self.tr("Tap cuts in the list to choose their tickets, or choose many at once.")
        self.hint = label(hint, "soft", wrap=True)
        self.reprint_words = label("", "soft", wrap=True)
        self.pieces = PieceList(theme)
        self.split = SplitPanel(theme)
        self.label_pages = QStackedWidget()
        self.piece_count = label("", "strong", wrap=True)
        self.ticks: dict[str, ActionButton] = {}
        self.kinds = QButtonGroup(self)
        self.stack = QStackedWidget()
        self.print_button = ActionButton(
            theme, self.tr("Pages and print"), icon="printer", role=Role.PRIMARY
        )
        self.print_button.setMinimumHeight(60)
        self.waiting_button = ActionButton(theme, self.tr("Waiting"), icon="clock", size=18)
        self.log_button = ActionButton(theme, self.tr("Log"), icon="list", size=18)
        self._lay_out()
        self.pieces.changed.connect(self._show_button)
        self.pieces.split_wished.connect(self._begin_split)
        self.split.changed.connect(self.pieces.show_trays)
        self.split.done.connect(self._end_split)
        self.print_button.clicked.connect(self._wish)
        self.waiting_button.clicked.connect(self.waiting_wished)
        self.log_button.clicked.connect(self.log_wished)
        self.turn(TICKETS)

    def _lay_out(self) -> None:
        space = self._theme.tokens.space
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(space.small)
        box.addLayout(self._head())
        self.stack.addWidget(scrolled(self._tickets_page()))
        self.stack.addWidget(self._labels_page())
        box.addWidget(self.stack, 1)
        box.addWidget(self.print_button)
        box.addLayout(self._beside(self.waiting_button, self.log_button))

    def _head(self) -> QLayout:
        row = QHBoxLayout()
        row.setSpacing(self._theme.tokens.space.small)
        for number, name in enumerate((self.tr("Shelf tickets"), self.tr("Tray labels"))):
            button = ActionButton(self._theme, name, size=18)
            button.setCheckable(True)
            self.kinds.addButton(button, number)
            row.addWidget(button, 1)
        self.kinds.idClicked.connect(self.turn)
        return row

    def _tickets_page(self) -> QWidget:
        page = QWidget()
        box = QVBoxLayout(page)
        box.setContentsMargins(0, 0, self._theme.tokens.space.small, 0)
        box.setSpacing(self._theme.tokens.space.small)
        self._make_ticks()
        box.addLayout(self._beside(self.count, self.ticks["none"]))
        box.addWidget(self.hint)
        box.addLayout(self._beside(self.ticks["changed"], self.ticks["shown"]))
        box.addWidget(self.ticks["reprint"])
        box.addWidget(self.reprint_words)
        box.addStretch(1)
        return page

    def _beside(self, *parts: QWidget) -> QLayout:
        row = QHBoxLayout()
        row.setSpacing(self._theme.tokens.space.small)
        for part in parts:
            row.addWidget(part, 1)
        return row

    def _make_ticks(self) -> None:
        names = {
            "reprint": (self.tr("Reprint"), ""),
            "changed": (self.tr("New this week"), self.tr("Cuts with new prices of this week")),
            "shown": (self.tr("All shown"), self.tr("All cuts that are shown")),
            "none": (self.tr("None"), self.tr("Choose no cut")),
        }
        for key, (name, told) in names.items():
            button = ActionButton(self._theme, name, size=18)
            button.clicked.connect(lambda _=False, key=key: self.tick_wished.emit(key))
            if told:
                button.setAccessibleName(told)
                button.setToolTip(told)
            self.ticks[key] = button

    def _labels_page(self) -> QWidget:
        page = QWidget()
        box = QVBoxLayout(page)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(self._theme.tokens.space.small)
        box.addWidget(self.piece_count)
        box.addWidget(self.pieces, 1)
        for each in (page, self.split):
            self.label_pages.addWidget(each)
        return self.label_pages

    def _begin_split(self, key: str) -> None:
        row = self.pieces.row(key)
        if row is not None:
            self.label_pages.setCurrentWidget(self.split)
            self.split.show_piece(key, row.name, row.left_g, self.pieces.trays.get(key, ()))

    def _end_split(self) -> None:
        self.label_pages.setCurrentIndex(0)
        self.pieces.list.setFocus()

    @property
    def showing(self) -> int:
        """Whether tickets or labels are chosen."""
        return self.stack.currentIndex()

    def turn(self, number: int) -> None:
        """Turn to tickets or to labels; tells it."""
        self.stack.setCurrentIndex(number)
        self.kinds.button(number).setChecked(True)
        self._show_button()
        self.turned.emit(number)

    def show_count(self, chosen: int) -> None:
        """Say how many cuts are chosen."""
        self._chosen = chosen
        words = {0: self.tr("No cut chosen"), 1: self.tr("1 cut chosen")}
        self.count.setText(words.get(chosen, self.tr("{0} cuts chosen").format(chosen)))
        self._show_button()

    def show_reprints(self, words: str, sentence: str) -> None:
        """Offer the tickets that no longer say what is asked; nothing is offered without any."""
        button = self.ticks["reprint"]
        button.say(words)
        button.set_role(Role.PRIMARY if sentence else Role.PLAIN)
        button.setVisible(bool(sentence))
        self.reprint_words.setText(sentence)
        self.reprint_words.setVisible(bool(sentence))
        self.make_room()

    def make_room(self) -> None:
        """On a low screen tickets that are old take the place of how to choose."""
        self.hint.setVisible(not (self.height() < LOW and self.reprint_words.text()))

    def show_waiting(self, words: str) -> None:
        """Say how many prints wait."""
        self.waiting_button.say(words)

    def _show_button(self) -> None:
        self.ticks["none"].setEnabled(self._chosen > 0)
        chosen = len(self.pieces.ticked)
        none = self.tr("No piece chosen")
        if not self.pieces.list.count():
            none = self.tr("There is no piece to label. What is weighed at the block stands here.")
        words = {0: none, 1: self.tr("1 piece chosen")}
        self.piece_count.setText(words.get(chosen, self.tr("{0} pieces chosen").format(chosen)))
        self.print_button.setEnabled(bool(chosen if self.showing == LABELS else self._chosen))

    def _wish(self) -> None:
        if self.showing == LABELS:
            trays = self.pieces.trays
            self.labels_wished.emit([(key, trays.get(key, ())) for key in self.pieces.ticked])
        else:
            self.wished.emit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.make_room()
