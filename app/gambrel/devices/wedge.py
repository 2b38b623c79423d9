"""A scale that types its weight like a keyboard (a keyboard wedge).

What it types would also go to whatever has the focus. So a key is held back for a moment: if more
follow faster than a hand types, and Return or Tab ends them, they were the scale's and reach nobody
else; if not, they are handed on as they came, late by at most the gap between two keys.
"""

from __future__ import annotations

from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt, QTimer
from PySide6.QtGui import QKeyEvent
from shiboken6 import isValid

from gambrel.devices.inbox import Inbox
from gambrel.domain.bench.scale_setting import ScaleSetting

GAP_MS = 35
"""A hand needs longer from key to key, and what types by itself much less (common practice, no
source)."""

SHORTEST = 4
"""Fewer keys than this are a hand's, however quick."""

_ENDS = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Tab)
_BESIDE = (Qt.Key.Key_Shift, Qt.Key.Key_CapsLock, Qt.Key.Key_NumLock)
"""Keys that only change what the next one means; a scale that types capitals sends them too."""

_PLAIN = Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.KeypadModifier


class TypedSource(QObject):
    """Filters the keys of the whole program while a keyboard scale is set up."""

    def __init__(self, setting: ScaleSetting, inbox: Inbox) -> None:
        super().__init__()
        self._end = setting.ends[0].encode()
        self._inbox = inbox
        self._held: list[tuple[QObject, QKeyEvent]] = []
        self._text = ""
        self._handing_on = False
        self._gap = QTimer(self)
        self._gap.setSingleShot(True)
        self._gap.setTimerType(Qt.TimerType.PreciseTimer)
        self._gap.setInterval(GAP_MS)
        self._gap.timeout.connect(self._hand_on)

    answers_at_tap = False

    def start(self) -> None:
        """Begin to watch the keys."""
        app = QCoreApplication.instance()
        assert app is not None  # a window stands
        app.installEventFilter(self)
        self._inbox.opened()
        self._inbox.paused()  # nobody types midway

    def stop(self) -> None:
        """Leave the keys alone."""
        app = QCoreApplication.instance()
        if app is not None:
            app.removeEventFilter(self)
        self._gap.stop()
        self._hand_on()

    def request(self) -> None:
        """A keyboard cannot be asked."""

    def zero(self) -> None:
        """Nor can it be told anything."""

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 - Qt's name
        """Hold keys back; True where nobody else may see this one now."""
        if self._handing_on or not isinstance(event, QKeyEvent):
            return False
        if event.type() == QEvent.Type.KeyRelease:
            return self._released(watched, event)
        if event.type() != QEvent.Type.KeyPress or event.key() in _BESIDE:
            return False
        if event.key() in _ENDS and len(self._text) >= SHORTEST:
            self._weigh()
            return True
        text = event.text()
        plain = not event.modifiers() & ~_PLAIN and not event.isAutoRepeat()
        if not plain or len(text) != 1 or not text.isprintable():
            self._hand_on()  # before this one, so that the order stays
            return False
        self._hold(watched, event)
        self._text += text
        self._gap.start()
        return True

    def _released(self, watched: QObject, event: QKeyEvent) -> bool:
        """The release of a key that is held back is held back too."""
        if not any(held.key() == event.key() for _, held in self._held):
            return False
        self._hold(watched, event)
        return True

    def _hold(self, watched: QObject, event: QKeyEvent) -> None:
        copy = QKeyEvent(
            event.type(), event.key(), event.modifiers(), event.text(), event.isAutoRepeat()
        )
        self._held.append((watched, copy))

    def _weigh(self) -> None:
        self._gap.stop()
        text, self._text = self._text, ""
        self._held.clear()
        self._inbox.heard(text.encode("latin-1", "replace") + self._end)

    def _hand_on(self) -> None:
        """Let what was held go where it was meant to go."""
        self._gap.stop()
        held, self._held, self._text = self._held, [], ""
        self._handing_on = True
        try:
            for watched, event in held:
                if isValid(watched):
                    QCoreApplication.sendEvent(watched, event)
        finally:
            self._handing_on = False
