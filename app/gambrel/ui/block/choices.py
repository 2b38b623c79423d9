"""A question with large answers, in place of the cuts: who cuts, which list, which piece, why."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from gambrel.ui.block.keys import BlockKey
from gambrel.ui.theme import Theme
from gambrel.ui.widgets.button import Role
from gambrel.ui.widgets.card import Card, label
from gambrel.ui.widgets.scroll import scrolled

LONGEST_NAME = 40

_KEYS = {Qt.Key.Key_Backspace: "<", Qt.Key.Key_Return: "enter", Qt.Key.Key_Enter: "enter"}
"""Keys by the answers that they stand for, where a question has such answers."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One answer; ``main`` wears the accent, a disabled one only informs."""

    key: str
    text: str
    caption: str = ""
    main: bool = False
    enabled: bool = True
    size: int = 0
    """Pixels of its text; 0 for a label's."""
    icon: str = ""
    """Stands in place of the text, which is then only read out."""


@dataclass(frozen=True, slots=True)
class Question:
    """A heading, a sentence under it, and the answers."""

    title: str
    more: str
    choices: tuple[Choice, ...]
    columns: int = 3
    closes: bool = True
    foot: str = ""
    entry: str = ""
    """What may be typed instead of an answer; empty for nothing."""


class ChoicePanel(Card):
    """Shows a `Question`; ``chosen`` tells the answer's key, ``closed`` that there is none."""

    chosen = Signal(str)
    closed = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self._theme = theme
        self._question: Question | None = None
        self.title: QLabel = label("", "heading", wrap=True)
        self.more: QLabel = label("", "soft", wrap=True)
        self.foot: QLabel = label("", "soft", wrap=True)
        self.close_key = BlockKey(theme, self.tr("Back"), role=Role.QUIET)
        self.close_key.clicked.connect(self.closed)
        self.keys: list[BlockKey] = []
        words = QVBoxLayout()
        words.addWidget(self.title)
        words.addWidget(self.more)
        words.addStretch(1)
        head = QHBoxLayout()
        head.addLayout(words, 1)
        head.addWidget(self.close_key)
        inner = QWidget()
        self._grid = QGridLayout(inner)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setSpacing(theme.tokens.space.small)
        self.entry = QLineEdit()
        grows = QSizePolicy.Policy.Expanding
        self.entry.setSizePolicy(grows, grows)  # as tall as the key beside it
        self.entry.setMaxLength(LONGEST_NAME)
        self.add_key = BlockKey(theme, self.tr("Add"))
        self.entry.returnPressed.connect(self._added)
        self.add_key.clicked.connect(self._added)
        typed = QHBoxLayout()
        typed.addWidget(self.entry, 1)
        typed.addWidget(self.add_key)
        self.box.addLayout(head)
        self.box.addWidget(scrolled(inner), 1)
        self.box.addLayout(typed)
        self.box.addWidget(self.foot)

    def ask(self, question: Question) -> None:
        """Show another question."""
        before, self._question = self._question, question
        if question == before:
            return
        self.title.setText(question.title)
        self.more.setText(question.more)
        self.more.setVisible(bool(question.more))
        self.foot.setText(question.foot)
        self.foot.setVisible(bool(question.foot))
        self.close_key.setVisible(question.closes)
        if before is None or question.title != before.title:
            self.entry.clear()
        self.entry.setPlaceholderText(question.entry)
        self.entry.setAccessibleName(question.entry)
        self.entry.setVisible(bool(question.entry))
        self.add_key.setVisible(bool(question.entry))
        same = before and (before.choices, before.columns) == (question.choices, question.columns)
        if not same:
            self._fill(question.choices, question.columns)

    @property
    def first_key(self) -> QWidget:
        """Where somebody who walks the keys begins."""
        types = () if self.entry.isHidden() else (self.entry,)
        keys = (key for key in self.keys if key.isEnabled())
        return next(iter((*keys, *types)), self.close_key)

    def press(self, event: QKeyEvent) -> bool:
        """Take a key of a real keyboard that stands for an answer: a digit, back, OK."""
        typed = _KEYS.get(Qt.Key(event.key()), event.text())
        for key, choice in zip(
            self.keys, self._question.choices if self._question else (), strict=False
        ):
            if len(typed) > 0 and choice.key == typed and key.isEnabled():
                key.click()
                return True
        return False

    def _added(self) -> None:
        name = " ".join(self.entry.text().split())
        if name:
            self.chosen.emit(name)

    def _key(self, choice: Choice) -> BlockKey:
        role = Role.PRIMARY if choice.main else Role.PLAIN
        text = "" if choice.icon else choice.text
        key = BlockKey(
            self._theme,
            text,
            caption=choice.caption,
            icon=choice.icon,
            role=role,
            size=choice.size,
        )
        if choice.icon:
            key.setAccessibleName(choice.text)
        key.setEnabled(choice.enabled)
        key.setMinimumHeight(self._theme.tokens.target.block)
        key.clicked.connect(lambda: self.chosen.emit(choice.key))
        return key

    def _fill(self, choices: Sequence[Choice], columns: int) -> None:
        for key in self.keys:
            self._grid.removeWidget(key)
            key.hide()
            key.deleteLater()
        self.keys = []
        for number, choice in enumerate(choices):
            key = self._key(choice)
            self._grid.addWidget(key, number // columns, number % columns)
            self.keys.append(key)
        for column in range(4):
            self._grid.setColumnStretch(column, 1 if column < columns else 0)
        rows = -(-len(choices) // columns)
        for row in range(self._grid.rowCount() + 1):
            self._grid.setRowStretch(row, 1 if row == rows else 0)
