"""Which drawing a body has, and the bar of what became of its meat."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from reportlab.lib.colors import HexColor

from gambrel.assets import text
from gambrel.domain.drawing.bodymap import BodyMap
from gambrel.domain.drawing.bodymap_reader import read_map
from gambrel.domain.sheets.cut_rows import CutRow
from gambrel.reports.fonts import width_of
from gambrel.reports.look import WIDTH, Face, look
from gambrel.reports.pen import Pen


@cache
def body_map(species: str, portion: str) -> BodyMap | None:
    """The drawing of a portion, or None where there is none."""
    try:
        return read_map(text(f"maps/{species}-{portion}.toml"))
    except FileNotFoundError:
        return None


def map_of(species: str, portion: str, rows: Sequence[CutRow]) -> BodyMap | None:
    """The drawing for a body, if its regions know any of the cuts that came off."""
    found = body_map(species, portion)
    if found is None or not any(found.regions_of(row.cut.key) for row in rows):
        return None
    return found


_SWATCH = 9.0
"""From the edge of a legend's colour to its words."""


@dataclass(frozen=True, slots=True)
class Part:
    """One stretch of a split bar: what it is called, its grams as text, its share and colour."""

    name: str
    weight: str
    percent: str
    share: Decimal
    colour: str


@dataclass(frozen=True, slots=True)
class SplitBar:
    """A bar of what became of the meat, with its legend below."""

    parts: Sequence[Part]
    gap: float = 6.0
    width: float = WIDTH

    @property
    def height(self) -> float:
        """The bar and its legend."""
        return 23.0

    def draw(self, pen: Pen, x: float, y: float) -> None:
        """Stretches by share; each named below, in order."""
        shown = look()
        whole = sum((part.share for part in self.parts), Decimal(0)) or Decimal(1)
        left = x
        for part in self.parts:
            span = float(part.share / whole) * self.width
            if span > 0:
                pen.box(left, y, span, 10, fill=HexColor(part.colour), stroke=shown.edge)
            left += span
        words = [_legend(part) for part in self.parts]
        face = shown.body.at(7.5)
        used = sum(width_of(each, face.font, face.size) + _SWATCH for each in words)
        if used > self.width - _SWATCH * len(words):
            self._tight(pen, words, x, y)
            return
        between = min((self.width - used) / max(len(words) - 1, 1), 3 * _SWATCH)
        for part, each in zip(self.parts, words, strict=True):
            x = self._entry(pen, part, each, face, x, y) + between

    def _tight(self, pen: Pen, words: Sequence[str], x: float, y: float) -> None:
        """Equal rooms for entries that are too long to follow each other."""
        room = self.width / len(words)
        for n, (part, each) in enumerate(zip(self.parts, words, strict=True)):
            size = min(7.5, 7.5 * (room - 1.5 * _SWATCH) / width_of(each, look().body.font, 7.5))
            self._entry(pen, part, each, look().body.at(size), x + n * room, y)

    def _entry(self, pen: Pen, part: Part, words: str, face: Face, x: float, y: float) -> float:
        pen.box(x, y + 14.2, 6, 6, fill=HexColor(part.colour), stroke=look().edge)
        pen.text(x + _SWATCH, y + 20, words, face)
        return x + _SWATCH + width_of(words, face.font, face.size)


def _legend(part: Part) -> str:
    return f"{part.name} {part.weight} kg \N{MIDDLE DOT} {part.percent}"
