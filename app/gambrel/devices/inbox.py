"""Between a reader in its own thread and the window: what came is read at once, the newest wins."""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass
from threading import Lock
from time import monotonic_ns

from gambrel.domain.bench.scale_line import LineReader, Reading
from gambrel.domain.bench.scale_setting import Asking, ScaleSetting
from gambrel.domain.bench.steady import LiveWeight, WeightState
from gambrel.domain.bench.weight_watch import Link, WeightWatch, rule_for

KEPT_LINES = 40
KEPT_BYTES = 512


def now_ms() -> int:
    """This moment in whole milliseconds of a clock that only goes forward."""
    return monotonic_ns() // 1_000_000


@dataclass(frozen=True, slots=True)
class Heard:
    """What the test page shows.

    Attributes:
        stream: The last bytes as they came, line ends and all.
        lines: The last lines, the oldest first.
        good: Lines understood since the scale was opened.
        bad: Lines not understood since then.
        total: Bytes since then.
    """

    stream: bytes = b""
    lines: tuple[Reading, ...] = ()
    good: int = 0
    bad: int = 0
    total: int = 0


class Inbox:
    """Takes bytes from any thread, and tells the live weight to any thread.

    It never grows: however much comes while nobody looks, it holds the newest weight, and the last
    lines and bytes for the test page.
    """

    def __init__(self, setting: ScaleSetting) -> None:
        self._setting = setting
        self._lock = Lock()
        self._watch = WeightWatch(rule_for(setting))
        self._reader = LineReader(setting.line)
        self._lines: deque[Reading] = deque(maxlen=KEPT_LINES)
        self._stream = bytearray()
        self._good = self._bad = self._total = 0

    def opened(self) -> None:
        """The line is open. Who is asked begins to speak after it, so nothing is cut in two."""
        midway = self._setting.asking is Asking.SENDS
        with self._lock:
            self._reader = LineReader(self._setting.line, midway=midway)
            self._watch.set_link(Link.OPEN)

    def opening(self) -> None:
        """The line is about to be opened for the first time."""
        with self._lock:
            self._watch.set_link(Link.OPENING)

    def lost(self, why: str) -> None:
        """The line broke; ``why`` is a sentence."""
        with self._lock:
            self._watch.set_link(Link.LOST, why)

    def retrying(self, why: str) -> None:
        """The line cannot be opened yet, and is tried again; ``why`` is a sentence."""
        with self._lock:
            self._watch.set_link(Link.RETRYING, why)

    def heard(self, chunk: bytes) -> None:
        """Take bytes that have just come."""
        with self._lock:
            found = self._reader.feed(chunk)
            self._watch.take(found, now_ms())
            self._lines.extend(found)
            self._stream += chunk
            del self._stream[:-KEPT_BYTES]
            self._total += len(chunk)
            if found:
                self._good += self._reader.good
                self._bad += self._reader.bad
                self._reader.good = self._reader.bad = 0

    def paused(self) -> None:
        """Nothing has come for longer than a line takes."""
        with self._lock:
            self._reader.pause()

    def used(self) -> None:
        """The weight was weighed in; one that was typed counts once."""
        with self._lock:
            self._watch.used()

    def live(self) -> LiveWeight:
        """What the weight is worth at this very moment."""
        with self._lock:
            return self._watch.live(now_ms())

    @property
    def steady(self) -> bool:
        """Whether a weight stands that could be weighed in."""
        return self.live().state is WeightState.STEADY

    def what_was_heard(self) -> Heard:
        """The last bytes and lines, for the test page."""
        with self._lock:
            return Heard(
                bytes(self._stream), tuple(self._lines), self._good, self._bad, self._total
            )
