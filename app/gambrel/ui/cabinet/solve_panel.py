"""The panel that solves a whole set of prices: proposed beside today's, taken whole or by line."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from gambrel.ui.cabinet.keypad_panel import LOW
from gambrel.ui.cabinet.solve_row import SolveRow
from gambrel.ui.cabinet.solve_state import KINDS, NOTHING_SOLVED, SolveState
from gambrel.ui.cabinet.stepper import Stepper
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import label
from gambrel.ui.widgets.scroll import scrolled

LEAST_PERCENT, MOST_PERCENT = 5, 80
PERCENTS = [f"{n} %" for n in range(LEAST_PERCENT, MOST_PERCENT + 1)]


class SolvePanel(QWidget):
    """Shows a `SolveState`; tells choices, lines that are left out or let in, and a cut to bound.

    ``kind_wished`` tells the kind of what has to earn the margin (see `KINDS`). On a low screen
    what was chosen folds into one button as long as there is a proposal to be seen.
    """

    choice_changed = Signal()
    kind_wished = Signal(str)
    ticked = Signal(str)
    opened = Signal(str)
    wished = Signal()
    undone = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self.fold_button = ActionButton(theme, size=18)
        self.fold_button.setCheckable(True)
        self.fold_button.clicked.connect(self.make_room)
        self.settings = QWidget()
        self.kinds: dict[str, ActionButton] = {}
        self.body = Stepper(theme, self.tr("What has to earn it"))
        self.target = Stepper(theme, self.tr("Margin wanted"))
        self.endings = Stepper(theme, self.tr("Prices are written"))
        self.target.show_options(PERCENTS, 0)
        for stepper in (self.target, self.endings):
            stepper.chosen.connect(self.choice_changed)
        self.summary = label("", "strong", wrap=True)
        hint = self.tr("Tap a cut to hold it, or to give it a floor or a ceiling.")
        self.hint = label(hint, "soft", wrap=True)
        self.doubt = Banner(theme, closable=False)
        self.rows: dict[str, SolveRow] = {}
        self._list = QWidget()
        self._rows_box = QVBoxLayout(self._list)
        self._rows_box.setContentsMargins(0, 0, 0, 0)
        self._rows_box.setSpacing(theme.tokens.space.tight)
        self.take_button = ActionButton(theme, self.tr("Take"), role=Role.PRIMARY, size=18)
        self.undo_button = ActionButton(theme, self.tr("Undo"), icon="undo-2", size=18)
        self.take_button.clicked.connect(self.wished)
        self.undo_button.clicked.connect(self.undone)
        self._lay_out()

    def _kinds(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(self._theme.tokens.space.small)
        group = QButtonGroup(self)
        for key, name in KINDS.items():
            button = ActionButton(self._theme, self.tr(name), size=18)
            button.setCheckable(True)
            button.clicked.connect(lambda _=False, key=key: self.kind_wished.emit(key))
            group.addButton(button)
            self.kinds[key] = button
            row.addWidget(button, 1)
        return row

    def _lay_out(self) -> None:
        space = self._theme.tokens.space
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Expanding)
        content = QWidget()
        inner = QVBoxLayout(content)
        inner.setContentsMargins(0, 0, 0, 0)
        inner.setSpacing(space.small)
        self._lay_out_settings()
        for widget in (self.settings, self.summary, self.doubt, self.hint):
            inner.addWidget(widget)
        inner.addWidget(self._list)
        inner.addStretch(1)
        buttons = QHBoxLayout()
        buttons.setSpacing(space.small)
        buttons.addWidget(self.undo_button, 2)
        buttons.addWidget(self.take_button, 3)
        for button in (self.undo_button, self.take_button):
            button.setMinimumHeight(52)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(space.small)
        box.addWidget(self.fold_button)
        box.addWidget(scrolled(content), 1)
        box.addLayout(buttons)
        self.make_room()

    def _lay_out_settings(self) -> None:
        box = QVBoxLayout(self.settings)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(self._theme.tokens.space.small)
        box.addLayout(self._kinds())
        for stepper in (self.body, self.target, self.endings):
            box.addWidget(stepper)

    def make_room(self) -> None:
        """On a low screen show a proposal or, where the button asks for it, what it is for."""
        low = self.height() < LOW and bool(self.rows)
        is_open = not low or self.fold_button.isChecked()
        self.fold_button.setVisible(low)
        self.settings.setVisible(is_open)
        self.hint.setVisible(is_open and bool(self.rows))
        chosen = (self.body.shown, self.target.shown, self.endings.shown)
        words = self.tr("To the proposal") if is_open else " · ".join(chosen)
        self.fold_button.say(words, icon="chevron-up" if is_open else "chevron-down")
        told = self.tr("Chosen: {0}. Choose otherwise").format(", ".join(chosen))
        self.fold_button.setAccessibleName(words if is_open else told)

    @property
    def percent(self) -> int:
        """The margin wanted, in per cent."""
        return self.target.index + LEAST_PERCENT

    def set_percent(self, percent: int) -> None:
        """Want another margin."""
        self.target.show_options(PERCENTS, percent - LEAST_PERCENT)

    def show_state(self, state: SolveState) -> None:
        """Show a proposal."""
        self.summary.setText(state.summary)
        self.summary.setVisible(bool(state.summary))
        keys = [row.key for row in state.rows]
        if keys != list(self.rows):
            self._make_rows(keys)
        for row in state.rows:
            self.rows[row.key].show_row(row)
        some = self.tr("Take 1 price") if state.changes == 1 else self.tr("Take {0} prices")
        self.take_button.say(some.format(state.changes))
        self.take_button.setEnabled(state.changes > 0)
        if state.doubt:
            self.doubt.say(Meaning.WATCH, state.doubt)
        else:
            self.doubt.clear()
        self.make_room()

    def _make_rows(self, keys: list[str]) -> None:
        for old in self.rows.values():
            self._rows_box.removeWidget(old)
            old.hide()
            old.deleteLater()
        self.rows = {}
        for key in keys:
            row = SolveRow(self._theme)
            row.ticked.connect(lambda key=key: self.ticked.emit(key))
            row.opened.connect(lambda key=key: self.opened.emit(key))
            self.rows[key] = row
            self._rows_box.addWidget(row)

    def show_refusal(self, sentence: str) -> None:
        """Say why there is no proposal."""
        self.show_state(NOTHING_SOLVED)
        self.doubt.say(Meaning.STOP, sentence)

    def show_undo(self, what: str) -> None:
        """Offer to take the last act back; empty for nothing to take back."""
        self.undo_button.say(self.tr("Undo"), what)
        self.undo_button.setEnabled(bool(what))

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.make_room()
