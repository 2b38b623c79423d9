"""The cuts as keys, in the order in which they come off, page by page, beside the body's map."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRect, QRectF, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QWidget

from gambrel.ui.block.keys import BlockKey, CutKey, paint_card
from gambrel.ui.block.pages import CutText, pages
from gambrel.ui.block.sizes import Left, columns, left_heights
from gambrel.ui.theme import Theme
from gambrel.ui.widgets.body_map import BodyMapView

SIDES = 2
"""The keys for the list and for more cuts, which stand among the cuts where no map is."""

DESIGNED = 728
"""The height of the left column in the window that the screen is drawn for."""


class CutGrid(QWidget):
    """The map with its two side keys above, the cuts below; without room the map goes first.

    ``cut_chosen`` tells a cut's key, ``region_chosen`` a region's of the map.
    """

    cut_chosen = Signal(str)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._cuts: tuple[CutText, ...] = ()
        self._chosen = ""
        self._page = 0
        self._heights = left_heights(DESIGNED)
        self.keys: list[CutKey] = []
        self.map = BodyMapView(theme)
        self.list_key = BlockKey(theme, size=20)
        self.more_key = BlockKey(theme, size=20)
        for child in (self.map, self.list_key, self.more_key):
            child.setParent(self)
        self.more_key.clicked.connect(self.turn_page)

    def show_cuts(self, cuts: Sequence[CutText], chosen: str, cutting_list: str) -> None:
        """Show cuts; the page turns to the chosen one when it has just been chosen."""
        turned = chosen != self._chosen or not self._cuts
        self._cuts, self._chosen = tuple(cuts), chosen
        self.list_key.say(cutting_list or self.tr("No list"), self.tr("cutting list"))
        self.list_key.setAccessibleName(self.tr("Cutting list, {0}").format(cutting_list))
        if turned and chosen:
            self._page = self._page_of(chosen)
        self._lay_out()

    def turn_page(self) -> None:
        """Show the next page, or after the last the first."""
        self._page = (self._page + 1) % max(len(self._pages()), 1)
        self._lay_out()

    def step(self, right: int, down: int) -> None:
        """Choose the neighbour of the chosen cut on its page."""
        page = self._shown()
        across = self._shape()[0]
        places = [number for number, cut in enumerate(page) if cut.key == self._chosen]
        place = places[0] + right + down * across if places else 0
        if 0 <= place < len(page):
            self.cut_chosen.emit(page[place].key)

    def choose_by_letter(self, letter: str) -> None:
        """Choose the next cut whose name begins with a letter."""
        found = [cut.key for cut in self._cuts if cut.name[:1].lower() == letter.lower()]
        if found:
            at = found.index(self._chosen) + 1 if self._chosen in found else 0
            self.cut_chosen.emit(found[at % len(found)])

    def _page_of(self, cut: str) -> int:
        found = [n for n, page in enumerate(self._pages()) if any(c.key == cut for c in page)]
        return self._page if self._page in found or not found else found[0]

    def set_heights(self, heights: Left) -> None:
        """How tall map and keys are from now on; told before the size changes."""
        self._heights = heights

    def _shape(self) -> tuple[int, int]:
        heights = self._heights
        listed = sum(cut.listed for cut in self._cuts)
        across = columns(self.width(), listed, heights.rows, heights.gap)
        if self._has_map():
            return across, heights.rows
        needed = -(-(len(self._cuts) + SIDES) // across)  # few cuts have larger keys
        return across, max(min(heights.rows, needed), 1)

    def _pages(self) -> tuple[tuple[CutText, ...], ...]:
        across, down = self._shape()
        room = across * down - (0 if self._has_map() else SIDES)
        return pages(self._cuts, max(room, 1))

    def _shown(self) -> tuple[CutText, ...]:
        found = self._pages()
        return found[min(self._page, len(found) - 1)] if found else ()

    def _has_map(self) -> bool:
        return self._heights.map > 0

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if self._chosen:
            self._page = self._page_of(self._chosen)
        self._lay_out()

    def _lay_out(self) -> None:
        heights = self._heights
        across, down = self._shape()
        gap, shown, count = heights.gap, self._shown(), len(self._pages())
        self._page = min(self._page, max(count - 1, 0))
        while len(self.keys) < len(shown):
            key = CutKey(self._theme)
            key.setParent(self)
            key.clicked.connect(lambda _=False, key=key: self._tapped(key))
            self.keys.append(key)
        top = heights.map + gap if heights.map else 0
        cells = _cells(self.width(), top, self.height() - top, across, down, gap)
        for key, cut, place in zip(self.keys, shown, cells, strict=False):
            key.show_cut(cut, chosen=cut.key == self._chosen)
            key.setGeometry(place)
            key.show()
        for key in self.keys[len(shown) :]:
            key.hide()
        self._place_sides(cells, heights.map, gap)
        last = self._page + 1 == count
        words = self.tr("page {0} of {1}").format(self._page + 1, count)
        self.more_key.say(self.tr("First cuts") if last else self.tr("More cuts"), words)
        self.more_key.setVisible(count > 1)

    def _place_sides(self, cells: list[QRect], height: int, gap: int) -> None:
        self.map.setVisible(height > 0)
        last, before = cells[-1], cells[-2] if len(cells) > 1 else cells[-1]
        if height:
            left = last.left()
            half = (height - gap) // 2
            self.map.setGeometry(0, 0, left - gap, height)
            self.list_key.setGeometry(left, 0, last.width(), half)
            self.more_key.setGeometry(left, half + gap, last.width(), height - half - gap)
        else:
            self.list_key.setGeometry(before if len(self._pages()) > 1 else last)
            self.more_key.setGeometry(last)

    def paintEvent(self, _event: QPaintEvent) -> None:
        if self._has_map():
            painter = QPainter(self)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            paint_card(painter, self._theme, QRectF(self.map.geometry()))
            painter.end()

    def _tapped(self, key: CutKey) -> None:
        if key.cut is not None:
            self.cut_chosen.emit(key.cut.key)


def _cells(width: int, top: int, height: int, across: int, down: int, gap: int) -> list[QRect]:
    """The places of all keys, row by row, filling the width and height to the pixel."""
    xs = [(width + gap) * n // across for n in range(across + 1)]
    ys = [top + (height + gap) * n // down for n in range(down + 1)]
    return [
        QRect(xs[c], ys[r], xs[c + 1] - xs[c] - gap, ys[r + 1] - ys[r] - gap)
        for r in range(down)
        for c in range(across)
    ]
