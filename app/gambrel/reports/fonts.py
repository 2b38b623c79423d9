"""The paper's own typeface, the same as on the screen, embedded in every file."""

from __future__ import annotations

from functools import cache, lru_cache
from io import BytesIO

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from gambrel.assets import data

REGULAR = "IBMPlexSans-Regular"
SEMIBOLD = "IBMPlexSans-SemiBold"
BOLD = "IBMPlexSans-Bold"

CAP_HEIGHT = 0.698
"""Height of a capital or a digit over the type size (from the font's own OS/2 table)."""

DESCENT = 0.26
"""How far letters reach under their base line, in parts of the type size."""

OVERSHOOT = 0.085
"""How far a dollar sign reaches over and under the digits, in parts of the type size."""


@cache
def register_fonts() -> None:
    """Make the three weights known to reportlab, once a process."""
    for name in (REGULAR, SEMIBOLD, BOLD):
        pdfmetrics.registerFont(TTFont(name, BytesIO(data(f"fonts/{name}.ttf"))))


@lru_cache(maxsize=4096)
def em_width(words: str, font: str) -> float:
    """How wide a text is at a size of one point."""
    return float(pdfmetrics.stringWidth(words, font, 1))


def width_of(words: str, font: str, size: float) -> float:
    """How wide a text is, in points."""
    return em_width(words, font) * size
