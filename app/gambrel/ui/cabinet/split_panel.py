"""A piece that is split onto trays: each tray is weighed, by the keypad or by the scale."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from gambrel.domain.numbers.mass import kg_text, parse_kg
from gambrel.domain.prices.splitting import with_tray
from gambrel.domain.refusals import Refusal
from gambrel.ui.theme import Theme
from gambrel.ui.widgets.button import ActionButton, Role
from gambrel.ui.widgets.card import label
from gambrel.ui.widgets.keypad import Keypad


class SplitPanel(QWidget):
    """Tells the trays whenever they change, and that somebody is done."""

    changed = Signal(str, tuple)
    """The piece's key, and the net grams of its trays."""
    done = Signal()
    weight_wished = Signal()
    """Somebody wants the weight that the scale shows."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._key, self._left_g = "", 0
        self.trays: tuple[int, ...] = ()
        self.title = label("", "strong", wrap=True)
        self.said = label("", "soft", wrap=True)
        self.add_button = ActionButton(theme, self.tr("Add tray"), role=Role.PRIMARY, size=18)
        self.scale_button = ActionButton(theme, icon="scale", size=18)
        self.scale_button.setAccessibleName(self.tr("Add a tray of the scale's weight"))
        self.back_button = ActionButton(theme, icon="undo-2", size=18)
        self.back_button.setAccessibleName(self.tr("Take the last tray back"))
        self.done_button = ActionButton(theme, self.tr("Done"), size=18)
        self.keypad = Keypad(theme, longest=2, least=theme.tokens.target.elsewhere)
        self.keypad.text_changed.connect(lambda _text: self._show())
        self.add_button.clicked.connect(self._add_typed)
        self.scale_button.clicked.connect(self.weight_wished)
        self.back_button.clicked.connect(self._take_back)
        self.done_button.clicked.connect(self.done)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._lay_out(theme)

    def _lay_out(self, theme: Theme) -> None:
        space = theme.tokens.space
        acts = QHBoxLayout()
        acts.setSpacing(space.small)
        acts.addWidget(self.add_button, 1)
        for button in (self.scale_button, self.back_button, self.done_button):
            acts.addWidget(button)
        for button in (self.add_button, self.scale_button, self.back_button, self.done_button):
            button.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(space.small)
        box.addWidget(self.title)
        box.addWidget(self.said)
        box.addWidget(self.keypad, 1)
        box.addLayout(acts)

    def show_piece(self, key: str, name: str, left_g: int, trays: tuple[int, ...]) -> None:
        """Begin with a piece and the trays that it has already."""
        self._key, self._left_g, self.trays = key, left_g, trays
        self.title.setText(name)
        self.setAccessibleName(self.tr("Trays of {0}").format(name))
        self.keypad.clear()
        self._show()
        self.setFocus()

    def show_scale(self, *, ready: bool) -> None:
        """Whether the scale has a weight that can be taken."""
        self.scale_button.setEnabled(ready)

    def add(self, grams: int) -> None:
        """Put so much on one more tray, or say why not."""
        try:
            self.trays = with_tray(self.trays, grams, self._left_g)
        except Refusal as refusal:
            self.said.setText(str(refusal))
            return
        self.keypad.clear()
        self._tell()

    def _add_typed(self) -> None:
        text = self.keypad.text.rstrip(".")
        self.add(parse_kg(text) if text else 0)

    def _take_back(self) -> None:
        self.trays = self.trays[:-1]
        self._tell()

    def _tell(self) -> None:
        self._show()
        self.changed.emit(self._key, self.trays)

    def _show(self) -> None:
        rest = kg_text(self._left_g - sum(self.trays))
        words = " + ".join(kg_text(grams) for grams in self.trays)
        left = self.tr("{0} kg left").format(rest)
        if not self.trays:
            left += self.tr(". Take the empty tray off first (tare).")
        self.said.setText(" · ".join(part for part in (words, left) if part))
        typed = self.keypad.text
        self.add_button.say(self.tr("Add {0} kg").format(typed) if typed else self.tr("Add tray"))
        self.back_button.setEnabled(bool(self.trays))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._add_typed()
        elif event.key() == Qt.Key.Key_Escape:
            self.done.emit()
        elif not self.keypad.handle_key(event):
            super().keyPressEvent(event)
