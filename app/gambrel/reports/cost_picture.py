"""What a kilo cost week by week, as small lines on paper beside the last figure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from gambrel.domain.drawing.lines import spark_points
from gambrel.domain.sheets.cost_weeks import CostLine, CostWeeks
from gambrel.domain.trade.formats import Formats
from gambrel.reports.look import WIDTH, look
from gambrel.reports.pages import Block
from gambrel.reports.pen import Pen

MOST_CUTS, MOST_PORTIONS = 18, 6
ROW = 13.6
ASIDE = 22.0
"""Points between the two columns."""

NAME, LAST, CHANGE = 84.0, 48.0, 46.0
"""Points for the words before and behind a line."""


@dataclass(frozen=True, slots=True)
class CostPicture:
    """A block: lines in two columns, read downwards."""

    lines: Sequence[CostLine]
    formats: Formats
    gap: float = 6.0
    width: float = WIDTH

    @property
    def height(self) -> float:
        """Half of the lines, one below another."""
        return ROW * ((len(self.lines) + 1) // 2)

    def draw(self, pen: Pen, x: float, y: float) -> None:
        """The first half at the left."""
        half = (len(self.lines) + 1) // 2
        span = (self.width - ASIDE) / 2
        for number, line in enumerate(self.lines):
            left = x + (span + ASIDE if number >= half else 0)
            top = y + ROW * (number % half)
            if number % half:
                pen.rule(left, top, span, look().rule, 0.35)
            self._draw_line(pen, line, left, top, span)

    def _draw_line(self, pen: Pen, line: CostLine, x: float, y: float, span: float) -> None:
        shown, base = look(), y + ROW / 2 + 3
        pen.fit(x, base, NAME, line.name, shown.body.at(8))
        last = self.formats.per_kilo(line.last)
        right = x + span
        pen.fit(right - CHANGE - LAST, base, LAST, last, shown.strong.at(8), "right", 0.4)
        pen.fit(right - CHANGE + 4, base, CHANGE - 4, self._change(line), shown.note, "right", 0.4)
        self._spark(pen, line, x + NAME + 8, y + 3, span - NAME - LAST - CHANGE - 16)

    def _change(self, line: CostLine) -> str:
        if line.last is None or line.before is None:
            return ""
        was = line.values[line.before]
        return self.formats.percent((line.last - was) / was, signed=True) if was else ""

    def _spark(self, pen: Pen, line: CostLine, x: float, y: float, wide: float) -> None:
        """A line with its gaps, a point for each week, the last one larger."""
        canvas, accent = pen.canvas, look().accent
        canvas.saveState()
        canvas.setStrokeColor(accent)
        canvas.setFillColor(accent)
        canvas.setLineWidth(0.9)
        canvas.setLineJoin(1)
        found = spark_points(line.values, wide, ROW - 6)
        for points in found:
            drawn = canvas.beginPath()
            for number, (across, down) in enumerate(points):
                move = drawn.lineTo if number else drawn.moveTo
                move(x + across, pen.level(y + down))
            canvas.drawPath(drawn, stroke=1, fill=0)
            for across, down in points:
                canvas.circle(x + across, pen.level(y + down), 0.9, stroke=0, fill=1)
        if found and line.last is not None:
            across, down = found[-1][-1]
            canvas.circle(x + across, pen.level(y + down), 1.7, stroke=0, fill=1)
        canvas.restoreState()


def cost_picture(costs: CostWeeks, formats: Formats) -> Block | None:
    """The lines of this week's portions and dearest cuts; None where nothing has a cost."""
    portions = [line for line in costs.portions if line.last is not None][:MOST_PORTIONS]
    cuts = [line for line in costs.cuts if line.last is not None][:MOST_CUTS]
    lines = [*portions, *cuts]
    return CostPicture(lines, formats) if lines else None
