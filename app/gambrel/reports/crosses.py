"""The test sheet of a paper: crosses at known places, so that a printer can be put right.

Whoever measures from the paper's edge to a cross sees by how much the printer is off; a line of
known length tells whether it keeps the measures at all.
"""

from __future__ import annotations

from io import BytesIO
from typing import NamedTuple

from gambrel.reports.fonts import REGULAR, SEMIBOLD
from gambrel.reports.look import MM, Face, look
from gambrel.reports.pages import new_canvas
from gambrel.reports.papers import Sheet
from gambrel.reports.pen import Pen

_THIN = 0.25
_WORDS = 7.0


class Trial(NamedTuple):
    """Millimetres: from the page's edges to the crosses, along an arm, and along the line."""

    edge: float
    arm: float
    line: float


def trial_of(sheet: Sheet) -> Trial:
    """Where the crosses of a paper stand; on a small label nearer to its edges."""
    shorter = min(sheet.page)
    if shorter < 60:
        return Trial(edge=6, arm=3, line=20)
    if shorter < 140:
        return Trial(edge=10, arm=5, line=40)
    return Trial(edge=20, arm=5, line=100)


def draw_crosses(sheet: Sheet, shift: tuple[float, float], *, shop: str) -> bytes:
    """Draw the test sheet of a paper.

    Args:
        sheet: The paper.
        shift: Millimetres to the right and down, as labels on it are moved.
        shop: For the document's properties.
    Returns:
        The PDF; the same paper and shift give the same bytes.
    """
    out = BytesIO()
    width, height = sheet.page
    trial = trial_of(sheet)
    about = f"{trial.edge:g} mm from the edges"
    canvas = new_canvas(
        out,
        (width * MM, height * MM),
        title=f"Test sheet, {sheet.name}",
        author=shop,
        subject=about,
    )
    pen = Pen(canvas, height * MM)
    for x in (trial.edge, width - trial.edge):
        for y in (trial.edge, height - trial.edge):
            _cross(pen, x + shift[0], y + shift[1], trial.arm)
    _words(pen, trial, (width, height), shift)
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def _cross(pen: Pen, x: float, y: float, arm: float) -> None:
    """A cross with its middle at a point, and a mark at every millimetre of its arms."""
    ink = look().ink
    pen.rule((x - arm) * MM, y * MM, 2 * arm * MM, ink, _THIN)
    pen.stem(x * MM, (y - arm) * MM, 2 * arm * MM, ink, _THIN)
    for millimetre in range(1, int(arm)):
        for side in (-millimetre, millimetre):
            pen.stem((x + side) * MM, (y - 0.7) * MM, 1.4 * MM, ink, _THIN)
            pen.rule((x - 0.7) * MM, (y + side) * MM, 1.4 * MM, ink, _THIN)


def _words(pen: Pen, trial: Trial, page: tuple[float, float], shift: tuple[float, float]) -> None:
    """In the middle: what to measure, and a line of known length."""
    ink = look().ink
    left = (page[0] - trial.line) / 2
    middle = page[1] / 2
    pen.rule(left * MM, middle * MM, trial.line * MM, ink, 0.5)
    for x in (left, left + trial.line):
        pen.stem(x * MM, (middle - 1.5) * MM, 3 * MM, ink, 0.5)
    moved = f"Moved {shift[0]:g} mm right, {shift[1]:g} mm down" if any(shift) else "Not moved"
    lines = (
        (f"This line is {trial.line:g} mm", SEMIBOLD, -2.2),
        (f"Crosses: {trial.edge:g} mm from each edge", REGULAR, 4.2),
        (moved, REGULAR, 7.4),
    )
    for words, font, below in lines:
        face = Face(font, _WORDS, ink)
        pen.text(page[0] / 2 * MM, (middle + below) * MM, words, face, align="centre")
