"""The drawing of a body: its regions fill as their cuts are weighed, and a tap chooses one."""

from __future__ import annotations

import math
from collections.abc import Mapping

from PySide6.QtCore import QPointF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QRegion, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from gambrel.domain.drawing.bodymap import BodyMap, Region
from gambrel.ui.theme import Theme
from gambrel.ui.widgets.map_drawing import MapDrawing, MapMarks

SLOP = 22
"""Pixels by which a finger may miss a region and still mean it."""

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
        self._drawing: MapDrawing | None = None
        self._filled: Mapping[str, float] = {}
        self._words: Mapping[str, str] = {}
        self._chosen = ""
        self._cursor = ""
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
        keys = {*filled, *self._filled}
        changed = {key for key in keys if filled.get(key) != self._filled.get(key)}
        if chosen != self._chosen or self._cursor != chosen:
            changed |= {chosen, self._chosen, self._cursor}
        self._filled = filled
        self._chosen = self._cursor = chosen
        self._words = words or {}
        self._tell()
        self._repaint(changed)

    def _repaint(self, regions: set[str]) -> None:
        """Ask for these regions only to be painted again: the whole costs more than a frame."""
        if self._drawing is None:
            return
        area = QRegion()
        for key in regions:
            area += self._drawing.around(key)
        self.update(area)

    def sizeHint(self) -> QSize:
        return QSize(756, 232)

    def minimumSizeHint(self) -> QSize:
        return QSize(240, 80)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._place()
        super().resizeEvent(event)

    def _place(self) -> None:
        made = None if self._map is None else MapDrawing(self._theme, self._map, self.size())
        self._drawing = made

    def region_at(self, place: QPointF) -> Region | None:
        """The region under a point of the widget, or the nearest one within a finger's slop."""
        if self._map is None or self._drawing is None:
            return None
        back, _ = self._drawing.fit.inverted()
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
        assert self._drawing is not None  # it has regions
        return self._drawing.fit.map(QPointF(label.x, label.y))

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

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._drawing is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        cursor = self._cursor if self.hasFocus() and self._cursor != self._chosen else ""
        marks = MapMarks(self._filled, self._chosen, cursor)
        self._drawing.paint(painter, marks, event.rect())
        painter.end()
