"""Codes drawn as one path each, in bars and squares that are whole dots of a label printer.

A printer cannot print part of a dot: bars off its grid come out wider or narrower than their
neighbours, and a scanner gives up. So every module is a whole number of dots, and every code begins
on a dot counted from the page's left top corner.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from reportlab.lib.colors import Color
from reportlab.pdfgen.pathobject import PDFPathObject

from gambrel.domain.prices.elements import GROUP_SEPARATOR, Element, as_message, as_text
from gambrel.domain.refusals import Refusal
from gambrel.domain.sheets.bars import MODULES, QUIET_LEFT, ean13_bars
from gambrel.reports.fitting import fit_line
from gambrel.reports.fonts import REGULAR
from gambrel.reports.look import MM, Face
from gambrel.reports.pen import Pen

BLACK = Color(0, 0, 0)
"""Plain black, not the papers' ink: a label printer would break any other colour into dots."""


class Dots(NamedTuple):
    """A label printer's dot (points), and how many dots a module of each code takes.

    EAN-13 comes to 114 per cent of its nominal size at 203 dpi and 103 at 300, within GS1's 80 to
    200; GS1-128 to 0.25 mm, the least for goods that are scanned at a till (GS1 General
    Specifications, symbol specification tables; from memory).
    """

    dot: float
    ean: int
    linear: int
    square: int

    @property
    def module(self) -> float:
        """An EAN-13's module in points."""
        return self.ean * self.dot

    def snap(self, at: float) -> float:
        """The last whole dot at or before a place."""
        return int(at / self.dot + 1e-6) * self.dot


DPI = {
    203: Dots(0.125 * MM, ean=3, linear=2, square=3),
    300: Dots(25.4 / 300 * MM, ean=4, linear=3, square=5),
}
"""By dots an inch. A printer of 203 dpi has 8 dots a millimetre."""

DOTS = DPI[203]
"""The common label printer."""

WIDTH = MODULES * DOTS.module
QUIET = QUIET_LEFT * DOTS.module
DIGITS = 3.0 * MM
"""Room for the number under the bars."""

_FNC1 = "\xf1"
"""How the library that encodes GS1-128 writes the mark that begins it and ends open elements."""

_GUARD = 1.4 * MM

LINEAR_QUIET = 10
"""Light modules on either side of a GS1-128 (ISO/IEC 15417)."""

SQUARE_QUIET = 4
"""Light modules around a QR code (ISO/IEC 18004)."""

Bars = tuple[tuple[int, int], ...]
Squares = tuple[tuple[int, int, int], ...]


def dots_of(dpi: int) -> Dots:
    """The dots of a printer.

    Raises:
        Refusal: Neither 203 nor 300 dots an inch.
    """
    if dpi not in DPI:
        known = " or ".join(map(str, DPI))
        raise Refusal(f"No label printer of {dpi} dpi is known; give {known}.")
    return DPI[dpi]


def draw_ean13(
    pen: Pen, number: str, right: float, y: float, height: float, dots: Dots = DOTS
) -> None:
    """Draw a number's bars with their right edge near a point, and its digits below.

    The bars begin on a whole dot counted from the page's left edge.
    """
    module = dots.module
    left = dots.snap(right - MODULES * module)
    low, talls = pen.level(y), (height, height + _GUARD)
    _fill(
        pen,
        [
            (left + at * module, low - talls[guard], width * module, talls[guard])
            for at, width, guard in ean13_bars(number)
        ],
    )
    face = Face(REGULAR, 7.2, BLACK)
    base = y + height + 2.5 * MM
    pen.text(left - 3 * module, base, number[0], face, "right")
    pen.text(left + 24 * module, base, number[1:7], face, "centre")
    pen.text(left + 71 * module, base, number[7:], face, "centre")


@lru_cache(maxsize=1024)
def linear_bars(elements: tuple[Element, ...]) -> tuple[Bars, int]:
    """A GS1-128's dark bars as first module and width, and how many modules it has in all."""
    from reportlab.graphics.barcode.code128 import Code128

    code = Code128(f"{_FNC1}{as_message(elements).replace(GROUP_SEPARATOR, _FNC1)}")
    code.validate()  # type: ignore[no-untyped-call]  # the library's
    code.encode()  # type: ignore[no-untyped-call]
    bars, at = [], 0
    for letter in code.decompose():  # type: ignore[no-untyped-call]
        width = ord(letter.lower()) - ord("a") + 1
        if letter.isupper():
            bars.append((at, width))
        at += width
    return tuple(bars), at


def draw_linear(
    pen: Pen, elements: tuple[Element, ...], right: float, y: float, height: float, dots: Dots
) -> None:
    """Draw a GS1-128 with its right edge near a point, and what it says below."""
    bars, modules = linear_bars(elements)
    module = dots.linear * dots.dot
    left = dots.snap(right - modules * module)
    low = pen.level(y + height)
    _fill(pen, [(left + at * module, low, width * module, height) for at, width in bars])
    words = fit_line(as_text(elements), REGULAR, 7.2, modules * module, 5)
    face = Face(REGULAR, words.size, BLACK)
    middle = left + modules * module / 2
    pen.text(middle, y + height + 2.5 * MM, words.lines[0], face, "centre")


@lru_cache(maxsize=1024)
def square_runs(words: str) -> tuple[Squares, int]:
    """A QR code's dark runs as column, row and length, and how many modules a side has."""
    import segno

    matrix: Sequence[bytearray] = segno.make_qr(words, error="m", boost_error=False).matrix
    runs: list[tuple[int, int, int]] = []
    for row, cells in enumerate(matrix):
        column = 0
        for run in bytes(cells).replace(b"\x00", b" ").split(b" "):
            if run:
                runs.append((column, row, len(run)))
            column += len(run) + 1
    return tuple(runs), len(matrix)


def draw_square(pen: Pen, elements: Sequence[Element], right: float, y: float, dots: Dots) -> None:
    """Draw a QR code with its right top corner, quiet zone left out, near a point."""
    runs, side = square_runs(as_text(elements))
    module = dots.square * dots.dot
    left, top = dots.snap(right - side * module), dots.snap(y)
    first = pen.level(top + module)
    _fill(
        pen,
        [
            (left + column * module, first - row * module, length * module, module)
            for column, row, length in runs
        ],
    )


def _fill(pen: Pen, rectangles: Sequence[tuple[float, float, float, float]]) -> None:
    """Fill rectangles (left, bottom, width, height) as one path, to a thousandth of a point.

    The path's code is written here: the library's own way of writing numbers is the dearest part
    of a code with hundreds of squares.
    """
    code = ["{:.3f} {:.3f} {:.3f} {:.3f} re".format(*each) for each in rectangles]
    pen.canvas.setFillColor(BLACK)
    pen.canvas.drawPath(PDFPathObject(["n", *code]), stroke=0, fill=1)
