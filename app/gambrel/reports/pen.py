"""A pen over reportlab's canvas: points from the top left corner, and words that fit."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Literal

from gambrel.domain.drawing.marks import Path
from gambrel.reports.fitting import clean, fit_line
from gambrel.reports.fonts import width_of
from gambrel.reports.look import Face

if TYPE_CHECKING:
    from reportlab.lib.colors import Color
    from reportlab.pdfgen.canvas import Canvas
    from reportlab.pdfgen.pathobject import PDFPathObject

Align = Literal["left", "centre", "right"]

LEAST_SHRINK = 0.8
"""A cell's words may shrink to this part of their size before they are cut."""


class Pen:
    """Draws on one page of a canvas; ``y`` grows downwards, all measures are points."""

    def __init__(self, canvas: Canvas, height: float) -> None:
        self.canvas = canvas
        self._height = height
        self.cut: list[str] = []
        """Words that did not fit and were cut short."""

    def level(self, y: float) -> float:
        """A height from the top as the canvas counts it, from the bottom."""
        return self._height - y

    def text(self, x: float, y: float, words: str, face: Face, align: Align = "left") -> None:
        """Write on a base line, as wide as it comes."""
        if align != "left":
            width = width_of(words, face.font, face.size)
            x -= width if align == "right" else width / 2
        canvas = self.canvas
        canvas.setFillColor(face.colour)
        canvas.setFont(face.font, face.size)
        canvas.drawString(x, self._height - y, words)

    def fit(
        self,
        x: float,
        y: float,
        width: float,
        words: str,
        face: Face,
        align: Align = "left",
        least: float = LEAST_SHRINK,
    ) -> float:
        """Write one line within a width from ``x`` on; returns the width it took."""
        fitted = fit_line(words, face.font, face.size, width, face.size * least)
        if fitted.cut:
            self.cut.append(clean(words))
        anchor = {"left": x, "centre": x + width / 2, "right": x + width}[align]
        self.text(anchor, y, fitted.lines[0], face.at(fitted.size), align)
        return width_of(fitted.lines[0], face.font, fitted.size)

    def runs(self, x: float, y: float, parts: Sequence[tuple[str, Face]]) -> float:
        """Write parts in different faces one after another; returns where the last one ends."""
        for words, face in parts:
            self.text(x, y, words, face)
            x += width_of(words, face.font, face.size)
        return x

    def rule(self, x: float, y: float, width: float, colour: Color, weight: float = 0.5) -> None:
        """A level line."""
        self.canvas.setStrokeColor(colour)
        self.canvas.setLineWidth(weight)
        self.canvas.line(x, self._height - y, x + width, self._height - y)

    def stem(self, x: float, y: float, height: float, colour: Color, weight: float = 0.5) -> None:
        """An upright line downwards from ``y``."""
        self.canvas.setStrokeColor(colour)
        self.canvas.setLineWidth(weight)
        self.canvas.line(x, self._height - y, x, self._height - y - height)

    def box(
        self,
        x: float,
        y: float,
        width: float,
        height: float,
        fill: Color | None = None,
        stroke: Color | None = None,
        radius: float = 0,
    ) -> None:
        """A rectangle whose top left corner is given."""
        if fill is not None:
            self.canvas.setFillColor(fill)
        if stroke is not None:
            self.canvas.setStrokeColor(stroke)
            self.canvas.setLineWidth(0.5)
        self.canvas.roundRect(
            x,
            self._height - y - height,
            width,
            height,
            radius,
            stroke=int(stroke is not None),
            fill=int(fill is not None),
        )

    def path(self, path: Path, x: float, y: float, scale: float) -> PDFPathObject:
        """A drawing's path with its origin at a point, ready to be filled or drawn."""
        drawn = self.canvas.beginPath()
        for letter, points in path:
            flat = [
                part
                for px, py in points
                for part in (x + px * scale, self._height - y - py * scale)
            ]
            if letter == "M":
                drawn.moveTo(*flat)
            elif letter == "L":
                drawn.lineTo(*flat)
            elif letter == "C":
                drawn.curveTo(*flat)
            else:
                drawn.close()
        return drawn
