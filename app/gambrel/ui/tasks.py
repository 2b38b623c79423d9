"""The one door to background work: it runs off the GUI thread, its answer comes back on it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Protocol, TypeVar

from PySide6.QtCore import QObject, QRunnable, Qt, QThreadPool, Signal

T = TypeVar("T")


class Tasks(Protocol):
    """Runs work and hands its answer, or what went wrong, to the thread of the screens."""

    def run_task(
        self,
        work: Callable[[], T],
        done: Callable[[T], None],
        failed: Callable[[Exception], None],
    ) -> None:
        """Start ``work``; call ``done`` with its value or ``failed`` with its exception."""


class SyncTasks:
    """Does the work at once, in the caller's thread: for tests and for pictures."""

    def run_task(
        self,
        work: Callable[[], T],
        done: Callable[[T], None],
        failed: Callable[[Exception], None],
    ) -> None:
        """Do the work before returning."""
        try:
            value = work()
        except Exception as error:  # noqa: BLE001 - whatever went wrong belongs to the caller
            failed(error)
        else:
            done(value)


class PoolTasks(QObject):
    """Does the work on Qt's thread pool. Make it on the GUI thread, and keep it."""

    _ended = Signal(object, object)

    def __init__(self, pool: QThreadPool | None = None) -> None:
        super().__init__()
        self._pool = pool or QThreadPool.globalInstance()
        self._ended.connect(_answer, Qt.ConnectionType.QueuedConnection)

    def run_task(
        self,
        work: Callable[[], T],
        done: Callable[[T], None],
        failed: Callable[[Exception], None],
    ) -> None:
        """Queue the work; several may run at once, and may end in another order."""

        def job() -> None:
            try:
                value = work()
            except Exception as error:  # noqa: BLE001 - carried to the caller's `failed`
                self._ended.emit(failed, error)
            else:
                self._ended.emit(done, value)

        self._pool.start(QRunnable.create(job))

    def wait(self, milliseconds: int = 5000) -> bool:
        """Wait for all that is running; True when it ended in time. For the way out."""
        return self._pool.waitForDone(milliseconds)


def _answer(callback: Callable[[Any], None], value: object) -> None:
    callback(value)
