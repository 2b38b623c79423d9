"""The panel that solves prices for a whole body: proposed beside today's, taken in one act."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from gambrel.ui.cabinet.state import SolveState
from gambrel.ui.cabinet.stepper import Stepper
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import label
from gambrel.ui.widgets.scroll import scrolled

LEAST_PERCENT, MOST_PERCENT = 5, 80


class SolvePanel(QWidget):
    """Shows a `SolveState`; ``held`` tells the cut to be held at today's price, or freed."""

    choice_changed = Signal()
    held = Signal(str)
    wished = Signal()
    undone = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self.body = Stepper(theme, self.tr("What has to earn it"))
        self.target = Stepper(theme, self.tr("Margin wanted"))
        self.endings = Stepper(theme, self.tr("Prices are written"))
        self.target.show_options(
            [f"{n} %" for n in range(LEAST_PERCENT, MOST_PERCENT + 1)], 0
        )  # fmt: skip
        for stepper in (self.target, self.endings):
            stepper.chosen.connect(self.choice_changed)
        self.summary = label("", "strong", wrap=True)
        self.hint = label(self.tr("Tap a cut to hold it at today's price."), "soft", wrap=True)
        self.doubt = Banner(theme)
        self.doubt.close_button.hide()
        self.rows: dict[str, ActionButton] = {}
        self._list = QWidget()
        self._rows_box = QVBoxLayout(self._list)
        self._rows_box.setContentsMargins(0, 0, 0, 0)
        self._rows_box.setSpacing(theme.tokens.space.tight)
        self.take_button = ActionButton(theme, self.tr("Take"), role=Role.PRIMARY)
        self.undo_button = ActionButton(theme, self.tr("Undo"), icon="undo-2")
        self.take_button.clicked.connect(self.wished)
        self.undo_button.clicked.connect(self.undone)
        self._lay_out()

    def _lay_out(self) -> None:
        space = self._theme.tokens.space
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Expanding)
        content = QWidget()
        inner = QVBoxLayout(content)
        inner.setContentsMargins(0, 0, 0, 0)
        inner.setSpacing(space.small)
        for widget in (self.body, self.target, self.endings, self.summary, self.doubt, self.hint):
            inner.addWidget(widget)
        inner.addWidget(self._list)
        inner.addStretch(1)
        buttons = QHBoxLayout()
        buttons.setSpacing(space.small)
        buttons.addWidget(self.undo_button, 2)
        buttons.addWidget(self.take_button, 3)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(space.small)
        box.addWidget(scrolled(content), 1)
        box.addLayout(buttons)

    @property
    def percent(self) -> int:
        """The margin wanted, in per cent."""
        return self.target.index + LEAST_PERCENT

    def set_percent(self, percent: int) -> None:
        """Want another margin."""
        texts = [f"{n} %" for n in range(LEAST_PERCENT, MOST_PERCENT + 1)]
        self.target.show_options(texts, percent - LEAST_PERCENT)

    def show_state(self, state: SolveState) -> None:
        """Show a proposal."""
        self.summary.setText(state.summary)
        keys = [row.key for row in state.rows]
        if keys != list(self.rows):
            self._make_rows(keys)
        for row in state.rows:
            button = self.rows[row.key]
            button.say(row.name, row.caption)
            button.setChecked(row.held)
        self.hint.setVisible(bool(keys))
        self.take_button.say(self.tr("Take {0} prices").format(state.changes))
        self.take_button.setEnabled(state.changes > 0)
        if state.doubt:
            self.doubt.say(Meaning.WATCH, state.doubt)
        else:
            self.doubt.clear()

    def _make_rows(self, keys: list[str]) -> None:
        for old in self.rows.values():
            self._rows_box.removeWidget(old)
            old.hide()
            old.deleteLater()
        self.rows = {}
        for key in keys:
            button = ActionButton(self._theme, size=18)
            button.setCheckable(True)
            button.setFixedHeight(60)
            button.clicked.connect(lambda _=False, key=key: self.held.emit(key))
            self.rows[key] = button
            self._rows_box.addWidget(button)

    def show_refusal(self, sentence: str) -> None:
        """Say why there is no proposal."""
        self.show_state(SolveState("", (), "", 0))
        self.doubt.say(Meaning.STOP, sentence)

    def show_undo(self, what: str) -> None:
        """Offer to take the last act back; empty for nothing to take back."""
        self.undo_button.say(self.tr("Undo"), what)
        self.undo_button.setEnabled(bool(what))
