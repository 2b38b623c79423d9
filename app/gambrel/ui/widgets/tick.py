"""A tick in a box, large enough to be seen across a bench."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter

from gambrel.ui.icons import paint_icon
from gambrel.ui.theme import Theme
from gambrel.ui.widgets.painting import box

SIDE = 26
"""Pixels: how wide and high the box is."""


def paint_tick(theme: Theme, painter: QPainter, rect: QRectF, *, on: bool) -> None:
    """Draw the box at the left of a row, in its middle; checked or empty."""
    square = QRectF(rect.left() + 2, rect.center().y() - SIDE / 2, SIDE, SIDE)
    accent, card = theme.colour("accent"), theme.colour("card")
    box(painter, square, accent if on else card, accent, 2, 5)
    if on:
        paint_icon(painter, "check", square.adjusted(3, 3, -3, -3), theme.colour("on_accent"))
