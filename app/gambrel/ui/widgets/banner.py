"""A sentence in place: what was refused, what is doubtful, what was done. Never a dialog."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QVBoxLayout, QWidget

from gambrel.ui.icons import paint_icon
from gambrel.ui.theme import MEANING_ICONS, Meaning, Theme
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.painting import box


class Banner(QWidget):
    """Shows a meaning by mark, word and colour, and a sentence; hidden while it has none.

    ``acted`` is emitted by its one action ("Weigh in anyway"), ``dismissed`` by its cross, which
    is left out where what is said goes away by itself.
    """

    acted = Signal()
    dismissed = Signal()

    def __init__(self, theme: Theme, *, closable: bool = True) -> None:
        super().__init__()
        self._theme = theme
        self._meaning = Meaning.INFO
        self._word, self._sentence = QLabel(), QLabel()
        self._word.setProperty("role", "strong")
        self._sentence.setWordWrap(True)
        self._sentence.setTextFormat(Qt.TextFormat.PlainText)
        self.action = ActionButton(theme)
        self.close_button = ActionButton(theme, icon="x", role=Role.QUIET)
        self.close_button.setAccessibleName(self.tr("Close this message"))
        self.action.clicked.connect(self.acted)
        self.close_button.clicked.connect(self._dismiss)
        if not closable:  # showing it before it has a parent would open a window
            self.close_button.hide()
        words = QVBoxLayout()
        words.setSpacing(0)
        words.addWidget(self._word)
        words.addWidget(self._sentence)
        row = QHBoxLayout(self)
        gap = theme.tokens.space.gap
        row.setContentsMargins(gap + 36, theme.tokens.space.small, gap, theme.tokens.space.small)
        row.addLayout(words, 1)
        row.addWidget(self.action, 0, Qt.AlignmentFlag.AlignVCenter)
        row.addWidget(self.close_button, 0, Qt.AlignmentFlag.AlignVCenter)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        theme.changed.connect(self.update)
        self.hide()

    @property
    def sentence(self) -> str:
        """What is being said; empty while nothing is."""
        return "" if self.isHidden() else self._sentence.text()

    @property
    def meaning(self) -> Meaning:
        """What it means."""
        return self._meaning

    def say(self, meaning: Meaning, sentence: str, *, action: str = "", word: str = "") -> None:
        """Show a sentence, with an action where there is something to do about it.

        Args:
            meaning: Gives the mark, the tint and the word where ``word`` is empty.
            sentence: What is wrong and what to do next, as a `Refusal` has it.
            action: What its button says; empty for no button.
            word: For example "Refused" or "Are you sure?".
        """
        self._meaning = meaning
        self._word.setText(word or self._word_of(meaning))
        self._sentence.setText(sentence)
        self.action.say(action)
        self.action.setVisible(bool(action))
        self.setAccessibleName(f"{self._word.text()}: {sentence}")
        self.show()
        self.update()

    def clear(self) -> None:
        """Say nothing any more."""
        self._sentence.clear()
        self.hide()

    def _dismiss(self) -> None:
        self.clear()
        self.dismissed.emit()

    def _word_of(self, meaning: Meaning) -> str:
        words = {
            Meaning.FINE: self.tr("Done"),
            Meaning.WATCH: self.tr("Look again"),
            Meaning.STOP: self.tr("Not possible"),
            Meaning.INFO: self.tr("Note"),
        }
        return words[meaning]

    def minimumSizeHint(self) -> QSize:
        hint = super().minimumSizeHint()
        return QSize(200, max(hint.height(), self._theme.tokens.target.elsewhere + 16))

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        own = self._theme.colour(self._meaning.value)
        tint = self._theme.colour(f"{self._meaning.value}_tint")
        box(painter, QRectF(self.rect()), tint, own, 2, self._theme.tokens.radius.card)
        place = QRectF(self._theme.tokens.space.gap, self.height() / 2 - 13, 26, 26)
        paint_icon(painter, MEANING_ICONS[self._meaning], place, own)
        painter.end()
