"""A scale in the test's own hand: it shows what the test says, at once and without a line."""

from __future__ import annotations

from gambrel.devices.scale import ScalePort
from gambrel.domain.bench.steady import LiveWeight, WeightState


class HeldScale(ScalePort):
    """A port whose live weight is set by `show`; what else it says is the real port's."""

    def __init__(self) -> None:
        super().__init__()
        self._held = LiveWeight()
        self.times_used = 0

    @property
    def live(self) -> LiveWeight:
        return self._held

    def show(
        self, state: WeightState, grams: int | None = None, *, net: bool = False, sentence: str = ""
    ) -> None:
        """Let it show this from now on, and tell it."""
        self._held = LiveWeight(state, sentence or f"It is {state.value}.", grams, None, net)
        self._look()

    def used(self) -> None:
        self.times_used += 1
