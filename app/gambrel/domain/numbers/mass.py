"""Weight in whole grams, and its written form in kilograms."""

from __future__ import annotations

import re

GRAMS_PER_KILO = 1000
HEAVIEST_G = 10_000_000
"""Ten tonnes: no single weighing in a shop passes it (common practice, no source)."""

_KILOGRAMS = re.compile(r"(?P<sign>-?)(?P<whole>\d{1,12})(?:\.(?P<part>\d{1,3}))?", re.ASCII)


def parse_kg(text: str) -> int:
    """Read kilograms with up to three decimals as grams.

    Args:
        text: For example ``"4.386"`` or ``"82"``; a decimal point, no grouping.
    Returns:
        Whole grams, zero or more.
    Raises:
        ValueError: Not such a number, negative, or heavier than ten tonnes; the message
            says what was expected.
    """
    match = _KILOGRAMS.fullmatch(text.strip())
    if match is None:
        raise ValueError(f"{text!r} is not a weight; expected kilograms such as 4.386")
    if match["sign"]:
        raise ValueError(f"{text!r} is negative; expected a weight of zero or more")
    grams = int(match["whole"]) * GRAMS_PER_KILO + int((match["part"] or "").ljust(3, "0"))
    if grams > HEAVIEST_G:
        raise ValueError(f"{text!r} kg is more than any piece weighs; expected at most 10000")
    return grams


def kg_text(grams: int, decimals: int = 3) -> str:
    """Grams as kilograms with a decimal point; ``decimals`` below three round half up."""
    step = 10 ** (3 - decimals)
    rounded = (abs(grams) * 2 + step) // (2 * step)
    whole, part = divmod(rounded, 10**decimals)
    sign = "-" if grams < 0 and rounded else ""
    return f"{sign}{whole}.{part:0{decimals}d}" if decimals else f"{sign}{whole}"
