"""The scale of this station, as the screens know it.

For a screen that shows and weighs (the block)::

    scale = context.scale  # one ScalePort for the whole window
    scale.reading.connect(show)  # show(live: LiveWeight), on the screens' thread
    show(scale.live)  # what holds now; also when the screen comes up

- `LiveWeight` (gambrel.domain.bench.steady) has ``state`` (a word or two to show beside the
  weight), ``sentence`` (the same in a sentence, with what to do), ``grams`` (None where no number
  may be shown: show a dash, never the number before), ``net`` (the scale took a tare off already:
  the block must not take its tub off once more), ``unit``.
- ``live.answers``: fold the keypad away. ``live.weighable``: WEIGH IN may be enabled.
- **At the tap, ask again**: ``scale.live.weighable`` and ``scale.live.grams`` are computed at that
  moment, so a weight that went stale while the window was busy is not weighed in. Take the grams
  from that same `LiveWeight`, not from the one that was painted.
- After the piece is in the book call ``scale.used()``: a weight that a keyboard scale typed counts
  once. What lies on a serial scale goes on being shown; that the same is not weighed in twice is
  asked by `gambrel.domain.bench.doubts`.
- ``scale.request()`` asks a scale that answers only at a tap; other scales ignore it. While
  ``scale.asked_by_tap`` show a key for it.
- ``scale.zero()`` sets it to zero where the shop has given the words for that
  (``scale.can_zero``) and nothing but drift lies on it (``live.zeroable``). No tare is ever sent: a
  tub is the program's, and a second one in the scale would be taken off unseen.
- `reading` comes at most every `LOOK_MS`, and only when something that it says has changed. However
  fast the scale sends, nothing queues up. That a weight goes stale is decided here, on the screens'
  side: a reader that hangs cannot keep a number standing.

The window opens the port with what the station keeps (`gambrel.services.scales`) and closes it at
the end. Weights for sale need a verified instrument; nothing here verifies one.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

from PySide6.QtCore import QObject, QTimer, Signal

from gambrel.domain.bench.steady import LiveWeight

if TYPE_CHECKING:  # loaded when there is a scale: most windows open without one
    from gambrel.devices.inbox import Inbox
    from gambrel.domain.bench.scale_setting import ScaleSetting

LOOK_MS = 50
"""How often the newest weight is looked at: twenty times a second, as the eye has it."""


class Source(Protocol):
    """Where bytes come from; it puts them into the `Inbox` that it was made with."""

    @property
    def answers_at_tap(self) -> bool:
        """Whether it says nothing before somebody taps for it."""

    def start(self) -> None:
        """Begin to listen; return at once."""

    def stop(self) -> None:
        """Stop listening, and let go of the port."""

    def request(self) -> None:
        """Ask for a weight now, where this scale has to be asked."""

    def zero(self) -> None:
        """Set the scale to zero, where it can be told to."""


class ScalePort(QObject):
    """One scale, or none; see the module for how to use it."""

    reading = Signal(object)
    """A `LiveWeight`, when it says something new."""
    heard = Signal(object)
    """A `Heard` for the test page, when more has come; only while `listen` is on."""

    def __init__(self) -> None:
        super().__init__()
        self._setting: ScaleSetting | None = None
        self._inbox: Inbox | None = None
        self._source: Source | None = None
        self._told = LiveWeight()
        self._listening = False
        self._heard_bytes = 0
        self._timer = QTimer(self)
        self._timer.setInterval(LOOK_MS)
        self._timer.timeout.connect(self._look)

    @property
    def setting(self) -> ScaleSetting:
        """How the scale that is open is reached and read."""
        from gambrel.domain.bench.scale_setting import NO_SCALE

        return self._setting or NO_SCALE

    @property
    def live(self) -> LiveWeight:
        """What the weight is worth at this very moment."""
        return self._inbox.live() if self._inbox else LiveWeight()

    @property
    def asked_by_tap(self) -> bool:
        """Whether this scale answers only when somebody taps for it."""
        return self._source is not None and self._source.answers_at_tap

    def open(self, setting: ScaleSetting) -> None:
        """Listen to a scale, after letting go of the one before; returns at once.

        What goes wrong with the line is told by `reading`, in words, and tried again for ever.
        """
        from gambrel.devices.inbox import Inbox
        from gambrel.domain.bench.scale_setting import ScaleKind

        self._let_go()
        self._setting = setting
        if setting.kind is not ScaleKind.NONE:
            self._inbox = Inbox(setting)
            self._source = source_for(setting, self._inbox)
            self._source.start()
            self._timer.start()
        self._look()

    def close(self) -> None:
        """Let go of the scale; the weight is typed from now on."""
        self._let_go()
        self._look()

    def _let_go(self) -> None:
        self._timer.stop()
        if self._source is not None:
            self._source.stop()
        self._source = self._inbox = self._setting = None
        self._heard_bytes = 0

    def request(self) -> None:
        """Ask for a weight now, where this scale answers at a tap."""
        if self._source is not None:
            self._source.request()

    @property
    def can_zero(self) -> bool:
        """Whether this scale can be told to set itself to zero."""
        return self._setting is not None and bool(self._setting.zeroes)

    def zero(self) -> None:
        """Set the scale to zero, where it can be told to and nothing is weighed away by it."""
        if self._source is not None and self.live.zeroable:
            self._source.zero()

    def used(self) -> None:
        """The weight was weighed in: it counts once."""
        if self._inbox is not None:
            self._inbox.used()
            self._look()

    def listen(self, on: bool) -> None:  # noqa: FBT001 - on or off, like a switch
        """Tell by `heard` what comes down the line, for the test page."""
        self._listening = on
        self._heard_bytes = 0
        self._look()

    def _look(self) -> None:
        live = self.live
        if live != self._told:
            self._told = live
            self.reading.emit(live)
        if self._listening and self._inbox is not None:
            heard = self._inbox.what_was_heard()
            if heard.total != self._heard_bytes:
                self._heard_bytes = heard.total
                self.heard.emit(heard)


def source_for(setting: ScaleSetting, inbox: Inbox) -> Source:
    """What listens to this kind of scale; the library behind a port is loaded only now."""
    from gambrel.domain.bench.scale_setting import ScaleKind

    if setting.kind is ScaleKind.SERIAL:
        from gambrel.devices.serial_scale import SerialSource

        return SerialSource(setting, inbox)
    from gambrel.devices.wedge import TypedSource

    return TypedSource(setting, inbox)
