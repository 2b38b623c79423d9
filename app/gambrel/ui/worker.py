"""Slow work off the window's thread that tells how far it is, and can be stopped."""

from __future__ import annotations

from threading import Event

from PySide6.QtCore import QObject, QTimer, Signal

from gambrel.ui.context import Context

LOOK_MS = 60
"""How often the window looks how far a work is."""


class Stopper:
    """Keeps how far a work is, and tells it whether to go on. The one thing both threads touch."""

    def __init__(self) -> None:
        self._stop = Event()
        self.told: tuple[int, int] | None = None
        """How much is done, and of how much; replaced as a whole."""

    def stop(self) -> None:
        """Ask for a stop; it comes when the work looks next."""
        self._stop.set()

    def __call__(self, done: int, total: int) -> bool:
        self.told = done, total
        return not self._stop.is_set()


class Worker(QObject):
    """What a work off the window's thread tells of itself: how far it is.

    The window looks; the work calls nothing of Qt's. A signal that another thread sends while a
    receiver comes or goes here has ended a run.
    """

    progressed = Signal(int, int)

    def __init__(self, context: Context) -> None:
        super().__init__()
        self._context = context
        self._stopper: Stopper | None = None
        self._shown: tuple[int, int] | None = None
        self._looks = QTimer(self)
        self._looks.setInterval(LOOK_MS)
        self._looks.timeout.connect(self._look)

    def stop(self) -> None:
        """Ask the work at hand to stop; it does when it looks next."""
        if self._stopper is not None:
            self._stopper.stop()

    def _begin(self) -> Stopper:
        self._stopper, self._shown = Stopper(), None
        self._looks.start()
        return self._stopper

    def _end(self) -> None:
        self._looks.stop()

    def _look(self) -> None:
        told = self._stopper.told if self._stopper else None
        if told is not None and told != self._shown:
            self._shown = told
            self.progressed.emit(*told)
