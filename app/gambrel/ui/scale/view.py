"""The scale's page: what it sends beside what is understood, and the form that says how."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QStackedWidget, QVBoxLayout, QWidget

from gambrel.ui.scale.form import ScaleForm
from gambrel.ui.scale.lines_view import LinesView
from gambrel.ui.scale.state import VERIFIED, FormState, HeardState, LiveState
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import Card, label
from gambrel.ui.widgets.chip import Chip
from gambrel.ui.widgets.empty import IconMark
from gambrel.ui.widgets.figure import Figure
from gambrel.ui.widgets.scroll import scrolled
from gambrel.ui.widgets.sentences import Sentences

FORM = 460
NARROW_FORM = 400
NARROW = 1200
BIG = 56
STEPS = (
    "Connect the scale to this station and switch it on.",
    "Choose at the right how it speaks: on a serial port, or like a keyboard.",
    "Put something on it. What it sends and what is understood stand here.",
    "Keep it when the weight here is the weight on the scale.",
)
"""What to do where no scale is set up."""


class ScaleView(QWidget):
    """Shows a `LiveState`, a `HeardState` and a `FormState`."""

    keep_wanted = Signal()
    leave_wanted = Signal()
    ask_wanted = Signal()

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.figure = Figure(theme, self.tr("The scale shows"), "kg", size=BIG)
        self.chip = Chip(theme)
        self.about = label(role="soft")
        self.sentence = label(wrap=True)
        self.ask = ActionButton(theme, self.tr("Ask the scale now"), icon="refresh-cw")
        self.counts = label(role="soft", wrap=True)
        self.stream = label()
        self.lines = LinesView(theme)
        self.form = ScaleForm(theme)
        self.told = label(role="soft", wrap=True)
        self.problem = Banner(theme, closable=False)
        self.keep = ActionButton(theme, self.tr("Keep"), role=Role.PRIMARY, least=64)
        self.leave = ActionButton(theme, self.tr("Put back"), icon="undo-2", least=64)
        self.ask.clicked.connect(self.ask_wanted)
        self.keep.clicked.connect(self.keep_wanted)
        self.leave.clicked.connect(self.leave_wanted)
        self._side = self._make_side(theme)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(theme.tokens.space.gap)
        self.empty = self._make_empty(theme)
        self.pages = QStackedWidget()
        self.pages.addWidget(self._make_test(theme))
        self.pages.addWidget(self.empty)
        row.addWidget(self.pages, 1)
        row.addWidget(self._side)

    def _make_test(self, theme: Theme) -> QWidget:
        card = Card(theme)
        head = QHBoxLayout()
        head.addWidget(self.figure, 1)
        beside = QVBoxLayout()
        beside.addStretch(1)
        beside.addWidget(self.chip)
        beside.addWidget(self.about)
        beside.addStretch(1)
        head.addLayout(beside)
        head.addWidget(self.ask)
        self.ask.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.stream.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.stream.setAccessibleName(self.tr("The last bytes"))
        card.box.addLayout(head)
        card.box.addWidget(self.sentence)
        card.box.addWidget(label(self.tr("What it sends, and what is understood"), "label"))
        card.box.addWidget(self.counts)
        card.box.addWidget(self.stream)
        card.box.addWidget(self.lines, 1)
        card.box.addWidget(label(VERIFIED, "soft", wrap=True))
        return card

    def _make_empty(self, theme: Theme) -> QWidget:
        """What stands at the left while no scale is chosen: the next steps."""
        empty = Card(theme)
        steps = Sentences(theme)
        steps.show_sentences([f"{number}. {step}" for number, step in enumerate(STEPS, start=1)])
        empty.box.addWidget(IconMark(theme, "scale", 56))
        empty.box.addWidget(label(self.tr("No scale is set up: weights are typed."), "label"))
        empty.box.addWidget(steps)
        empty.box.addStretch(1)
        empty.box.addWidget(label(VERIFIED, "soft", wrap=True))
        return empty

    def _make_side(self, theme: Theme) -> QWidget:
        side = QWidget()
        acts = QHBoxLayout()
        acts.addWidget(self.leave)
        acts.addWidget(self.keep, 1)
        box = QVBoxLayout(side)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(theme.tokens.space.small)
        box.addWidget(scrolled(self.form), 1)
        box.addWidget(self.problem)
        box.addWidget(self.told)
        box.addLayout(acts)
        return side

    def show_live(self, state: LiveState) -> None:
        """Show the weight, or why there is none."""
        self.figure.show_value(state.figure)
        self.chip.show_text(Meaning(state.meaning), state.word)
        self.about.setText(state.about)
        self.about.setVisible(bool(state.about))
        self.sentence.setText(state.sentence)
        self.ask.setVisible(state.can_ask)

    def show_heard(self, state: HeardState) -> None:
        """Show what came down the line."""
        self.counts.setText(state.counts)
        self.stream.setText(self._tail(state.stream))
        self.lines.show_lines(state.lines)

    def _tail(self, stream: str) -> str:
        """As much of the end as fits; a label would show the beginning."""
        metrics, room = self.stream.fontMetrics(), self.stream.width() or 300
        while stream and metrics.horizontalAdvance(stream) > room:
            stream = stream[max(len(stream) // 20, 1) :]
        begun, end, rest = stream.partition("›")
        return rest if end and "‹" not in begun else stream  # never half a name

    def show_form(self, state: FormState) -> None:
        """Show the form, and whether it is kept."""
        self.form.show_state(state)
        self.pages.setCurrentIndex(0 if state.any_scale else 1)
        if state.problem:
            self.problem.say(Meaning.WATCH, state.problem)
        else:
            self.problem.clear()
        self.told.setText(state.told)
        self.told.setVisible(bool(state.told))
        self.keep.setEnabled(state.can_keep)
        self.leave.setVisible(state.can_leave)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._side.setFixedWidth(FORM if self.width() >= NARROW else NARROW_FORM)
