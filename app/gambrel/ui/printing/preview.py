"""The real pages, one at a time: as large as fits, or as large as they will be."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QColor, QImage, QKeyEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from gambrel.devices.pages import PageSize
from gambrel.ui.printing.thumbs import TALL, WIDE, Thumbs
from gambrel.ui.theme import Theme
from gambrel.ui.widgets.button import ActionButton
from gambrel.ui.widgets.card import label
from gambrel.ui.widgets.painting import box
from gambrel.ui.widgets.scroll import touch_scroll

EDGE = 12
"""Free room around a page."""

BELIEVED = (50.0, 400.0)
"""Dots an inch that a screen can have; what it tells otherwise is not believed."""

SETTLE_MS = 60


class Sheet(QWidget):
    """One page as it was drawn, with a paper's edge."""

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._theme = theme
        self._picture = QImage()
        self._size = QSize(1, 1)

    def show_size(self, size: QSize, name: str) -> None:
        """Take the room of a page; an older picture is stretched until its own comes."""
        self._size = size
        self.setAccessibleName(name)
        self.setFixedSize(size + QSize(2 * EDGE, 2 * EDGE))
        self.update()

    def show_picture(self, picture: QImage) -> None:
        """Show what the page looks like."""
        self._picture = picture
        self.update()

    @property
    def picture(self) -> QImage:
        """What is shown."""
        return self._picture

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        place = QRectF(EDGE, EDGE, self._size.width(), self._size.height())
        white = QColor(Qt.GlobalColor.white)
        box(painter, place.adjusted(-1, -1, 1, 1), white, self._theme.colour("edge"), 1, 0)
        if not self._picture.isNull():
            painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
            painter.drawImage(place, self._picture)
        painter.end()


