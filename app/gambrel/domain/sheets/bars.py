"""EAN-13 as bars: which of its 95 modules are dark."""

from __future__ import annotations

from functools import lru_cache
from itertools import groupby

MODULES = 95
"""Modules of an EAN-13 symbol without its quiet zones."""

QUIET_LEFT, QUIET_RIGHT = 11, 7
"""Light modules that must stay free before and behind it (GS1 General Specifications, 5.2)."""

_ODD = (
    "0001101", "0011001", "0010011", "0111101", "0100011",
    "0110001", "0101111", "0111011", "0110111", "0001011",
)  # fmt: skip
"""Number set A of the symbology (ISO/IEC 15420); B and C follow from it."""

_RIGHT = tuple(code.translate(str.maketrans("01", "10")) for code in _ODD)
_EVEN = tuple(code[::-1] for code in _RIGHT)
_PARITY = (
    "AAAAAA", "AABABB", "AABBAB", "AABBBA", "ABAABB",
    "ABBAAB", "ABBBAA", "ABABAB", "ABABBA", "ABBABA",
)  # fmt: skip
"""Which set each digit of the left half uses: that is how the first digit is told."""


def ean13_modules(number: str) -> str:
    """A thirteen-digit number as 95 characters, ``1`` for dark.

    Raises:
        ValueError: Not thirteen digits. The check digit is not looked at.
    """
    if len(number) != 13 or not (number.isascii() and number.isdigit()):
        raise ValueError(f"{number!r} is not an EAN-13 number; expected thirteen digits")
    first, left, right = int(number[0]), number[1:7], number[7:]
    sets = {"A": _ODD, "B": _EVEN}
    head = "".join(
        sets[parity][int(digit)] for parity, digit in zip(_PARITY[first], left, strict=True)
    )
    tail = "".join(_RIGHT[int(digit)] for digit in right)
    return f"101{head}01010{tail}101"


@lru_cache(maxsize=1024)
def ean13_bars(number: str) -> tuple[tuple[int, int, bool], ...]:
    """The dark bars of a number: first module, width in modules, and whether it is a guard."""
    bars, at = [], 0
    for dark, run in groupby(ean13_modules(number)):
        width = len(list(run))
        if dark == "1":
            bars.append((at, width, at < 3 or 45 <= at < 50 or at >= 92))
        at += width
    return tuple(bars)
