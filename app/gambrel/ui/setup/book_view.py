"""The Book section's page: the book and its backups at the left, what can be done at the right."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from gambrel.ui.setup.book_state import BookState
from gambrel.ui.setup.page import SectionPage
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import Card, label
from gambrel.ui.widgets.figure import Figure
from gambrel.ui.widgets.scroll import scrolled
from gambrel.ui.widgets.sentences import Sentences


class BookCard(Card):
    """Where the book is, how large, and when it was last backed up."""

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.where = label(wrap=True)
        self.bytes = Figure(theme, self.tr("Size"))
        self.bodies = Figure(theme, self.tr("Bodies"))
        self.pieces = Figure(theme, self.tr("Pieces"))
        self.last = label(role="strong", wrap=True)
        self.file = label(wrap=True)
        self.copies = label(wrap=True)
        figures = QHBoxLayout()
        figures.setSpacing(theme.tokens.space.wide)
        for figure in (self.bytes, self.bodies, self.pieces):
            figures.addWidget(figure, 1)
        self.box.addWidget(label(self.tr("Where it is"), "soft"))
        self.box.addWidget(self.where)
        self.box.addLayout(figures)
        self.box.addSpacing(theme.tokens.space.small)
        self.box.addWidget(label(self.tr("Last backup"), "soft"))
        for part in (self.last, self.file, self.copies):
            self.box.addWidget(part)

    def show_state(self, state: BookState) -> None:
        """Show the book."""
        self.where.setText(state.where)
        self.bytes.show_value(*state.size)
        self.bodies.show_value(state.bodies)
        self.pieces.show_value(state.pieces)
        self.last.setText(state.last)
        self.file.setText(state.last_file)
        self.file.setVisible(bool(state.last_file))
        self.copies.setText(state.copies)


class SafetyPanel(QWidget):
    """Back up, check, and how to go back."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.folder = label(wrap=True)
        self.hint = label(role="soft", wrap=True)
        self.same_disk = Banner(theme, closable=False)
        self.choose = ActionButton(theme, self.tr("Choose a folder"), size=18)
        self.back_up = ActionButton(theme, role=Role.PRIMARY, least=64)
        self.check = ActionButton(theme, least=56)
        self.go_back = ActionButton(theme, size=18)
        self.command = label(wrap=True)
        self.copy = ActionButton(theme, self.tr("Copy this line"), size=18)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, theme.tokens.space.small, 0)
        box.setSpacing(theme.tokens.space.small)
        box.addWidget(label(self.tr("Backups of this station go to"), "soft", wrap=True))
        for part in (self.folder, self.choose, self.hint, self.same_disk, self.back_up):
            box.addWidget(part)
        box.addSpacing(theme.tokens.space.small)
        box.addWidget(self.check)
        box.addSpacing(theme.tokens.space.small)
        box.addWidget(label(self.tr("To go back to a backup"), "strong", wrap=True))
        words = self.tr("Close the window at every other station first.")
        box.addWidget(label(words, "soft", wrap=True))
        box.addWidget(self.go_back)
        words = self.tr("Where no window can open the book, type this, with the backup for FILE:")
        box.addWidget(label(words, "soft", wrap=True))
        box.addWidget(self.command)
        box.addWidget(self.copy)
        box.addStretch(1)

    def show_state(self, state: BookState) -> None:
        """Show what can be done now."""
        self.folder.setText(state.folder)
        self.hint.setText(state.hint)
        self.hint.setVisible(not state.watch)
        if state.watch:
            self.same_disk.say(Meaning.WATCH, state.hint)
        else:
            self.same_disk.clear()
        self.back_up.say(state.back_up)
        self.check.say(state.check)
        self.go_back.say(state.go_back)
        for button in (self.choose, self.back_up, self.check, self.go_back):
            button.setEnabled(state.can_act)
        self.command.setText(state.command)


class BookView(SectionPage):
    """Shows a `BookState` and reports wishes; decides nothing."""

    folder_wanted = Signal()
    backup_wanted = Signal()
    check_wanted = Signal()
    copy_wanted = Signal()
    go_back_wanted = Signal()
    go_back_meant = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.ask = Banner(theme)
        self.left.addWidget(self.ask)
        self.due = Banner(theme, closable=False)
        self.card = BookCard(theme)
        self.panel = SafetyPanel(theme)
        self.found = Card(theme)
        self.report = Sentences(theme)
        self.found.box.addWidget(label(self.tr("What the check found"), "strong"))
        self.found.box.addWidget(self.report)
        self.panel.choose.clicked.connect(self.folder_wanted)
        self.panel.back_up.clicked.connect(self.backup_wanted)
        self.panel.check.clicked.connect(self.check_wanted)
        self.panel.copy.clicked.connect(self.copy_wanted)
        self.panel.go_back.clicked.connect(self.go_back_wanted)
        self.ask.acted.connect(self.go_back_meant)
        side = Card(theme)
        side.box.addWidget(scrolled(self.panel))
        self.lay_out(self._content(theme), side)
        self.show_report(())

    def _content(self, theme: Theme) -> QWidget:
        page = QWidget()
        box = QVBoxLayout(page)
        box.setContentsMargins(0, 0, theme.tokens.space.small, 0)
        box.setSpacing(theme.tokens.space.small)
        for part in (self.due, self.found, self.card):  # what was asked for last stands first
            box.addWidget(part)
        box.addStretch(1)
        return page

    def show_state(self, state: BookState) -> None:
        """Show the book, its backups, and what can be done."""
        if state.due:
            self.due.say(Meaning.WATCH, state.due, word=self.tr("Time to back up"))
        else:
            self.due.clear()
        self.card.show_state(state)
        self.panel.show_state(state)

    def show_question(self, sentence: str) -> None:
        """Ask in place whether to go back to a backup; an empty sentence asks nothing."""
        if sentence:
            word, act = self.tr("Go back to this backup?"), self.tr("Go back")
            self.ask.say(Meaning.WATCH, sentence, word=word, action=act)
        else:
            self.ask.clear()

    def show_report(self, sentences: Sequence[str]) -> None:
        """Show what a check found; nothing before one."""
        self.found.setVisible(bool(sentences))
        self.report.show_sentences(sentences)
