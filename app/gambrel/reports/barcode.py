"""EAN-13 drawn as one path, in bars that are whole dots of a ticket printer."""

from __future__ import annotations

from gambrel.domain.sheets.bars import MODULES, QUIET_LEFT, ean13_bars
from gambrel.reports.look import MM, Face, look
from gambrel.reports.pen import Pen

DOT = 0.125 * MM
"""One dot of a printer with 8 dots a millimetre (203 dpi)."""

MODULE = 3 * DOT
"""0.375 mm, 114 per cent of the nominal size: three whole dots, within GS1's 80 to 200."""

WIDTH = MODULES * MODULE
QUIET = QUIET_LEFT * MODULE
DIGITS = 3.0 * MM
"""Room for the number under the bars."""

_GUARD = 1.4 * MM


def draw_ean13(pen: Pen, number: str, right: float, y: float, height: float) -> None:
    """Draw a number's bars with their right edge near a point, and its digits below.

    The bars begin on a whole dot counted from the page's left edge.
    """
    shown = look()
    left = int((right - WIDTH) / DOT) * DOT
    path = pen.canvas.beginPath()
    for at, width, guard in ean13_bars(number):
        tall = height + (_GUARD if guard else 0)
        path.rect(left + at * MODULE, pen.level(y + tall), width * MODULE, tall)
    pen.canvas.setFillColor(shown.ink)
    pen.canvas.drawPath(path, stroke=0, fill=1)
    face = Face(shown.body.font, 7.2, shown.ink)
    base = y + height + 2.5 * MM
    pen.text(left - 3 * MODULE, base, number[0], face, "right")
    pen.text(left + 24 * MODULE, base, number[1:7], face, "centre")
    pen.text(left + 71 * MODULE, base, number[7:], face, "centre")
