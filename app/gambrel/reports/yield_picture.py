"""A body's map as a picture of its yield: what every region gave, and where it is far from norm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import cos, radians, sin
from typing import NamedTuple

from reportlab.lib.colors import Color, HexColor

from gambrel.domain.drawing.bodymap import BodyMap, Region
from gambrel.domain.sheets.cut_rows import CutRow
from gambrel.domain.sheets.sections import Section
from gambrel.domain.trade.formats import Formats
from gambrel.reports.body_picture import map_of
from gambrel.reports.fonts import BOLD, REGULAR, width_of
from gambrel.reports.look import WIDTH, look
from gambrel.reports.pen import Pen

TALLEST = 180.0
LEAST = 70.0
"""Points: under this nobody reads a map, and it is left out."""

_LARGEST, _SMALLEST = 8.0, 5.6
_LEADING = 1.15
_MARK = 5.0

TOLD = (
    "Tinted: weighed, with kilograms and part of the body; a cut of several regions is told once. "
    "Amber with a mark: far over (up) or under (down) norm. White: nothing weighed."
)


Lines = tuple[tuple[str, str], ...]
"""Words and their font, one line below another."""


class Given(NamedTuple):
    """What a region gave: grams, its part of the input, its norm, and whether it is far off."""

    grams: int
    share: Decimal | None
    norm: Decimal | None
    off: bool
    told: bool
    """Whether its figures stand here; a cut of several regions tells them in the first."""

    @property
    def is_over(self) -> bool:
        """Whether it gave more than its norm."""
        return (self.share or Decimal(0)) > (self.norm or Decimal(0))


@dataclass(frozen=True, slots=True)
class YieldPicture:
    """A block: the map as large as its room lets it be."""

    drawing: BodyMap
    given: dict[str, Given | None]
    formats: Formats
    room: float = TALLEST
    gap: float = 8.0
    width: float = WIDTH

    @property
    def height(self) -> float:
        """As the drawing's proportions want it."""
        return min(self.room, TALLEST, self.width * self.drawing.height / self.drawing.width)

    def draw(self, pen: Pen, x: float, y: float) -> None:
        """Regions, outline and labels, in the middle."""
        shown, canvas = look(), pen.canvas
        scale = min(self.width / self.drawing.width, self.height / self.drawing.height)
        x += (self.width - self.drawing.width * scale) / 2
        canvas.setLineJoin(1)
        canvas.setLineWidth(0.6)
        canvas.setStrokeColor(shown.ink)
        for region in self.drawing.regions:
            canvas.setFillColor(self._fill(region))
            canvas.drawPath(pen.path(region.path, x, y, scale), stroke=1, fill=1)
        canvas.setLineWidth(1.1)
        canvas.drawPath(pen.path(self.drawing.outline, x, y, scale), stroke=1, fill=0)
        for region in self.drawing.regions:
            self._label(pen, region, x, y, scale)

    def _fill(self, region: Region) -> Color:
        given = self.given[region.region]
        theme = look().theme
        if given is None:
            return look().white
        return HexColor(theme.watch_tint if given.off else theme.weighed)

    def _label(self, pen: Pen, region: Region, x: float, y: float, scale: float) -> None:
        """A region's name over its figures where they stay inside it, else its name alone."""
        size, lines = self._fitting(region, scale)
        if not lines:
            return
        canvas = pen.canvas
        canvas.saveState()
        canvas.translate(x + region.label.x * scale, pen.level(y + region.label.y * scale))
        canvas.rotate(-region.label.turn)
        canvas.setFillColor(look().ink)
        first = size * (_LEADING * (len(lines) - 1) / 2 - 0.35)
        for n, (words, font) in enumerate(lines):
            canvas.setFont(font, size)
            canvas.drawCentredString(0, first - n * size * _LEADING, words)
        self._mark(pen, region, width_of(lines[0][0], BOLD, size), first)
        canvas.restoreState()

    def _fitting(self, region: Region, scale: float) -> tuple[float, Lines]:
        """The most that can be told, in the largest letters that stay inside."""
        name = (region.name, BOLD)
        for figures in self._figures(self.given[region.region]):
            lines: Lines = (name, *((words, REGULAR) for words in figures))
            size = _LARGEST
            while size >= _SMALLEST:
                if _stays_inside(region, lines, size / scale):
                    return size, lines
                size -= 0.4
        size = min(region.label.room * scale / width_of(region.name, BOLD, 1), _LARGEST)
        return (size, (name,)) if size >= _SMALLEST else (0.0, ())

    def _figures(self, given: Given | None) -> tuple[tuple[str, ...], ...]:
        """Ways to write a region's figures, the widest first."""
        if given is None or not given.told:
            return ()
        kg, share = f"{self.formats.kg(given.grams, 2)} kg", self.formats.percent(given.share)
        return (f"{kg}  {share}",), (kg, share)

    def _mark(self, pen: Pen, region: Region, name: float, base: float) -> None:
        """A triangle behind the name of a region far off its norm: up for over, down for under."""
        given = self.given[region.region]
        if given is None or not given.off:
            return
        left, top, bottom = name / 2 + 2, base + _MARK, base
        tip, foot = (top, bottom) if given.is_over else (bottom, top)
        path = pen.canvas.beginPath()
        path.moveTo(left, foot)
        path.lineTo(left + _MARK, foot)
        path.lineTo(left + _MARK / 2, tip)
        path.close()
        pen.canvas.setFillColor(HexColor(look().theme.watch))
        pen.canvas.drawPath(path, stroke=0, fill=1)


def yield_picture(section: Section, formats: Formats) -> YieldPicture | None:
    """The picture of a body that was broken, or None where there is no drawing for it."""
    first = section.bodies[0].body
    drawing = map_of(first.species, first.portion, section.rows)
    if drawing is None:
        return None
    off = section.off_norm()
    given = {
        region.region: _given(region, drawing, section.rows, off) for region in drawing.regions
    }
    return YieldPicture(drawing, given, formats)


def _given(
    region: Region, drawing: BodyMap, rows: Sequence[CutRow], off: Sequence[CutRow]
) -> Given | None:
    """What came from a region, or None where nothing did."""
    here = [row for row in rows if row.cut.key in region.cuts]
    if not here:
        return None
    told = [row for row in here if drawing.regions_of(row.cut.key)[0] is region]
    norms = [row.norm for row in told if row.norm is not None]
    return Given(
        grams=sum(row.net_g for row in told),
        share=sum((row.share or Decimal(0) for row in told), Decimal(0)),
        norm=sum(norms, Decimal(0)) if norms else None,
        off=any(row in off for row in told),
        told=bool(told),
    )


def _stays_inside(region: Region, lines: Lines, size: float) -> bool:
    """Whether the corners of a label lie within its region; ``size`` in units of the drawing."""
    label, turn = region.label, radians(region.label.turn)
    across = max(width_of(words, font, size) for words, font in lines) / 2
    down = size * (_LEADING * (len(lines) - 1) + 1) / 2
    return all(
        region.contains(
            label.x + dx * cos(turn) - dy * sin(turn), label.y + dx * sin(turn) + dy * cos(turn)
        )
        for dx in (-across, across)
        for dy in (-down, down)
    )