class Preview(QWidget):
    """Shows pages and asks for their pictures.

    ``picture_wished`` tells a page and the dots a millimetre in which it is wanted;
    ``small_wished`` tells some pages and the dots a millimetre for each.
    """

    picture_wished = Signal(int, float)
    small_wished = Signal(list, list)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self._sizes: tuple[PageSize, ...] = ()
        self._page = 0
        self._actual = False
        self._asked: tuple[int, float] | None = None
        self.sheet = Sheet(theme)
        self.area = QScrollArea()
        self.area.setWidget(self.sheet)
        self.area.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        touch_scroll(self.area)
        self.thumbs = Thumbs(theme)
        self.where = label("", "strong")
        self.size_words = label("", "soft")
        self.back = ActionButton(theme, icon="chevron-left")
        self.on = ActionButton(theme, icon="chevron-right")
        self.back.setAccessibleName(self.tr("Page before"))
        self.on.setAccessibleName(self.tr("Next page"))
        self.fit_button = ActionButton(theme, self.tr("Whole page"), size=18)
        self.actual_button = ActionButton(theme, self.tr("True size"), size=18)
        for button in (self.fit_button, self.actual_button):
            button.setCheckable(True)
        self._settled = QTimer(self)
        self._settled.setSingleShot(True)
        self._settled.setInterval(SETTLE_MS)
        self._settled.timeout.connect(self._ask)
        self._lay_out(theme)
        self._connect()
        self.show_pages(())

    def _lay_out(self, theme: Theme) -> None:
        space = theme.tokens.space
        foot = QHBoxLayout()
        foot.setSpacing(space.small)
        for part in (self.back, self.where, self.on):
            foot.addWidget(part)
        foot.addSpacing(space.small)
        foot.addWidget(self.size_words, 1)
        foot.addWidget(self.fit_button)
        foot.addWidget(self.actual_button)
        row = QHBoxLayout()
        row.setSpacing(space.small)
        row.addWidget(self.thumbs)
        row.addWidget(self.area, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(space.small)
        column.addLayout(row, 1)
        column.addLayout(foot)

    def _connect(self) -> None:
        self.back.clicked.connect(lambda: self.turn_to(self._page - 1))
        self.on.clicked.connect(lambda: self.turn_to(self._page + 1))
        self.fit_button.clicked.connect(lambda: self._zoom(actual=False))
        self.actual_button.clicked.connect(lambda: self._zoom(actual=True))
        self.thumbs.chosen.connect(self.turn_to)
        self.thumbs.pages.wished.connect(self._ask_small)

    @property
    def page(self) -> int:
        """Which page is shown, from zero."""
        return self._page

    def show_pages(self, sizes: Sequence[PageSize]) -> None:
        """Show another document, at the page that was shown if it has so many."""
        self._sizes = tuple(sizes)
        self._asked = None
        self.thumbs.show_pages(sizes)
        self.thumbs.setVisible(len(sizes) > 1)
        self.sheet.setVisible(bool(sizes))
        if not sizes:
            self.sheet.show_picture(QImage())
        self._zoom(actual=self._actual)
        self.turn_to(min(self._page, max(len(sizes) - 1, 0)))

    def turn_to(self, page: int) -> None:
        """Show a page, if there is one of that number."""
        count = len(self._sizes)
        if not 0 <= page < max(count, 1):
            return
        self._page = page
        self.where.setText(self.tr("{0} of {1}").format(page + 1, count) if count else "")
        self.back.setEnabled(page > 0)
        self.on.setEnabled(page + 1 < count)
        if count:
            self.thumbs.mark(page)
            size = self._sizes[page]
            text = self.tr("{0:.0f} × {1:.0f} mm").format(size.width, size.height)
            self.size_words.setText(text)
        else:
            self.size_words.setText("")
        self._ask()

    def _zoom(self, *, actual: bool) -> None:
        self._actual = actual
        self.fit_button.setChecked(not actual)
        self.actual_button.setChecked(actual)
        self._ask()

    def per_mm(self) -> float:
        """Logical pixels a millimetre for the page that is shown."""
        if self._actual:
            dots = self.screen().physicalDotsPerInch()
            return (dots if BELIEVED[0] <= dots <= BELIEVED[1] else 96.0) / 25.4
        size, room = self._sizes[self._page], self.area.maximumViewportSize()
        wide = max(room.width() - 2 * EDGE, 40) / size.width
        tall = max(room.height() - 2 * EDGE, 40) / size.height
        return min(wide, tall)

    def _ask(self) -> None:
        """Take the page's room, and ask for its picture where another one is shown."""
        if not self._sizes:
            return
        size, per_mm = self._sizes[self._page], self.per_mm()
        room = QSize(round(size.width * per_mm), round(size.height * per_mm))
        name = self.tr("Page {0} of {1}").format(self._page + 1, len(self._sizes))
        self.sheet.show_size(room, name)
        wish = (self._page, round(per_mm * self.devicePixelRatioF(), 4))
        if wish != self._asked:
            self._asked = wish
            self.picture_wished.emit(*wish)

    def show_picture(self, page: int, per_mm: float, picture: QImage) -> None:
        """Show a picture that was asked for; one that comes too late is left alone."""
        if self._asked == (page, per_mm):
            self.sheet.show_picture(picture)

    def _ask_small(self, pages: list[int]) -> None:
        ratio = self.devicePixelRatioF()
        sizes = [self._sizes[page] for page in pages]
        scales = [min(WIDE / size.width, TALL / size.height) * ratio for size in sizes]
        self.small_wished.emit(pages, scales)

    def show_small(self, page: int, picture: QImage) -> None:
        """Show a small picture that was asked for."""
        picture.setDevicePixelRatio(self.devicePixelRatioF())
        self.thumbs.pages.show_picture(page, picture)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        steps = {Qt.Key.Key_PageUp: -1, Qt.Key.Key_PageDown: 1}
        by = steps.get(Qt.Key(event.key()))
        if by is None:
            super().keyPressEvent(event)
        else:
            self.turn_to(self._page + by)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._settled.start()
