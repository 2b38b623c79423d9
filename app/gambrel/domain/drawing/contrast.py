"""How well one colour can be read on another."""

from __future__ import annotations

import re

_HEX = re.compile(r"#[0-9A-Fa-f]{6}", re.ASCII)


def channels(colour: object) -> tuple[int, int, int]:
    """Return red, green and blue (0 to 255) of a colour written ``#RRGGBB``.

    Raises:
        ValueError: Anything else: short forms, names and transparency are not used here.
    """
    if not isinstance(colour, str) or not _HEX.fullmatch(colour):
        raise ValueError(f"{colour!r} is not a colour: write it as #RRGGBB, like #1E3A5F.")
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def relative_luminance(colour: str) -> float:
    """Return the light of an sRGB colour, from 0.0 (black) to 1.0 (white).

    Source: the definition of relative luminance in WCAG 2.2, with the corrected break at 0.04045
    (from memory; the older 0.03928 gives the same result for every 8-bit colour).
    """
    red, green, blue = (_linear(channel / 255) for channel in channels(colour))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colours, from 1.0 to 21.0, in either order.

    Source: WCAG 2.2, contrast ratio: (lighter + 0.05) / (darker + 0.05), from memory; checked
    against published examples in tests/published/test_contrast.py.
    """
    darker, lighter = sorted((relative_luminance(one), relative_luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def _linear(value: float) -> float:
    """Undo the sRGB transfer curve for one channel of 0.0 to 1.0."""
    return value / 12.92 if value <= 0.04045 else float(((value + 0.055) / 1.055) ** 2.4)
