"""A fake scale: a process of its own on a pseudo-terminal, which also misbehaves when told to.

Run as a script it is the scale; `FakeScale` starts it and tells it what to do. Its port is a link,
so that it keeps its name when the scale is pulled out and plugged in again.
"""

from __future__ import annotations

import os
import select
import subprocess
import sys
import time
import tty
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from random import Random
from types import TracebackType


class FakeScale:
    """Starts the process and drives it; every wish is acknowledged before the call returns."""

    def __init__(self, folder: Path) -> None:
        self.port = folder / "scale"
        command = [sys.executable, __file__, str(self.port)]
        pipe = subprocess.PIPE
        self._process = subprocess.Popen(command, stdin=pipe, stdout=pipe, text=True)
        self._acknowledged()

    def __enter__(self) -> FakeScale:
        return self

    def __exit__(
        self,
        _kind: type[BaseException] | None,
        _error: BaseException | None,
        _trace: TracebackType | None,
    ) -> None:
        with suppress(BrokenPipeError):
            assert self._process.stdin is not None
            self._process.stdin.close()
        if self._process.stdout is not None:
            self._process.stdout.close()
        try:
            self._process.wait(5)
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait()

    def _acknowledged(self) -> None:
        assert self._process.stdout is not None
        answer = self._process.stdout.readline()
        assert answer == "ok\n", f"the fake scale says {answer!r}"

    def _tell(self, *words: str) -> None:
        assert self._process.stdin is not None
        self._process.stdin.write(" ".join(words) + "\n")
        self._process.stdin.flush()
        self._acknowledged()

    # --- What a scale does ---

    def rate(self, lines_a_second: int) -> None:
        """How many pieces of what it repeats it sends a second."""
        self._tell("rate", str(lines_a_second))

    def repeats(self, *pieces: bytes) -> None:
        """Send these in turn, one a tick, for ever."""
        self._tell("repeat", *(piece.hex() for piece in pieces))

    def once(self, piece: bytes) -> None:
        """Send this now, once."""
        self._tell("once", piece.hex())

    def answers(self, command: bytes, *answers: bytes) -> None:
        """Say nothing by itself; answer a command, with these in turn."""
        self._tell("answer", command.hex(), *(answer.hex() for answer in answers))

    def zeroes(self, command: bytes) -> None:
        """Set itself to zero at this command, and go on at rest there."""
        self._tell("zero", command.hex())

    def steady(self, grams: int) -> None:
        """A weight at rest."""
        self.repeats(line("ST", grams))

    def unsteady(self, around: int) -> None:
        """A weight that swings."""
        self.repeats(*(line("US", around + step) for step in (-40, 15, 60, -10)))

    def lying(self, around: int) -> None:
        """A weight that runs, each line called steady."""
        self.repeats(*(line("ST", around + 7 * step) for step in range(40)))

    # --- What a scale should not do ---

    def garbage(self, seed: int = 7) -> None:
        """Bytes without a meaning: the wrong speed, for example."""
        chance = Random(seed)
        self.repeats(*(chance.randbytes(12) + b"\r\n" for _ in range(20)))

    def half_lines(self, grams: int) -> None:
        """Each line in three pieces, a tick between them."""
        whole = line("ST", grams)
        self.repeats(whole[:9], whole[9:13], whole[13:])

    def silence(self) -> None:
        """Stay connected and send nothing."""
        self.repeats()

    def unplug(self) -> None:
        """Vanish, as when the cable is pulled out."""
        self._tell("unplug")

    def plug(self) -> None:
        """Come back under the same name."""
        self._tell("plug")


def line(flag: str, grams: int, unit: str = "kg") -> bytes:
    """A line of a flag, gross or net, sign, number and unit."""
    sign = "-" if grams < 0 else "+"
    figure = f"{abs(grams) / 1000:.3f}" if unit == "kg" else str(abs(grams))
    return f"{flag},GS,{sign}{figure:>8} {unit}\r\n".encode()


# --- The process ---


class _Process:
    def __init__(self, port: Path) -> None:
        self._port = port
        self._ends: tuple[int, int] | None = None
        self._pieces: list[bytes] = []
        self._turn = 0
        self._period = 0.05
        self._next = time.monotonic()
        self._command = b""
        self._asked = bytearray()
        self._zero = b""

    def plug(self) -> None:
        master, slave = os.openpty()
        for end in (master, slave):
            tty.setraw(end)
        os.set_blocking(master, False)
        fresh = self._port.with_suffix(".new")
        fresh.symlink_to(os.ttyname(slave))
        fresh.replace(self._port)
        self._ends = master, slave

    def unplug(self) -> None:
        if self._ends is not None:
            self._port.unlink(missing_ok=True)
            for end in self._ends:
                os.close(end)
        self._ends = None

    def run(self) -> None:
        self.plug()
        print("ok", flush=True)
        while self._turn_once():
            pass
        self.unplug()

    def _turn_once(self) -> bool:
        wait = max(self._next - time.monotonic(), 0)
        watched: list[int] = [0] + ([self._ends[0]] if self._ends else [])
        ready, _, _ = select.select(watched, [], [], wait)
        if 0 in ready and not self._obey(os.read(0, 65536).decode()):
            return False
        if self._ends and self._ends[0] in ready:
            with suppress(OSError):
                self._hear(os.read(self._ends[0], 4096))
        if time.monotonic() >= self._next:
            self._next += self._period
            if not self._command:
                self._send_next()
        return True

    def _hear(self, chunk: bytes) -> None:
        self._asked += chunk
        if self._zero and self._zero in self._asked:
            self._asked.clear()
            self._pieces, self._turn = [line("ST", 0)], 0
        while self._command and self._command in self._asked:
            at = self._asked.index(self._command)
            del self._asked[: at + len(self._command)]
            self._send_next()

    def _send_next(self) -> None:
        if self._pieces:
            self._send(self._pieces[self._turn % len(self._pieces)])
            self._turn += 1

    def _send(self, piece: bytes) -> None:
        if self._ends is not None:
            with suppress(BlockingIOError, OSError):  # nobody listens: a scale does not mind
                os.write(self._ends[0], piece)

    def _obey(self, text: str) -> bool:
        """Do what the lines say; False where there is nobody to obey any more."""
        for words in map(str.split, text.splitlines()):
            self._do(words[0], words[1:])
            print("ok", flush=True)
        return bool(text)

    def _do(self, act: str, rest: list[str]) -> None:
        if act == "rate":
            self._period = 1 / int(rest[0])
            self._next = time.monotonic()
        elif act == "repeat":
            self._command = b""
            self._pieces, self._turn = _bytes(rest), 0
        elif act == "answer":
            self._command, *self._pieces = _bytes(rest)
            self._turn = 0
        elif act == "zero":
            [self._zero] = _bytes(rest)
        elif act == "once":
            self._send(bytes.fromhex(rest[0]))
        elif act == "unplug":
            self.unplug()
        else:
            self.plug()


def _bytes(words: Iterable[str]) -> list[bytes]:
    return [bytes.fromhex(word) for word in words]


if __name__ == "__main__":
    _Process(Path(sys.argv[1])).run()
