"""What the shell asks of a place: the Rail, the Block, the Cabinet, the Week.

How a place is made (house rule): ``ui/<place>/state.py`` holds frozen dataclasses of texts and
flags and a pure ``describe(...)`` that makes them; it imports no Qt. A *view* shows a state
(``show_state``) and reports wishes as signals; it decides nothing. A *presenter* in the place
itself calls the services with the view's wishes and hands back the next state. Services raise
`Refusal`; the place shows its sentence in place (`gambrel.ui.widgets.Banner`), never a dialog.
"""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget


class Place(QWidget):
    """A screen that the shell can show.

    A subclass is made with the `Context` as its only argument.
    """

    title = ""
    """What the window's title and the navigation call it."""

    whole_window = False
    """True where the place has its own top line and the shell folds its bar away."""

    go = Signal(str, str)
    """A wish to go elsewhere: the place's key ("block"), and what to open there, if anything."""

    window_wished = Signal()
    """Tells that `whole_window` has changed, so that the shell folds its bar away or back."""

    def refresh(self) -> None:
        """Read again what is shown; called when the place comes up and when the book changed."""

    def open_item(self, key: str) -> None:
        """Open one thing, for example the body with this key; the default ignores it."""
