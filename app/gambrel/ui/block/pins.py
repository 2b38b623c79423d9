"""Asking for a PIN in place: what was typed, and a short wait after too many wrong ones. Pure."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta

from gambrel.domain.trade.pins import FEWEST, MOST

MOST_WRONG = 5
LOCK_OUT = timedelta(seconds=30)
"""After so many wrong PINs nobody can try that name for so long (common practice, no source)."""

BACK, ENTER = "<", "enter"
DOT = "●"


@dataclass(frozen=True, slots=True)
class PinPad:
    """Who wants to be let in, what they typed, and how often it was wrong."""

    name: str = ""
    typed: str = field(default="", repr=False)
    wrong: int = 0
    locked_until: datetime | None = None

    def press(self, key: str) -> PinPad:
        """The pad after a digit or `BACK`."""
        if key == BACK:
            return replace(self, typed=self.typed[:-1])
        if key.isascii() and key.isdigit() and len(self.typed) < MOST:
            return replace(self, typed=self.typed + key)
        return self

    def failed(self, now: datetime) -> PinPad:
        """The pad after a wrong PIN."""
        wrong = self.wrong + 1
        if wrong < MOST_WRONG:
            return replace(self, typed="", wrong=wrong)
        return replace(self, typed="", wrong=0, locked_until=now + LOCK_OUT)

    def locked(self, now: datetime) -> int:
        """Seconds for which nobody can try; zero where everybody can."""
        if self.locked_until is None or now >= self.locked_until:
            return 0
        return -(-(self.locked_until - now) // timedelta(seconds=1))

    @property
    def can_enter(self) -> bool:
        """Whether enough was typed to be a PIN."""
        return len(self.typed) >= FEWEST

    def sentence(self, now: datetime) -> str:
        """What stands under the name: dots, or what went wrong."""
        if seconds := self.locked(now):
            return f"Too many wrong PINs. Wait {seconds} seconds, then try again."
        if self.typed:
            return " ".join(DOT * len(self.typed))
        if self.wrong:
            left = MOST_WRONG - self.wrong
            tries = "one more try" if left == 1 else f"{left} more tries"
            return f"That is not the PIN of {self.name}. You have {tries} before a short wait."
        return "Type the PIN, then OK. Weighings keep the name before until then."


NOBODY = PinPad()
