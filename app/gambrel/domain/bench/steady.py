"""The live weight: what the scale shows now, and whether it may be weighed in.

Small on purpose: every window loads it, also where there is no scale. How a live weight comes about
is told in `gambrel.domain.bench.weight_watch`.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from gambrel.domain.bench.scale_pattern import Unit


class WeightState(StrEnum):
    """How it stands with the scale; only `STEADY` can be weighed in."""

    NONE = "no scale"
    OPENING = "opening"
    LOST = "disconnected"
    RETRYING = "reconnecting"
    WAITING = "waiting"
    GARBAGE = "not understood"
    STALE = "no reading"
    OVERLOAD = "overload"
    UNIT_CHANGED = "unit changed"
    NEGATIVE = "negative"
    ZERO = "zero"
    UNSTEADY = "unsteady"
    STEADY = "steady"


MEANINGS = {
    WeightState.STEADY: "fine",
    WeightState.ZERO: "info",
    WeightState.NONE: "info",
    WeightState.OPENING: "info",
    WeightState.WAITING: "info",
    WeightState.UNSTEADY: "watch",
    WeightState.NEGATIVE: "watch",
    WeightState.UNIT_CHANGED: "watch",
    WeightState.RETRYING: "stop",
    WeightState.LOST: "stop",
    WeightState.STALE: "stop",
    WeightState.GARBAGE: "stop",
    WeightState.OVERLOAD: "stop",
}
"""How grave each state is, in the one word that every screen marks it by."""


DRIFT_G, LOST_TUB_G = 50, -5_000
"""Scraps and wet make a scale drift by so much above zero; below it stands when a tub that was
zeroed away has gone (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class LiveWeight:
    """What the scale shows now, or why it shows nothing.

    Attributes:
        state: How it stands; its value is a word or two for beside the weight.
        sentence: The same as a sentence, with what to do where there is something to do.
        grams: Signed grams; None where no number may be shown (stale, overload, disconnected).
        unit: In which unit the scale shows it.
        net: Whether the scale has taken a tare off already, so that a tub must not be taken off
            once more.
    """

    state: WeightState = WeightState.NONE
    sentence: str = "No scale is set up. Type the weight."
    grams: int | None = None
    unit: Unit | None = None
    net: bool = False

    @property
    def weighable(self) -> bool:
        """Whether this weight may be weighed in now."""
        return self.state is WeightState.STEADY and self.grams is not None and self.grams > 0

    @property
    def zeroable(self) -> bool:
        """Whether the scale may be set to zero now: nothing but drift or a lost tub lies on it.

        A piece that is zeroed away would make every weight after it too light.
        """
        drift = self.grams is not None and LOST_TUB_G <= self.grams <= DRIFT_G
        return drift and self.grams != 0 and not self.net

    @property
    def answers(self) -> bool:
        """Whether a scale answers, so that the keypad is not needed."""
        return self.state in _ANSWERING


_ANSWERING = frozenset(
    {
        WeightState.OVERLOAD,
        WeightState.UNIT_CHANGED,
        WeightState.NEGATIVE,
        WeightState.ZERO,
        WeightState.UNSTEADY,
        WeightState.STEADY,
    }
)
