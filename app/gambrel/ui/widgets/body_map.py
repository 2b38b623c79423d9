"""The drawing of a body: its regions fill as their cuts are weighed, and a tap chooses one."""

from __future__ import annotations

import math
from collections.abc import Mapping

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFont,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
    QResizeEvent,
    QTransform,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from gambrel.domain.drawing.bodymap import BodyMap, Region
from gambrel.domain.drawing.marks import Path
from gambrel.ui.theme import Theme, Weight
from gambrel.ui.widgets.painting import CENTRE, draw_fitted, fit

SLOP = 22
"""Pixels by which a finger may miss a region and still mean it."""

MARGIN = 10

_ARROWS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}


class BodyMapView(QWidget):
    """Paints a `BodyMap`. Arrows move among the regions, Enter or Space chooses.

    ``region_chosen`` tells the region's key (``Region.region``).
    """

    region_chosen = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._map: BodyMap | None = None
        self._filled: Mapping[str, float] = {}
        self._words: Mapping[str, str] = {}
        self._chosen = ""
        self._cursor = ""
        self._paths: dict[str, QPainterPath] = {}
        self._fit = QTransform()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        theme.changed.connect(self.update)

    @property
    def body_map(self) -> BodyMap | None:
        """The drawing that is shown."""
        return self._map

    @property
    def chosen(self) -> str:
        """The key of the chosen region, or nothing."""
        return self._chosen

    def show_map(self, body_map: BodyMap | None) -> None:
        """Show another drawing, with nothing filled or chosen."""
        self._map = body_map
        self._filled, self._words, self._chosen, self._cursor = {}, {}, "", ""
        self._place()
        self.update()

    def show_state(
        self,
        filled: Mapping[str, float],
        chosen: str = "",
        words: Mapping[str, str] | None = None,
    ) -> None:
        """Fill regions and mark one.

        Args:
            filled: For each region's key how much of it is weighed: 0 none, 1 or more all.
            chosen: The key of the region to mark; empty for none.
            words: For each key what a screen reader says, "Rump, 4.1 of 4.6 kg".
        """
        self._filled = filled
        self._chosen = self._cursor = chosen
        self._words = words or {}
        self._tell()
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(756, 232)

    def minimumSizeHint(self) -> QSize:
        return QSize(240, 80)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._place()
        super().resizeEvent(event)

    def _place(self) -> None:
        """Work out where the drawing stands in the widget: whole, centred."""
        if self._map is None:
            self._paths = {}
            return
        room = QRectF(self.rect()).adjusted(MARGIN, MARGIN, -MARGIN, -MARGIN)
        scale = max(min(room.width() / self._map.width, room.height() / self._map.height), 0.01)
        left = room.center().x() - scale * self._map.width / 2
        top = room.center().y() - scale * self._map.height / 2
        self._fit = QTransform.fromTranslate(left, top).scale(scale, scale)
        self._paths = {each.region: self._screen(each.path) for each in self._map.regions}

    def _screen(self, path: Path) -> QPainterPath:
        return self._fit.map(painter_path(path))

    def region_at(self, place: QPointF) -> Region | None:
        """The region under a point of the widget, or the nearest one within a finger's slop."""
        if self._map is None:
            return None
        back, _ = self._fit.inverted()
        for reach in (0, SLOP // 2, SLOP):
            for turn in range(8 if reach else 1):
                angle = turn * math.pi / 4
                near = back.map(place + QPointF(math.cos(angle), math.sin(angle)) * reach)
                region = self._map.region_at(near.x(), near.y())
                if region is not None:
                    return region
        return None

    def middle_of(self, region: str) -> QPointF:
        """Where a region's label stands, in the widget.

        Raises:
            KeyError: The map has no such region.
        """
        label = self._regions()[region].label
        return self._fit.map(QPointF(label.x, label.y))

    def _regions(self) -> dict[str, Region]:
        return {each.region: each for each in self._map.regions} if self._map else {}

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        region = self.region_at(event.position())
        if region is not None and event.button() == Qt.MouseButton.LeftButton:
            self._cursor = region.region
            self.region_chosen.emit(region.region)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        event.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if key in _ARROWS and self._map is not None:
            self._move(*_ARROWS[key])
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space) and self._cursor:
            self.region_chosen.emit(self._cursor)
        else:
            super().keyPressEvent(event)

    def _move(self, right: int, down: int) -> None:
        """Step to the nearest region in a direction, sideways distance counting double."""
        regions = self._regions()
        here = self._cursor if self._cursor in regions else next(iter(regions), "")
        if here != self._cursor:
            self._cursor = here
        else:
            start = self.middle_of(here)
            ahead: list[tuple[float, str]] = []
            for key in regions:
                step = self.middle_of(key) - start
                along = step.x() * right + step.y() * down
                aside = abs(step.x() * down) + abs(step.y() * right)
                if along > 1:
                    ahead.append((along + 2 * aside, key))
            self._cursor = min(ahead)[1] if ahead else here
        self._tell()
        self.update()

    def _tell(self) -> None:
        region = self._regions().get(self._cursor or self._chosen)
        name = self._words.get(region.region, region.name) if region else ""
        self.setAccessibleName(
            self.tr("Body map, {0}").format(name) if name else self.tr("Body map")
        )
        self.setAccessibleDescription(", ".join(self._words.values()))

    def paintEvent(self, _event: QPaintEvent) -> None:
        if self._map is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for region in self._map.regions:
            self._paint_region(painter, region)
        self._paint_lines(painter, self._map)
        for key, colour, wide in self._marks():
            painter.strokePath(self._paths[key], QPen(colour, wide, j=Qt.PenJoinStyle.RoundJoin))
        for region in self._map.regions:
            self._paint_label(painter, region)
        painter.end()

    def _marks(self) -> list[tuple[str, QColor, int]]:
        accent = self._theme.colour("accent")
        marks = [(self._chosen, accent, 3)] if self._chosen in self._paths else []
        if self.hasFocus() and self._cursor in self._paths and self._cursor != self._chosen:
            marks.append((self._cursor, accent, 2))
        return marks

    def _paint_region(self, painter: QPainter, region: Region) -> None:
        path = self._paths[region.region]
        chosen = region.region == self._chosen
        painter.fillPath(path, self._theme.colour("chosen" if chosen else "card"))
        part = min(max(self._filled.get(region.region, 0.0), 0.0), 1.0)
        if part > 0:
            around = path.boundingRect()
            painter.save()
            painter.setClipPath(path)
            tall = around.height() * part
            rising = QRectF(around.left(), around.bottom() - tall, around.width(), tall)
            painter.fillRect(rising, self._theme.colour("weighed"))
            painter.restore()

    def _paint_lines(self, painter: QPainter, body_map: BodyMap) -> None:
        ink = self._theme.colour("ink")
        soft = self._theme.colour("soft_ink")
        for detail in body_map.details:
            pen = QPen(soft, 1.2)
            if detail.style == "dots":
                pen = QPen(soft, 1.5, c=Qt.PenCapStyle.RoundCap)
                pen.setDashPattern([0.1, 3.2])
            painter.strokePath(self._screen(detail.path), pen)
        for seam in body_map.seams:
            painter.strokePath(self._screen(seam), QPen(ink, 1.5))
        round_join = Qt.PenJoinStyle.RoundJoin
        painter.strokePath(self._screen(body_map.outline), QPen(ink, 2.5, j=round_join))

    def _paint_label(self, painter: QPainter, region: Region) -> None:
        """Write a region's name where it has room; one that has none is told by its button."""
        chosen = region.region == self._chosen
        font: QFont = self._theme.font(
            self._theme.tokens.type.body, Weight.DemiBold if chosen else Weight.Normal
        )
        scale = self._fit.m11()
        room = region.label.room * scale
        fitted = fit(region.name, font, room, 2.4 * font.pixelSize())
        if not fitted.whole:
            return
        painter.save()
        middle = self.middle_of(region.region)
        painter.translate(middle)
        painter.rotate(region.label.turn)
        painter.setPen(self._theme.colour("ink"))
        draw_fitted(painter, QRectF(-room / 2, -30, room, 60), fitted, CENTRE)
        painter.restore()


def painter_path(path: Path) -> QPainterPath:
    """A path of a body map as Qt draws it."""
    drawn = QPainterPath()
    for letter, points in path:
        if letter == "M":
            drawn.moveTo(*points[0])
        elif letter == "L":
            drawn.lineTo(*points[0])
        elif letter == "C":
            (a, b), (c, d), (e, f) = points
            drawn.cubicTo(a, b, c, d, e, f)
        else:
            drawn.closeSubpath()
    return drawn
