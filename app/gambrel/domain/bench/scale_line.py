"""Reading the bytes of a scale: lines out of a stream, and a weight out of each line.

Pure: no port and no clock. Whatever comes, nothing is raised; what is not understood is a
`Reading` that says so in words, and is counted.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from enum import StrEnum

from gambrel.domain.bench.scale_pattern import LONGEST_LINE, LineEnd, ScalePattern, Unit
from gambrel.domain.numbers.mass import HEAVIEST_G

GRAMS_IN: dict[Unit, Decimal] = {
    Unit.GRAM: Decimal(1),
    Unit.KILOGRAM: Decimal(1000),
    Unit.POUND: Decimal("453.59237"),
    Unit.OUNCE: Decimal("28.349523125"),
}
"""Exact. Source: International yard and pound agreement, 1959: 1 lb = 0.45359237 kg exactly; an
avoirdupois ounce is a sixteenth of it."""

STX, NUL = 0x02, 0x00

_MAY_BE_GROUPED = re.compile(r"\d{1,3}[.,]\d{3}", re.ASCII)
"""In grams, ``1,234``: 1 g with three decimals, or 1234 g with its digits in groups."""


class Flag(StrEnum):
    """What a line says about itself."""

    NONE = ""
    STEADY = "steady"
    UNSTEADY = "unsteady"
    OVERLOAD = "overload"


class Wrong(StrEnum):
    """Why a line gave no weight, for the person who sets the scale up."""

    NO_FIT = "does not fit the pattern"
    NO_WEIGHT = "is more than any scale in a shop weighs"
    GROUPED = "may mean thousands of grams or thousandths of one"
    TOO_LONG = "has no end; dropped"
    MIDWAY = "began before we listened; dropped"
    HALF = "stopped halfway; dropped"


@dataclass(frozen=True, slots=True)
class Reading:
    """One line and what was understood of it.

    Attributes:
        raw: The bytes of the line, without its end.
        grams: Whole grams, signed; None on overload and where the line was not understood.
        unit: The unit in which the scale shows it.
        flag: What the line says about itself.
        net: Whether the scale says that it has taken a tare off already.
        wrong: Why there is no weight; None where the line was understood.
    """

    raw: bytes
    grams: int | None = None
    unit: Unit | None = None
    flag: Flag = Flag.NONE
    net: bool = False
    wrong: Wrong | None = None

    @property
    def understood(self) -> bool:
        """Whether the line had its say, be it a weight or an overload."""
        return self.wrong is None

    @property
    def stable(self) -> bool:
        """Whether the line itself says that the weight is at rest."""
        return self.flag is Flag.STEADY

    @property
    def overload(self) -> bool:
        """Whether the scale says that it bears too much."""
        return self.flag is Flag.OVERLOAD

    @property
    def words(self) -> str:
        """What was understood, in words."""
        if self.wrong is not None:
            return f"not understood: it {self.wrong}"
        if self.grams is None:
            return "overload"
        sent = f"sent in {self.unit}" if self.unit not in (None, Unit.GRAM) else ""
        net = "net" if self.net else ""
        return ", ".join(part for part in (f"{self.grams} g", self.flag.value, net, sent) if part)


def to_grams(value: Decimal, unit: Unit) -> int:
    """A scale's figure as whole grams, a half away from zero.

    The rounding is ours: the book knows whole grams. A gram or finer is what a bench scale shows,
    so only pounds and ounces are really rounded, by at most half a gram.
    """
    return int((value * GRAMS_IN[unit]).to_integral_value(rounding=ROUND_HALF_UP))


def read_line(pattern: ScalePattern, raw: bytes) -> Reading:
    """What one whole line says."""
    text = raw.decode("latin-1")
    match = pattern.regex.fullmatch(text)
    if match is None:
        return _without_weight(pattern, raw, text)
    found = match.groupdict()
    flag = _flag(pattern, found.get("st") or "")
    net = (found.get("mode") or "") in pattern.words.net
    unit = Unit((found.get("unit") or "").lower()) if found.get("unit") else pattern.unit
    if flag is Flag.OVERLOAD:
        return Reading(raw, None, unit, flag, net)
    assert unit is not None  # a pattern without a unit of its own has it in every line
    if unit is Unit.GRAM and _MAY_BE_GROUPED.fullmatch(found["val"]):
        return Reading(raw, wrong=Wrong.GROUPED)
    grams = to_grams(Decimal(found["val"].replace(",", ".")), unit)
    if grams > HEAVIEST_G:
        return Reading(raw, wrong=Wrong.NO_WEIGHT)
    return Reading(raw, -grams if found.get("sign") == "-" else grams, unit, flag, net)


def _without_weight(pattern: ScalePattern, raw: bytes, text: str) -> Reading:
    """A scale that bears too much often sends its word, and no number that would fit."""
    if any(word in pattern.words.overload for word in re.split(r"[\s,;]+", text)):
        return Reading(raw, flag=Flag.OVERLOAD)
    return Reading(raw, wrong=Wrong.NO_FIT)


def _flag(pattern: ScalePattern, word: str) -> Flag:
    words = pattern.words
    if word in words.overload:
        return Flag.OVERLOAD
    if word in words.steady:
        return Flag.STEADY
    return Flag.UNSTEADY if word in words.unsteady else Flag.NONE


class LineReader:
    """Cuts what comes in pieces of any size into lines, and reads them.

    NUL is passed over; STX begins a line and throws away what stood before it. A line of more than
    `LONGEST_LINE` bytes is dropped up to its end.

    Args:
        pattern: How a line is read.
        midway: True where the first line may have begun before we listened: half a number looks
            like a number, so the first line is dropped, unless STX shows where it begins.
    """

    def __init__(self, pattern: ScalePattern, *, midway: bool = True) -> None:
        self.pattern = pattern
        self.good = 0
        self.bad = 0
        self._line = bytearray()
        self._ends = frozenset(map(ord, pattern.ends))
        self._blank_ends = frozenset(map(ord, LineEnd)) - self._ends
        self._skips: Wrong | None = Wrong.MIDWAY if midway else None

    def feed(self, chunk: bytes) -> list[Reading]:
        """Take what came; return a reading for each line that ended."""
        found: list[Reading] = []
        for byte in chunk:
            if byte in self._ends:
                if reading := self._end_line():
                    found.append(reading)
            elif byte == STX:
                if reading := self._begin_line():
                    found.append(reading)
            elif byte != NUL:
                self._take(byte)
        for reading in found:
            if reading.wrong is not Wrong.MIDWAY:  # joining midway is nobody's fault
                self.good += reading.understood
                self.bad += not reading.understood
        return found

    def pause(self) -> None:
        """Nothing came for longer than a line takes (half a second and more).

        What comes next therefore begins a line; and what stands half read never ended, so that
        its beginning and some later end are not taken for one number.
        """
        if self._line:
            self._skips = Wrong.HALF
        elif self._skips is Wrong.MIDWAY:
            self._skips = None

    def _take(self, byte: int) -> None:
        """An end that this scale does not use for ending a line counts as a blank in it."""
        if len(self._line) >= LONGEST_LINE:
            self._skips = Wrong.TOO_LONG
            return
        self._line.append(ord(" ") if byte in self._blank_ends else byte)

    def _begin_line(self) -> Reading | None:
        """STX: what stood before it had no end, so it is no line."""
        half, why = bytes(self._line), self._skips
        self._line.clear()
        self._skips = None
        if not half.strip():
            return None
        return Reading(half, wrong=why or Wrong.NO_FIT)

    def _end_line(self) -> Reading | None:
        raw, why = bytes(self._line), self._skips
        self._line.clear()
        self._skips = None
        if why is not None and (raw.strip() or why is Wrong.TOO_LONG):
            return Reading(raw, wrong=why)
        return read_line(self.pattern, raw) if raw.strip() else None
