"""The tub's right side: the blend that is being put together."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QSizePolicy, QWidget

from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.tub.blend_state import BlendState
from gambrel.ui.tub.rows import RowList
from gambrel.ui.tub.trim_state import RowText
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import Card, label
from gambrel.ui.widgets.figure import Figure
from gambrel.ui.widgets.scroll import scrolled

RECIPES, EXTRAS, TARGET, LAW, PRODUCT, SAVE = (
    "recipes",
    "ingredients",
    "target",
    "law",
    "product",
    "save",
)
"""The panels that may stand in place of the blend."""


class BlendCard(Card):
    """Shows a `BlendState`; ``panel_wanted`` asks for one of the panels."""

    panel_wanted = Signal(str)
    line_tapped = Signal(str)
    start_wanted = Signal()
    undo_wanted = Signal()
    clear_wanted = Signal()
    recipe_tapped = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__(theme)
        self.title = ActionButton(theme, least=56, size=20)
        self.undo = ActionButton(theme, icon="undo-2", role=Role.QUIET)
        self.undo.setAccessibleName(self.tr("Undo the last change of the blend"))
        self.undo.setToolTip(self.tr("Undo (Ctrl+Z)"))
        self.clear = ActionButton(theme, self.tr("Clear"), role=Role.QUIET)
        names = {
            RECIPES: self.tr("Recipes"),
            EXTRAS: self.tr("Ingredients"),
            TARGET: self.tr("Lean target"),
            LAW: self.tr("Limits"),
        }
        self.acts = {
            key: ActionButton(theme, name, size=17, least=48) for key, name in names.items()
        }
        self.lines = RowList(theme, self.tr("What goes into the blend"))
        self.ready = RowList(theme, self.tr("Recipes to lay out"))
        self.nothing = label(role="soft", wrap=True)
        self.kilos = Figure(theme, self.tr("weighs"), "kg", size=30)
        self.lean = Figure(theme, self.tr("lean"), size=30)
        self.cost = Figure(theme, self.tr("cost so far"), self.tr("a kilo"), size=30, right=True)
        self.allergens = label(wrap=True)
        self.allergens.setProperty("role", "strong")
        self.cautions = label(role="soft", wrap=True)
        self.start = ActionButton(theme, role=Role.PRIMARY, least=56, size=22)
        self._lay_out(theme.tokens.space.small)
        self._connect()

    def _lay_out(self, gap: int) -> None:
        head = QHBoxLayout()
        self.title.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        head.addWidget(self.title, 1)
        for each in (self.clear, self.undo):
            each.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
            head.addWidget(each)
        acts = QHBoxLayout()
        acts.setSpacing(gap)
        for button in self.acts.values():
            button.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
            acts.addWidget(button, 1)
        figures = QHBoxLayout()
        for figure in (self.kilos, self.lean, self.cost):
            figures.addWidget(figure, 1)
        holder = QWidget()
        inner = QGridLayout(holder)
        inner.setContentsMargins(0, 0, 0, 0)
        inner.addWidget(self.nothing, 0, 0)
        inner.addWidget(self.lines, 1, 0)
        inner.addWidget(self.ready, 2, 0)
        inner.setRowStretch(2, 1)
        self.box.addLayout(head)
        self.box.addLayout(acts)
        self.box.addWidget(scrolled(holder), 1)
        self.box.addLayout(figures)
        self.box.addWidget(self.allergens)
        self.box.addWidget(self.cautions)
        self.box.addWidget(self.start)

    def _connect(self) -> None:
        for key, button in self.acts.items():
            button.clicked.connect(lambda _=False, key=key: self.panel_wanted.emit(key))
        self.title.clicked.connect(lambda: self.panel_wanted.emit(PRODUCT))
        self.lines.tapped.connect(self.line_tapped)
        self.ready.tapped.connect(self.recipe_tapped)
        self.start.clicked.connect(self.start_wanted)
        self.undo.clicked.connect(self.undo_wanted)
        self.clear.clicked.connect(self.clear_wanted)

    def show_state(
        self, state: BlendState, ready: Sequence[RowText] = (), *, can_undo: bool
    ) -> None:
        """Show what is in the blend; while nothing is, the recipes that are ``ready``."""
        makes = state.product or self.tr("tap to choose")
        self.title.say(state.title, self.tr("makes: {0}").format(makes))
        self.lines.show_rows(state.lines)
        self.lines.setVisible(bool(state.lines))
        self.ready.show_rows(ready)
        self.ready.setVisible(bool(ready))
        self.nothing.setVisible(state.empty)
        self.nothing.setText(
            self.tr("Tap a recipe: it takes what stands free now. Or tap trim at the left.")
            if ready
            else self.tr("Tap a class of trim at the left, or save a recipe of what is blended.")
        )
        for figure in (self.kilos, self.lean, self.cost):
            figure.setVisible(not state.empty)
        self.kilos.show_value(state.kilos)
        meaning = Meaning(state.lean_mark) if state.lean_mark else None
        self.lean.show_value(state.lean, caption=state.lean_caption, meaning=meaning)
        self.cost.show_value(state.cost)
        self.allergens.setText(
            self.tr("Contains {0}").format(state.allergens) if state.allergens else ""
        )
        self.allergens.setVisible(bool(state.allergens))
        self.cautions.setText(state.cautions)
        self.cautions.setVisible(bool(state.cautions))
        self.start.say(state.act)
        self.start.setEnabled(state.can_start)
        self.clear.setEnabled(not state.empty)
        self.undo.setEnabled(can_undo)
