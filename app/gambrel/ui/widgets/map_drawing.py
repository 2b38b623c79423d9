"""How a body's map is painted: what never changes is kept as a picture, the rest is drawn anew."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFontMetricsF,
    QLinearGradient,
    QPainter,
    QPainterPath,
    QPen,
    QPixmap,
    QTransform,
)

from gambrel.domain.drawing.bodymap import BodyMap, Region
from gambrel.domain.drawing.marks import Path
from gambrel.ui.theme import Theme, Weight
from gambrel.ui.widgets.painting import CENTRE, Fitted, draw_fitted, fit

MARGIN = 10
CHOSEN_LINE, CURSOR_LINE = 3, 2
BESIDE_WORDS = 2
"""Pixels left free on both sides of a name."""

_ROUND = Qt.PenJoinStyle.RoundJoin


@dataclass(frozen=True, slots=True)
class MapMarks:
    """What changes on a map: by region how much is weighed (0 to 1), and the marked regions."""

    filled: Mapping[str, float] = field(default_factory=dict)
    chosen: str = ""
    cursor: str = ""


class MapDrawing:
    """One map at one size, whole and centred."""

    def __init__(self, theme: Theme, body_map: BodyMap, size: QSize) -> None:
        self._theme = theme
        self._map = body_map
        self._size = size
        room = QRectF(QPointF(0, 0), size.toSizeF()).adjusted(MARGIN, MARGIN, -MARGIN, -MARGIN)
        scale = max(min(room.width() / body_map.width, room.height() / body_map.height), 0.01)
        left = room.center().x() - scale * body_map.width / 2
        top = room.center().y() - scale * body_map.height / 2
        self.fit = QTransform.fromTranslate(left, top).scale(scale, scale)
        self._paths = {each.region: self._screen(each.path) for each in body_map.regions}
        self._kept: tuple[tuple[bool, float], QPixmap] | None = None

    def _screen(self, path: Path) -> QPainterPath:
        return self.fit.map(painter_path(path))

    def around(self, region: str) -> QRect:
        """What has to be painted again when a region changes; nothing for an unknown one."""
        path = self._paths.get(region)
        if path is None:
            return QRect()
        edge = CHOSEN_LINE + 1
        return path.boundingRect().adjusted(-edge, -edge, edge, edge).toAlignedRect()

    def paint(self, painter: QPainter, marks: MapMarks, within: QRect) -> None:
        """Paint the part of the map that lies within a rectangle of the widget."""
        shown = [each for each in self._map.regions if self.around(each.region).intersects(within)]
        for region in shown:
            self._fill(painter, region, marks)
        painter.drawPixmap(QPointF(0, 0), self._lines(painter.device().devicePixelRatioF()))
        accent = self._theme.colour("accent")
        for key, wide in ((marks.chosen, CHOSEN_LINE), (marks.cursor, CURSOR_LINE)):
            if key in self._paths:
                painter.strokePath(self._paths[key], QPen(accent, wide, j=_ROUND))
        for region in shown:
            self._label(painter, region, bold=region.region == marks.chosen)

    def _fill(self, painter: QPainter, region: Region, marks: MapMarks) -> None:
        """A region fills from below, like a tub."""
        path = self._paths[region.region]
        empty = self._theme.colour("chosen" if region.region == marks.chosen else "card")
        part = min(max(marks.filled.get(region.region, 0.0), 0.0), 1.0)
        painter.fillPath(path, _risen(path.boundingRect(), part, empty, self._theme))

    def _lines(self, ratio: float) -> QPixmap:
        """Outline, seams and details: they cost most and change only with the look."""
        key = (self._theme.is_dark, ratio)
        if self._kept is None or self._kept[0] != key:
            picture = QPixmap(self._size * ratio)
            picture.setDevicePixelRatio(ratio)
            picture.fill(Qt.GlobalColor.transparent)
            painter = QPainter(picture)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._draw_lines(painter)
            painter.end()
            self._kept = key, picture
        return self._kept[1]

    def _draw_lines(self, painter: QPainter) -> None:
        ink, soft = self._theme.colour("ink"), self._theme.colour("soft_ink")
        painter.save()
        painter.setClipPath(self._beside_words())
        for detail in self._map.details:
            pen = QPen(soft, 1.2)
            if detail.style == "dots":
                pen = QPen(soft, 1.5, c=Qt.PenCapStyle.RoundCap)
                pen.setDashPattern([0.1, 3.2])
            painter.strokePath(self._screen(detail.path), pen)
        painter.restore()
        for seam in self._map.seams:
            painter.strokePath(self._screen(seam), QPen(ink, 1.5))
        painter.strokePath(self._screen(self._map.outline), QPen(ink, 2.5, j=_ROUND))

    def _beside_words(self) -> QPainterPath:
        """Where bones and fibres are drawn: not under a name, which they would strike out."""
        free = QPainterPath()
        free.addRect(QRectF(QPointF(0, 0), self._size.toSizeF()))
        for region in self._map.regions:
            fitted = self._fitted(region, bold=True)
            if not fitted.whole:
                continue
            metrics = QFontMetricsF(fitted.font)
            wide = max(metrics.horizontalAdvance(line) for line in fitted.lines) + 2 * BESIDE_WORDS
            high = metrics.height() * len(fitted.lines)
            word = QPainterPath()
            word.addRoundedRect(QRectF(-wide / 2, -high / 2, wide, high), high / 3, high / 3)
            free -= self._place(region).map(word)
        return free

    def _fitted(self, region: Region, *, bold: bool) -> Fitted:
        size = self._theme.tokens.type.body
        font = self._theme.font(size, Weight.DemiBold if bold else Weight.Normal)
        return fit(region.name, font, region.label.room * self.fit.m11(), 2.4 * size)

    def _place(self, region: Region) -> QTransform:
        """Where a region's name stands, and how it is turned."""
        at = self.fit.map(QPointF(region.label.x, region.label.y))
        return QTransform.fromTranslate(at.x(), at.y()).rotate(region.label.turn)

    def _label(self, painter: QPainter, region: Region, *, bold: bool) -> None:
        """Write a region's name where it has room; one that has none is told by its button."""
        fitted = self._fitted(region, bold=bold)
        if not fitted.whole:
            return
        room = region.label.room * self.fit.m11()
        painter.save()
        painter.setTransform(self._place(region), combine=True)
        painter.setPen(self._theme.colour("ink"))
        draw_fitted(painter, QRectF(-room / 2, -30, room, 60), fitted, CENTRE)
        painter.restore()


def _risen(around: QRectF, part: float, empty: QColor, theme: Theme) -> QBrush:
    """A brush that is filled to a part of a height, with a sharp edge."""
    if part <= 0:
        return QBrush(empty)
    full = theme.colour("weighed")
    if part >= 1:
        return QBrush(full)
    rising = QLinearGradient(around.bottomLeft(), around.topLeft())
    for place, colour in ((0.0, full), (part, full), (part + 1e-6, empty), (1.0, empty)):
        rising.setColorAt(place, colour)
    return QBrush(rising)


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
