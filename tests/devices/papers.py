"""Papers to look at and to print: bars of known width at known places, and a code."""

from __future__ import annotations

from io import BytesIO
from typing import Any

from reportlab.graphics import renderPDF
from reportlab.graphics.barcode.eanbc import Ean13BarcodeWidget
from reportlab.graphics.shapes import Drawing
from reportlab.pdfgen.canvas import Canvas

MM = 72 / 25.4
BAR = 0.375
"""Millimetres: three dots of a printer with eight a millimetre."""
NUMBER = "2000101000006"


def ruler(
    width: float, height: float, at: tuple[float, ...] = (2, 10, 30), pages: int = 1
) -> bytes:
    """Upright bars, all in one path, whose left edges are these millimetres from the left."""
    out = BytesIO()
    canvas = Canvas(out, pagesize=(width * MM, height * MM))
    for _ in range(pages):
        path = canvas.beginPath()
        for x in at:
            path.rect(x * MM, 2 * MM, BAR * MM, (height - 4) * MM)
        canvas.drawPath(path, stroke=0, fill=1)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def label(width: float = 58, height: float = 40) -> bytes:
    """A label with an EAN-13 whose module is three dots of eight a millimetre."""
    out = BytesIO()
    canvas = Canvas(out, pagesize=(width * MM, height * MM))
    bars: Any = Ean13BarcodeWidget(value=NUMBER, barWidth=BAR * MM, barHeight=20 * MM)
    drawing = Drawing(50 * MM, 25 * MM)
    drawing.add(bars)
    renderPDF.draw(drawing, canvas, 5 * MM, 8 * MM)
    canvas.showPage()
    canvas.save()
    return out.getvalue()
