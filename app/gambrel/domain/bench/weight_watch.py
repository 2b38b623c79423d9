"""From readings and moments to what may be believed now: the live weight.

Pure: moments are whole milliseconds of any clock that only goes forward, and are handed in.

A weight may be weighed in only while it is steady, above zero and fresh. A scale's own word for
steady is believed when the numbers bear it out: two equal readings over a short hold. Without such
a word, or from a scale that says steady while its numbers run, it takes more equal readings over a
longer hold. Whether the same piece is weighed twice is asked elsewhere (`doubts`).
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum

from gambrel.domain.bench.scale_line import Flag, Reading, Wrong
from gambrel.domain.bench.scale_pattern import Unit
from gambrel.domain.bench.scale_setting import Asking, ScaleKind, ScaleSetting
from gambrel.domain.bench.steady import LiveWeight, WeightState
from gambrel.domain.numbers.mass import kg_text


class Link(StrEnum):
    """How it stands with the line to the scale."""

    NONE = "none"
    OPENING = "opening"
    OPEN = "open"
    LOST = "lost"
    RETRYING = "retrying"


@dataclass(frozen=True, slots=True)
class SteadyRule:
    """When a weight is at rest and for how long it holds (common practice, no source).

    Attributes:
        flagged: Equal readings that a scale's own word for steady needs beside it.
        flagged_ms: How long these must have stood.
        equal: Equal readings that it takes without such a word.
        equal_ms: How long these must have stood.
        stale_ms: After this long without a reading no number is shown any more.
        unit_ms: How long a change of unit is told before the weight counts again.
        distrust_ms: How long a scale that said steady while its numbers ran is not believed.
        typed: Whether it sends once for each press of its own key, and is silent in between.
    """

    flagged: int = 2
    flagged_ms: int = 150
    equal: int = 4
    equal_ms: int = 400
    stale_ms: int = 1500
    unit_ms: int = 2500
    distrust_ms: int = 3000
    typed: bool = False


TYPED_RULE = SteadyRule(flagged=1, flagged_ms=0, equal=1, equal_ms=0, stale_ms=8000, typed=True)
"""For a scale that types its weight once at a press of its own key: it says nothing before it is
steady, and says it once."""

TAP_STALE_MS = 5000
"""How long a weight that was asked for at a tap holds: for choosing the cut and weighing in."""


def rule_for(setting: ScaleSetting) -> SteadyRule:
    """The rule that suits how a scale sends."""
    if setting.kind is ScaleKind.TYPED:
        return TYPED_RULE
    usual = SteadyRule()
    if setting.asking is Asking.TAP:
        return replace(usual, stale_ms=TAP_STALE_MS)
    if setting.asking is Asking.ASKED:  # two answers may be lost
        return replace(usual, stale_ms=max(usual.stale_ms, 3 * setting.every_ms + 500))
    return usual


RUNNING = 3
"""So many different numbers in a row, all called steady, and the word is not believed."""


class WeightWatch:
    """Holds what came last and tells what it is worth at a moment."""

    def __init__(self, rule: SteadyRule | None = None) -> None:
        self.rule = rule or SteadyRule()
        self._link, self._why = Link.NONE, ""
        self._forget()

    def _forget(self) -> None:
        self._last: Reading | None = None
        self._last_at = 0
        self._run = 0
        self._run_from = 0
        self._different: deque[int | None] = deque(maxlen=RUNNING)
        self._distrust_until: int | None = None
        self._unit_until: int | None = None
        self._unit_before: Unit | None = None
        self._bad_at: int | None = None
        self._newest_is_bad = False

    def set_link(self, link: Link, why: str = "") -> None:
        """Tell how it stands with the line; a number never outlives its connection.

        Args:
            link: The new standing.
            why: A sentence about what went wrong, where something did.
        """
        if link is not Link.OPEN or self._link is not Link.OPEN:
            self._forget()
        self._link, self._why = link, why

    def used(self) -> None:
        """The weight was weighed in: a scale that types it says it once, so it counts once."""
        if self.rule.typed:
            self._forget()

    def take(self, readings: Iterable[Reading], now_ms: int) -> None:
        """Take what was read at a moment, in its order."""
        for reading in readings:
            if reading.understood:
                self._take(reading, now_ms)
            elif reading.wrong is not Wrong.MIDWAY:
                self._bad_at, self._newest_is_bad = now_ms, True

    def _take(self, reading: Reading, now_ms: int) -> None:
        before = self._last
        fresh = before is not None and now_ms - self._last_at <= self.rule.stale_ms
        same = fresh and before is not None and _alike(before, reading)
        rests = reading.flag is not Flag.UNSTEADY and reading.grams is not None
        if same and rests and self._run:
            self._run += 1
        else:
            self._run, self._run_from = int(rests), now_ms
        self._watch_flag(reading, now_ms)
        if before is not None and reading.unit and before.unit not in (None, reading.unit):
            self._unit_until = now_ms + self.rule.unit_ms
            self._unit_before = before.unit
        if reading.unit is None and before is not None:  # an overload often comes without a unit
            reading = Reading(reading.raw, None, before.unit, reading.flag, reading.net)
        self._last, self._last_at, self._newest_is_bad = reading, now_ms, False

    def _watch_flag(self, reading: Reading, now_ms: int) -> None:
        """Notice a flag that says steady while number after number differs."""
        if not reading.stable:
            self._different.clear()
        elif not self._different or self._different[-1] != reading.grams:
            self._different.append(reading.grams)
            if len(self._different) == RUNNING:
                self._distrust_until = now_ms + self.rule.distrust_ms
        elif self._run >= self.rule.equal:
            self._different.clear()

    def live(self, now_ms: int) -> LiveWeight:
        """What the weight is worth now."""
        if self._link is not Link.OPEN:
            return self._without_link()
        last = self._last
        if last is None or now_ms - self._last_at > self.rule.stale_ms:
            return self._silent(now_ms)
        if last.overload:
            return _shown(WeightState.OVERLOAD, _SENTENCES[WeightState.OVERLOAD], last)
        state, sentence = self._judged(last, now_ms)
        return LiveWeight(state, sentence, last.grams, last.unit, last.net)

    def _without_link(self) -> LiveWeight:
        state = {
            Link.NONE: WeightState.NONE,
            Link.OPENING: WeightState.OPENING,
            Link.LOST: WeightState.LOST,
            Link.RETRYING: WeightState.RETRYING,
        }[self._link]
        if state is WeightState.NONE:
            return LiveWeight()
        sentence = " ".join(part for part in (self._why, _SENTENCES[state]) if part)
        return LiveWeight(state, sentence)

    def _silent(self, now_ms: int) -> LiveWeight:
        """No good reading: the scale is quiet, or speaks what nobody understands."""
        bad = self._bad_at is not None and now_ms - self._bad_at <= self.rule.stale_ms
        if bad:
            state = WeightState.GARBAGE
        elif self.rule.typed:
            return LiveWeight(WeightState.WAITING, _SEND)
        else:
            state = WeightState.WAITING if self._last is None else WeightState.STALE
        return LiveWeight(state, _SENTENCES[state])

    def _judged(self, last: Reading, now_ms: int) -> tuple[WeightState, str]:
        """The state of a weight that is fresh."""
        assert last.grams is not None  # only an overload has none, and it was told before
        if self._unit_until is not None and now_ms < self._unit_until:
            return WeightState.UNIT_CHANGED, (
                f"The scale changed from {self._unit_before} to {last.unit}; the weight here is "
                "in kilograms. Look at the scale before you weigh in."
            )
        if last.grams < 0:
            return WeightState.NEGATIVE, _SENTENCES[WeightState.NEGATIVE]
        distrusted = self._distrust_until is not None and now_ms < self._distrust_until
        if not self._at_rest(last, now_ms, distrusted=distrusted):
            lies = distrusted and last.stable
            return WeightState.UNSTEADY, _LYING if lies else _SENTENCES[WeightState.UNSTEADY]
        if last.grams == 0:
            return WeightState.ZERO, _SENTENCES[WeightState.ZERO]
        if self._newest_is_bad:  # it may have said that the weight is another by now
            return WeightState.UNSTEADY, _UNREAD
        return WeightState.STEADY, f"Steady at {kg_text(last.grams)} kg."

    def _at_rest(self, last: Reading, now_ms: int, *, distrusted: bool) -> bool:
        """Whether the last reading has stood long enough; it is fresh."""
        believed = last.stable and not distrusted
        rule = self.rule
        need, hold = (rule.flagged, rule.flagged_ms) if believed else (rule.equal, rule.equal_ms)
        stood = (self._last_at if need > 1 else now_ms) - self._run_from
        return self._run >= need and stood >= hold


def _alike(one: Reading, other: Reading) -> bool:
    return (one.grams, one.unit, one.net) == (other.grams, other.unit, other.net)


def _shown(state: WeightState, sentence: str, last: Reading) -> LiveWeight:
    return LiveWeight(state, sentence, None, last.unit, last.net)


_SEND = "Press the key on the scale that sends the weight, or type it."

_LYING = "The scale says steady, but its numbers still run. Wait until they stand."

_UNREAD = "The last line from the scale could not be read. Wait for the next, or weigh again."

_SENTENCES = {
    WeightState.OPENING: "Looking for the scale.",
    WeightState.LOST: "Look at its plug and its power. Until it is back, type the weight.",
    WeightState.RETRYING: "Trying again by itself. Until it is back, type the weight.",
    WeightState.WAITING: "The scale is connected and has sent nothing yet. Is it switched on?",
    WeightState.GARBAGE: (
        "The scale sends what this station does not understand. Look at Setup, Scale. "
        "Until then, type the weight."
    ),
    WeightState.STALE: "The scale has stopped sending. Is it switched on? Else type the weight.",
    WeightState.OVERLOAD: "Too much for the scale. Take something off.",
    WeightState.NEGATIVE: "Below zero. Put the tub back, or zero the empty scale.",
    WeightState.ZERO: "Nothing on the scale.",
    WeightState.UNSTEADY: "Wait until the weight stands still.",
}
