"""Areas that scroll under a finger as well as under a wheel."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QAbstractScrollArea,
    QScrollArea,
    QScroller,
    QWidget,
)


def touch_scroll(area: QAbstractScrollArea) -> None:
    """Let a finger drag and fling an area; act on taps, a drag may still move a selection."""
    QScroller.grabGesture(area.viewport(), QScroller.ScrollerGestureType.TouchGesture)
    if isinstance(area, QAbstractItemView):
        area.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        area.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)


def scrolled(content: QWidget) -> QScrollArea:
    """A widget in an area that scrolls up and down, never sideways."""
    area = QScrollArea()
    content.setObjectName("scrolled")
    area.setWidget(content)
    area.setWidgetResizable(True)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    touch_scroll(area)
    return area
