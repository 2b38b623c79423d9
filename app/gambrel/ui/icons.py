"""Line icons in the colour of the text beside them, crisp at every scale and in both themes."""

from __future__ import annotations

from functools import cache

from PySide6.QtCore import QByteArray, QPoint, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QGuiApplication, QIcon, QIconEngine, QPainter, QPalette, QPixmap
from PySide6.QtSvg import QSvgRenderer

from gambrel import assets


@cache
def _svg(name: str) -> str:
    return assets.text(f"icons/{name}.svg")


@cache
def _renderer(name: str, colour: str) -> QSvgRenderer:
    return QSvgRenderer(QByteArray(_svg(name).replace("currentColor", colour).encode()))


def paint_icon(painter: QPainter, name: str, place: QRectF, colour: QColor) -> None:
    """Draw an icon into a square place.

    Raises:
        FileNotFoundError: There is no icon of that name in ``assets/icons``.
    """
    _renderer(name, colour.name()).render(painter, place)


def icon(name: str) -> QIcon:
    """An icon for Qt's own widgets; it follows the palette, the disabled state included.

    Raises:
        FileNotFoundError: There is no icon of that name in ``assets/icons``.
    """
    _svg(name)
    return QIcon(LineIcon(name))


class LineIcon(QIconEngine):
    """Draws one of our icons in the palette's button text colour at the moment of painting."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self._name = name

    def paint(self, painter: QPainter, rect: QRect, mode: QIcon.Mode, _state: QIcon.State) -> None:
        off = mode == QIcon.Mode.Disabled
        group = QPalette.ColorGroup.Disabled if off else QPalette.ColorGroup.Active
        colour = QGuiApplication.palette().color(group, QPalette.ColorRole.ButtonText)
        paint_icon(painter, self._name, QRectF(rect), colour)

    def pixmap(self, size: QSize, mode: QIcon.Mode, state: QIcon.State) -> QPixmap:
        pixmap = QPixmap(size)
        pixmap.fill(Qt.GlobalColor.transparent)
        painter = QPainter(pixmap)
        self.paint(painter, QRect(QPoint(0, 0), size), mode, state)
        painter.end()
        return pixmap

    def clone(self) -> QIconEngine:
        return LineIcon(self._name)
