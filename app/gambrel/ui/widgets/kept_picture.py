"""Pictures of what was painted before, for widgets that show the same again and again."""

from __future__ import annotations

from collections.abc import Callable, Hashable

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPixmap

MOST = 8


class KeptPictures:
    """Keeps the last few pictures of one kind; the oldest goes first."""

    def __init__(self) -> None:
        self._kept: dict[Hashable, QPixmap] = {}

    def draw(
        self,
        painter: QPainter,
        size: QSize,
        key: Hashable,
        paint: Callable[[QPainter, QRectF], None],
    ) -> None:
        """Draw what ``key`` stands for, painted only where no picture of it is kept.

        Args:
            painter: Of the widget, in logical pixels.
            size: The widget's size.
            key: All that the picture depends on but size and scale.
            paint: Paints it into a rectangle of that size.
        """
        ratio = painter.device().devicePixelRatioF()
        whole = (key, size.width(), size.height(), ratio)
        picture = self._kept.get(whole)
        if picture is None:
            picture = QPixmap(size * ratio)
            picture.setDevicePixelRatio(ratio)
            picture.fill(Qt.GlobalColor.transparent)
            own = QPainter(picture)
            own.setRenderHint(QPainter.RenderHint.Antialiasing)
            paint(own, QRectF(0, 0, size.width(), size.height()))
            own.end()
            while len(self._kept) >= MOST:
                del self._kept[next(iter(self._kept))]
            self._kept[whole] = picture
        painter.drawPixmap(QPointF(0, 0), picture)
