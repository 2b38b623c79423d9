"""The main window: its top line, the places, and what the whole program has to say."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QSize, QTimer, Signal
from PySide6.QtGui import QCloseEvent, QKeySequence, QPaintEvent, QShortcut
from PySide6.QtWidgets import QStackedWidget, QVBoxLayout, QWidget

from gambrel.domain.refusals import Refusal
from gambrel.ui.context import Context
from gambrel.ui.nav_bar import NavBar
from gambrel.ui.place import Place
from gambrel.ui.theme import Meaning, Theme
from gambrel.ui.widgets.banner import Banner
from gambrel.ui.widgets.card import label

PROGRAM = "Gambrel"
LEAST = QSize(940, 440)
"""Room for a place on a screen of 1024 × 600, its frame and its task bar taken off."""


@dataclass(frozen=True)
class PlaceEntry:
    """A place that the window offers; ``make`` is called when it is shown for the first time.

    ``aside`` sets it apart from those in the meat's way.
    """

    key: str
    title: str
    icon: str
    make: Callable[[Context], Place]
    aside: bool = False


class Places(QStackedWidget):
    """The places. None of them makes the window taller: wrapped words ask for too much at first."""

    def hasHeightForWidth(self) -> bool:
        return False

    def minimumSizeHint(self) -> QSize:
        return LEAST


class Shell(QWidget):
    """The window. It is shown before the book is open; `show_book` then fills it."""

    painted = Signal()
    """Once, when the window has been painted for the first time."""
    closing = Signal()
    dark_chosen = Signal(bool)
    """The person has chosen dark (True) or light, so that it can be kept."""
    place_shown = Signal(str)
    """The key of the place that has come up, so that a sudden stop comes back to it."""

    def __init__(self, theme: Theme, entries: Sequence[PlaceEntry]) -> None:
        super().__init__()
        self.theme = theme
        self._entries = {entry.key: entry for entry in entries}
        self._places: dict[str, Place] = {}
        self._context: Context | None = None
        self._current = ""
        self._empty: QWidget | None = None
        self._painted = False
        self.bar = NavBar(
            theme,
            [(entry.key, entry.title, entry.icon) for entry in entries],
            [entry.key for entry in entries if entry.aside],
        )
        self.bar.chosen.connect(self.go)
        self.bar.dark_toggled.connect(self.toggle_dark)
        self.banner = Banner(theme)
        self._stack = Places()
        self._wait = label(self.tr("Opening the book …"), "soft")
        self._wait.setMargin(theme.tokens.space.wide)
        self._stack.addWidget(self._wait)
        self.setWindowTitle(PROGRAM)
        self._lay_out()
        self._add_shortcuts([entry.key for entry in entries])
        self.bar.setEnabled(False)

    def _lay_out(self) -> None:
        gap = self.theme.tokens.space.gap
        self._margin = QVBoxLayout()
        self._margin.setContentsMargins(gap, 0, gap, 0)
        self._margin.addWidget(self.banner)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        box.addWidget(self.bar)
        box.addLayout(self._margin)
        box.addWidget(self._stack, 1)

    def _add_shortcuts(self, keys: list[str]) -> None:
        for number, key in enumerate(keys, start=1):
            shortcut = QShortcut(QKeySequence(f"Ctrl+{number}"), self)
            shortcut.activated.connect(lambda key=key: self.go(key))
        QShortcut(QKeySequence("Ctrl+D"), self).activated.connect(self.toggle_dark)

    @property
    def current(self) -> str:
        """The key of the place that is shown; empty before the book is open."""
        return self._current

    def place(self, key: str) -> Place:
        """A place, made now if it has not been shown yet.

        Raises:
            KeyError: The window has no such place, or no book is open.
        """
        if self._context is None:
            raise KeyError(key)
        if key not in self._places:
            made = self._entries[key].make(self._context)
            made.go.connect(self.go)
            made.window_wished.connect(self._fold)
            self._places[key] = made
            self._stack.addWidget(made)
        return self._places[key]

    def show_book(self, context: Context, shop_name: str, first: str = "") -> None:
        """Fill the window from an open book; show one place, or the first where it is unknown."""
        self._context = context
        self.bar.shop.setText(shop_name)
        self.bar.setEnabled(True)
        context.changes.changed.connect(lambda _kinds: self._refresh())
        self.go(first if first in self._entries else next(iter(self._entries)))
        self._let_go_of_empty()

    def name_shop(self, name: str) -> None:
        """Show another name of the shop."""
        self.bar.shop.setText(name)
        self._name_window()

    def forget_places(self) -> None:
        """Let go of every place but the one that is shown; it is made anew when it is wanted."""
        for key in [key for key in self._places if key != self._current]:
            gone = self._places.pop(key)
            self._stack.removeWidget(gone)
            gone.deleteLater()

    def show_empty(self, page: QWidget) -> None:
        """Show a page in place of the places: no book, or a book without a shop."""
        self._let_go_of_empty()
        self._empty = page
        self._stack.addWidget(page)
        self._stack.setCurrentWidget(page)
        page.setFocus()

    def _let_go_of_empty(self) -> None:
        old, self._empty = self._empty, None
        if old is not None:
            self._stack.removeWidget(old)
            old.deleteLater()

    def go(self, key: str, item: str = "") -> None:
        """Show a place, and open one thing in it; an unknown place or no book changes nothing."""
        if key not in self._entries or self._context is None:
            return
        place = self.place(key)
        self._current = key
        self.bar.show_chosen(key)
        self._fold()
        self._stack.setCurrentWidget(place)
        self._name_window()
        self._refresh()
        if item:
            place.open_item(item)
        place.setFocus()
        self.place_shown.emit(key)

    def _name_window(self) -> None:
        place = self._places[self._current].title if self._current else ""
        shop = self.bar.shop.text()
        self.setWindowTitle(" · ".join(part for part in (place, shop, PROGRAM) if part))

    def _fold(self) -> None:
        """Fold the bar away where the place that is shown has its own top line."""
        if self._current:
            self.bar.setVisible(not self._places[self._current].whole_window)

    def _refresh(self) -> None:
        if not self._current:
            return
        try:
            self._places[self._current].refresh()
        except Refusal as refusal:
            self.refuse(str(refusal))

    def refuse(self, sentence: str) -> None:
        """Say what was refused, across the whole window, until it is closed."""
        self.banner.say(Meaning.STOP, sentence)

    def toggle_dark(self) -> None:
        """Change between light and dark."""
        self.theme.set_dark(not self.theme.is_dark)
        self.dark_chosen.emit(self.theme.is_dark)

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if not self._painted:
            self._painted = True
            # What stands in the window is painted in the same turn; the next one is free.
            QTimer.singleShot(0, self.painted.emit)

    def closeEvent(self, event: QCloseEvent) -> None:
        self.closing.emit()
        super().closeEvent(event)
