"""A scale on a serial port, read in a thread of its own.

The thread is Python's and not Qt's: it touches nothing of Qt's (the `Inbox` stands between), and a
port whose driver hangs must not keep the program from ending, which a daemon thread does not.
"""

from __future__ import annotations

import errno
from contextlib import suppress
from dataclasses import dataclass
from threading import Event, Thread
from typing import Any

import serial

from gambrel.devices.inbox import Inbox, now_ms
from gambrel.domain.bench.scale_setting import Asking, ScaleSetting

try:
    from termios import error as _line_error
except ImportError:  # Windows has none
    _line_error = OSError  # type: ignore[misc, assignment]

_FAULTS = (OSError, ValueError, TypeError, AttributeError, _line_error)
"""What a port raises that is not there, or is pulled out, by platform and moment; what the POSIX
line settings raise is no ``OSError``."""

FIRST_WAIT, LONGEST_WAIT = 0.25, 4.0
"""Seconds between attempts to open a port that is not there; each wait is twice the one before."""

GATHER = 0.01
"""Seconds in which bytes gather, so that a scale that sends 200 lines a second wakes us half as
often."""

READ_WAIT = 0.05
PAUSE_MS = 500
TAP_MS = 3000
"""How long a scale is asked after a tap, unless it stands still before."""

WRITE_WAIT = 0.5
LET_GO = 0.3
"""Seconds to wait for the port; a driver that takes longer is left behind."""


class SerialSource:
    """Opens the port, listens, and when the line breaks begins again by itself."""

    def __init__(self, setting: ScaleSetting, inbox: Inbox) -> None:
        self._setting = setting
        self._inbox = inbox
        self._end = Event()
        self._port: Any = None
        self._ask_until = 0
        self._zero = Event()
        self._thread = Thread(target=self._run, name="scale", daemon=True)

    @property
    def answers_at_tap(self) -> bool:
        """Whether it says nothing before somebody taps for it."""
        return self._setting.asking is Asking.TAP

    def start(self) -> None:
        """Begin to listen; returns at once."""
        self._inbox.opening()
        self._thread.start()

    def stop(self) -> None:
        """Stop listening; waits for the port to be let go of, but never long."""
        self._end.set()
        with suppress(Exception):
            if self._port is not None:
                self._port.cancel_read()
        self._thread.join(LET_GO)

    def request(self) -> None:
        """Ask until the weight stands still, or for three seconds."""
        if self.answers_at_tap:
            self._ask_until = now_ms() + TAP_MS

    def zero(self) -> None:
        """Tell it to set itself to zero; it is told at its next turn, within a tenth of a second.

        A wish from before the line broke does not outlive it.
        """
        if self._setting.zeroes:
            self._zero.set()

    def _run(self) -> None:
        wait = FIRST_WAIT
        while not self._end.is_set():
            try:
                self._port = self._opened()
            except _FAULTS as error:
                self._inbox.retrying(why(error, self._setting.port))
                self._end.wait(wait)
                wait = min(wait * 2, LONGEST_WAIT)
                continue
            wait = FIRST_WAIT
            self._inbox.opened()
            try:
                self._listen(self._port)
            except _FAULTS:
                self._inbox.lost(f"The scale at {self._setting.port} is disconnected.")
            finally:
                with suppress(Exception):
                    self._port.close()
            self._end.wait(FIRST_WAIT)

    def _opened(self) -> Any:  # noqa: ANN401 - pyserial has no types
        setting = self._setting
        return serial.Serial(
            setting.port,
            baudrate=setting.baud,
            bytesize=setting.data_bits,
            parity=setting.parity.value,
            stopbits=setting.stop_bits,
            timeout=READ_WAIT,
            write_timeout=WRITE_WAIT,
            exclusive=True,
        )

    def _listen(self, port: Any) -> None:  # noqa: ANN401 - pyserial has no types
        heard_at = asked_at = now_ms() - self._setting.every_ms
        self._zero.clear()
        while not self._end.is_set():
            now = now_ms()
            if self._zero.is_set():
                self._zero.clear()
                port.write(self._setting.zeroes)
            if self._due(now, asked_at):
                port.write(self._setting.asks)
                asked_at = now
            chunk = port.read(1)
            if chunk:
                self._end.wait(GATHER)
                self._inbox.heard(chunk + port.read(port.in_waiting))
                heard_at = now_ms()
            elif now - heard_at > PAUSE_MS:
                self._inbox.paused()
                heard_at = now

    def _due(self, now: int, asked_at: int) -> bool:
        if now - asked_at < self._setting.every_ms:
            return False
        if self.answers_at_tap:
            return now < self._ask_until and not self._inbox.steady
        return self._setting.asking is Asking.ASKED


def why(error: Exception, port: str) -> str:
    """Why a port could not be opened, in a sentence."""
    number = getattr(error, "errno", None)
    if number in (errno.ENOENT, errno.ENODEV, errno.ENXIO) or "FileNotFound" in str(error):
        return f"There is no port {port} on this machine."
    if number in (errno.EACCES, errno.EPERM):
        return (
            f"This station's user may not open {port}. On Linux it must be in the group that owns "
            "serial ports."
        )
    if number in (errno.EBUSY, errno.EAGAIN, errno.EWOULDBLOCK) or "lock" in str(error):
        return f"Another program holds {port}."
    return f"The port {port} does not open."


@dataclass(frozen=True, slots=True)
class PortName:
    """A serial port of this machine: its name and what the system says about it."""

    name: str
    about: str


def serial_ports() -> list[PortName]:
    """The serial ports that this machine has now; it may take a moment, so ask in a task."""
    from serial.tools.list_ports import comports

    found = [PortName(str(port.device), str(port.description or "")) for port in comports()]
    return sorted(found, key=lambda port: port.name)
