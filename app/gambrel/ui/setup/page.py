"""How a section is laid out, and how its acts are done, told in place, and taken back."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtGui import QHideEvent, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from gambrel.domain.refusals import Refusal
from gambrel.ui.context import Context
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.card import Card, label
from gambrel.ui.widgets.empty import IconMark
from gambrel.ui.widgets.scroll import scrolled

SIDE = 380
MARK = 64
ABOVE, BELOW = 2, 3
"""Shares of the room over and under a mark in the middle."""
KEY, TALLEST = 46, 84
"""A key's least and greatest height; it grows with the room."""


class SectionPage(QWidget):
    """What is set up at the left, which scrolls; at the right the one that is chosen."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.told = Banner(theme)
        self.left = QVBoxLayout()
        self.left.setSpacing(theme.tokens.space.small)
        self.left.addWidget(self.told)
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(theme.tokens.space.gap)
        self._row.addLayout(self.left, 1)

    def lay_out(self, content: QWidget, side: QWidget, *, wide: int = SIDE) -> None:
        """Put both in their places, once."""
        self.stand_beside(scrolled(content), side, wide=wide)

    def stand_beside(self, content: QWidget, side: QWidget, *, wide: int = SIDE) -> None:
        """The same with content that scrolls by itself."""
        side.setFixedWidth(wide)
        self.left.addWidget(content, 1)
        self._row.addWidget(side)


class SideCard(Card):
    """The chosen thing; while there is none, plain paper with a mark over ``about``, in the middle.

    Who lays it out goes on after ``about``, and ends with a stretch.
    """

    def __init__(self, theme: Theme, icon: str) -> None:
        super().__init__(theme)
        self._mark = IconMark(theme, icon, MARK)
        self._mark.hide()
        self.title = label(role="label", wrap=True)
        self.about = label(role="soft", wrap=True)
        self.box.insertStretch(0, 0)
        self.box.addWidget(self._mark, 0, Qt.AlignmentFlag.AlignHCenter)
        self.box.addWidget(self.title)
        self.box.addWidget(self.about)

    def stand_empty(self, *, empty: bool) -> None:
        """Whether nothing is chosen."""
        self.set_framed(not empty)
        self._mark.setVisible(empty)
        self.box.setStretch(0, ABOVE if empty else 0)
        self.box.setStretch(self.box.count() - 1, BELOW if empty else 1)
        across = Qt.AlignmentFlag.AlignHCenter if empty else Qt.AlignmentFlag.AlignLeft
        self.about.setAlignment(across | Qt.AlignmentFlag.AlignVCenter)


@dataclass(frozen=True, slots=True)
class Done:
    """An act that is in the book: what to say of it, and how to take it back."""

    sentence: str
    undo: Callable[[], object]


class ActingSection(QWidget):
    """Does acts at once; the last one can be taken back in place. Other places hear of ``kind``."""

    kind = ""

    def __init__(self, context: Context) -> None:
        super().__init__()
        self.context = context
        self._told = Banner(context.theme)
        self._undo: Callable[[], object] | None = None
        self._box = QVBoxLayout(self)
        self._box.setContentsMargins(0, 0, 0, 0)

    def show_page(self, page: SectionPage) -> None:
        """Show the section's page, and tell there what is done."""
        self._told = page.told
        self._told.acted.connect(self.undo)
        self._told.dismissed.connect(self._forget)
        self._box.addWidget(page)

    def refresh(self) -> None:
        """Read again what is shown."""
        raise NotImplementedError

    def do(self, act: Callable[[], Done]) -> str:
        """Do an act and tell it; what was refused comes back as a sentence, else an empty text."""
        try:
            done = act()
        except Refusal as refusal:
            return str(refusal)
        self._undo = done.undo
        self._told.say(Meaning.FINE, done.sentence, action=self.tr("Undo"))
        self._changed()
        return ""

    def undo(self) -> None:
        """Take the last act back, once."""
        undo, self._undo = self._undo, None
        if undo is None:
            return
        try:
            undo()
        except Refusal as refusal:
            self._told.say(Meaning.STOP, str(refusal))
        else:
            self._told.say(Meaning.INFO, self.tr("Taken back: it is as it was before."))
        self._changed()

    def _forget(self) -> None:
        self._undo = None

    def _changed(self) -> None:
        self.refresh()
        self.context.changes.tell(self.kind)

    def leave(self) -> None:
        """Forget what was half done, as the section goes out of sight; here there is nothing."""

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        if not event.spontaneous():  # a window that is only minimised keeps all
            self._forget()
            self._told.clear()
            self.leave()

    def handle_key(self, event: QKeyEvent) -> bool:
        """Do what a key means here; False where it means nothing."""
        raise NotImplementedError

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Undo):
            self.undo()
        elif not self.handle_key(event):
            super().keyPressEvent(event)


class KeepingSection(ActingSection):
    """Has something typed that waits: Enter keeps it, Escape forgets it."""

    def keep(self) -> None:
        """Save what was typed."""
        raise NotImplementedError

    def handle_key(self, event: QKeyEvent) -> bool:
        """Enter keeps, Escape forgets what was typed, other keys type."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.keep()
        elif event.key() == Qt.Key.Key_Escape:
            self.leave()
        else:
            return self.type_key(event)
        return True

    def type_key(self, event: QKeyEvent) -> bool:
        """Type a key where there is a keypad; False where there is none."""
        del event
        return False
