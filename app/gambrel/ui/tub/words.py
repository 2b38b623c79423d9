"""How the tub says lean, age and last days. Pure: no Qt."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from typing import NamedTuple

from gambrel.domain.bench.trim import FreeClass, FreePiece, Mark
from gambrel.domain.trade.formats import Formats

UNKNOWN = "lean not known"


class Marked(NamedTuple):
    """A meaning of the theme ("fine", "watch", "stop") and its word."""

    meaning: str
    word: str


def percent(number: Decimal, formats: Formats, decimals: int = 1) -> str:
    """Per cent as ``68.5 %``, without decimals that say nothing."""
    places = decimals if number % 1 else 0
    return formats.percent(number / 100, places)


def lean_of(row: FreePiece, formats: Formats) -> str:
    """The lean of a piece, and how it is known."""
    if row.lean is None:
        return UNKNOWN
    how = "measured" if row.lean.measured else "by class"
    return f"{percent(row.lean.percent, formats, 2)} lean, {how}"


def lean_of_class(row: FreeClass, formats: Formats) -> str:
    """The lean of all that stands free of a class, and how it is known."""
    lean = row.lean_percent
    if lean is None:
        return UNKNOWN
    measured = [piece.lean is not None and piece.lean.measured for piece in row.pieces]
    how = "measured" if all(measured) else "partly measured" if any(measured) else "by class"
    return f"{percent(lean, formats)} lean, {how}"


def age(row: FreePiece) -> str:
    """How long ago a piece was weighed: hours on the first business day, then days."""
    if row.days == 0:
        return "weighed now" if row.hours == 0 else f"{row.hours} h old"
    return "1 day old" if row.days == 1 else f"{row.days} days old"


def marked(row: FreePiece, formats: Formats) -> Marked:
    """A piece's mark, with the day that it is about."""
    last = row.last_day
    if last is None:
        return Marked("fine", "no date set")
    own = row.use_by is not None and row.use_by == last
    limit = "use by" if own else "blend by"
    if row.mark is Mark.STOP:
        what = "past its use-by" if own else "past the limit"
        return Marked("stop", f"{what}, {formats.short_day(last)}")
    return Marked(row.mark.value, f"{limit} {_day(last, row.today, formats)}")


def marked_class(row: FreeClass, formats: Formats) -> Marked:
    """A class's mark: that of its gravest piece, and how much of it that concerns."""
    gravest = [piece for piece in row.pieces if piece.mark is row.mark]
    first = min(gravest, key=lambda piece: piece.last_day or date.max)
    found = marked(first, formats)
    if row.mark is Mark.FINE or len(gravest) == len(row.pieces):
        return found
    grams = sum(piece.free_g for piece in gravest)
    word = found.word.partition(",")[0]
    to = "" if row.mark is Mark.STOP else "to "
    return Marked(found.meaning, f"{formats.kg(grams, 2)} kg {to}{word}")


def named(words: Sequence[str]) -> str:
    """Words with an "and" before the last."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def _day(day: date, today: date, formats: Formats) -> str:
    return {0: "today", 1: "tomorrow"}.get((day - today).days, formats.short_day(day))
