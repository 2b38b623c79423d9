"""What every screen is handed: the book, the look, the clock, and a way to tell the others."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from gambrel.ui.tasks import Tasks
from gambrel.ui.theme import Theme

if TYPE_CHECKING:  # loaded after the window has been painted
    from gambrel.devices.scale import ScalePort
    from gambrel.domain.trade.formats import Formats
    from gambrel.services.books import Book


class Changes(QObject):
    """Tells all places what an act has changed, so that they read it again."""

    changed = Signal(frozenset)
    """Names of what changed: "bodies", "reweighs", "stages", "pieces", "prices", "shop", ..."""

    def tell(self, *kinds: str) -> None:
        """Say what has changed, once it is durable."""
        self.changed.emit(frozenset(kinds))


def _no_scale() -> ScalePort:
    from gambrel.devices.scale import ScalePort

    return ScalePort()


@dataclass(eq=False)
class Context:
    """Handed to each place when it is made; there are no globals beside it.

    ``clock`` returns an aware moment in UTC. ``station`` names this screen in the record. ``scale``
    is this station's one scale; see `gambrel.devices.scale` for how a screen uses it. ``formats``
    alone is ever replaced: with the shop's currency, while the book holds no amount. Places that
    were made before are then made anew.
    """

    book: Book
    theme: Theme
    formats: Formats
    clock: Callable[[], datetime]
    tasks: Tasks
    station: str
    changes: Changes = field(default_factory=Changes)
    scale: ScalePort = field(default_factory=_no_scale)
