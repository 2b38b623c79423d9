"""Small helps for widgets that paint themselves: boxes with crisp edges, text that fits."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen

SMALLEST_TEXT = 16
"""Pixels; text that must fit shrinks no further than this, then wraps, then ends in dots."""

LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
CENTRE = Qt.AlignmentFlag.AlignCenter


def box(
    painter: QPainter, rect: QRectF, fill: QColor, edge: QColor, width: int, radius: int
) -> None:
    """A rounded box whose edge lies within ``rect``, sharp at whole pixels."""
    half = width / 2
    painter.setBrush(fill)
    painter.setPen(QPen(edge, width) if width else Qt.PenStyle.NoPen)
    painter.drawRoundedRect(rect.adjusted(half, half, -half, -half), radius, radius)


def text_width(font: QFont, text: str) -> float:
    """How wide a line of text is in a font, in logical pixels."""
    return QFontMetricsF(font).horizontalAdvance(text)


@dataclass(frozen=True)
class Fitted:
    """Lines of text with the font in which they fit."""

    font: QFont
    lines: tuple[str, ...]

    @property
    def whole(self) -> bool:
        """Whether every word is there (no line ends in dots)."""
        return not any(line.endswith("…") for line in self.lines)


MOST_FITTED = 2000
_FITTED: dict[tuple[str, str, float, float, int], Fitted] = {}
"""What was fitted lately: the same words come back with every repaint."""


def fit(text: str, font: QFont, width: float, height: float, smallest: int = 0) -> Fitted:
    """Fit text into a width and height: smaller in steps, then in lines, at last with dots.

    Args:
        text: What must be readable.
        font: The size that it should have where there is room.
        width: The room, in logical pixels.
        height: The room for all lines.
        smallest: Pixels below which the text never goes; 0 means `SMALLEST_TEXT`.
    """
    asked = (text, font.key(), width, height, smallest)
    found = _FITTED.get(asked)
    if found is None:
        if len(_FITTED) >= MOST_FITTED:
            _FITTED.clear()
        found = _FITTED[asked] = _fit(text, font, width, height, smallest)
    return found


def _fit(text: str, font: QFont, width: float, height: float, smallest: int) -> Fitted:
    least = min(smallest or SMALLEST_TEXT, font.pixelSize())
    for size in range(font.pixelSize(), least - 1, -1):
        smaller = QFont(font)
        smaller.setPixelSize(size)
        metrics = QFontMetricsF(smaller)
        lines = wrap(text, metrics, width)
        if lines and len(lines) * metrics.height() <= max(height, metrics.height()):
            return Fitted(smaller, lines)
    return Fitted(smaller, _cut(text, metrics, width, height))


def wrap(text: str, metrics: QFontMetricsF, width: float) -> tuple[str, ...]:
    """Break text at its spaces into lines of a width; nothing where one word is too wide."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and metrics.horizontalAdvance(longer) <= width:
            lines[-1] = longer
        elif metrics.horizontalAdvance(word) <= width:
            lines.append(word)
        else:
            return ()
    return tuple(lines) or ("",)


def _cut(text: str, metrics: QFontMetricsF, width: float, height: float) -> tuple[str, ...]:
    """As many whole lines as there is room for, the last one ending in dots where it must."""
    room = max(int(height // metrics.height()), 1)
    dots = Qt.TextElideMode.ElideRight
    lines = wrap(text, metrics, width)
    if not lines:
        return (metrics.elidedText(text, dots, width),)
    rest = " ".join(lines[room - 1 :])
    return (*lines[: room - 1], metrics.elidedText(rest, dots, width))


def draw_fitted(painter: QPainter, rect: QRectF, fitted: Fitted, align: Qt.AlignmentFlag) -> None:
    """Draw fitted lines as one block, placed in ``rect`` as ``align`` says."""
    metrics = QFontMetricsF(fitted.font)
    painter.setFont(fitted.font)
    tall = metrics.height() * len(fitted.lines)
    if align & Qt.AlignmentFlag.AlignTop:
        top = rect.top()
    elif align & Qt.AlignmentFlag.AlignBottom:
        top = rect.bottom() - tall
    else:
        top = rect.center().y() - tall / 2
    across = align & Qt.AlignmentFlag.AlignHorizontal_Mask
    for number, line in enumerate(fitted.lines):
        place = QRectF(rect.left(), top + number * metrics.height(), rect.width(), metrics.height())
        painter.drawText(place, int(across | Qt.AlignmentFlag.AlignVCenter), line)
