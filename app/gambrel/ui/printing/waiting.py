"""What waits for somebody to decide: prints that failed, and such as nobody knows about."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QStackedWidget, QVBoxLayout, QWidget

from gambrel.ui.printing.state import JobRow
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import Card, label
from gambrel.ui.widgets.chip import Chip
from gambrel.ui.widgets.empty import EmptyState
from gambrel.ui.widgets.scroll import scrolled


class JobCard(Card):
    """One job with its reason and what can be done about it."""

    again = Signal(str)
    confirmed = Signal(str)
    let_go = Signal(str)

    def __init__(self, theme: Theme, row: JobRow) -> None:
        super().__init__(theme)
        chip = Chip(theme)
        chip.show_text(Meaning.STOP if row.is_failed else Meaning.WATCH, row.word)
        head = QHBoxLayout()
        head.addWidget(label(row.title, "label", wrap=True), 1)
        head.addWidget(chip)
        self.box.addLayout(head)
        self.box.addWidget(label(row.where, "soft", wrap=True))
        self.box.addWidget(label(row.sentence, wrap=True))
        self.again_button = ActionButton(
            theme, self.tr("Print again"), icon="printer", role=Role.PRIMARY, size=18
        )
        self.seen_button = ActionButton(theme, self.tr("It was printed"), icon="check", size=18)
        self.drop_button = ActionButton(theme, self.tr("Let it go"), size=18)
        self.seen_button.setVisible(row.may_confirm)
        acts = QHBoxLayout()
        acts.setSpacing(theme.tokens.space.small)
        for button, signal in (
            (self.again_button, self.again),
            (self.seen_button, self.confirmed),
            (self.drop_button, self.let_go),
        ):
            button.setAccessibleName(f"{button.text()}: {row.title}, {row.where}")
            button.setEnabled(row.may_act)
            button.clicked.connect(lambda _=False, signal=signal: signal.emit(row.key))
            acts.addWidget(button)
        acts.addStretch(1)
        self.box.addLayout(acts)


class WaitingPage(QWidget):
    """The cards, the newest first; ``again``, ``confirmed`` and ``let_go`` tell a job's key."""

    again = Signal(str)
    confirmed = Signal(str)
    let_go = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self.cards: list[JobCard] = []
        self.quiet = EmptyState(
            theme,
            "circle-check",
            self.tr("Nothing waits."),
            more=self.tr("What a printer does not take comes here, with its reason."),
        )
        content = QWidget()
        self._column = QVBoxLayout(content)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(theme.tokens.space.gap)
        self._column.addStretch(1)
        self.pages = QStackedWidget()
        self.pages.addWidget(scrolled(content))
        self.pages.addWidget(self.quiet)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.addWidget(self.pages)

    def show_rows(self, rows: Sequence[JobRow]) -> None:
        """Show other jobs."""
        for card in self.cards:
            self._column.removeWidget(card)
            card.setParent(None)
            card.deleteLater()
        self.cards = [self._card(row) for row in rows]
        for number, card in enumerate(self.cards):
            self._column.insertWidget(number, card)
            card.show()  # at once, so that Tab finds it before the layout's next turn
        self.pages.setCurrentIndex(0 if rows else 1)

    def _card(self, row: JobRow) -> JobCard:
        card = JobCard(self._theme, row)
        card.again.connect(self.again)
        card.confirmed.connect(self.confirmed)
        card.let_go.connect(self.let_go)
        return card
