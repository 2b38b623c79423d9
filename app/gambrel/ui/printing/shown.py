"""The document that is shown: its pages are drawn in the background, and closed in the end."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QImage

from gambrel.devices.pages import PagesClosed
from gambrel.services.printing.documents import Document
from gambrel.ui.printing.preview import Preview
from gambrel.ui.printing.state import pages_words
from gambrel.ui.printing.workers import Made
from gambrel.ui.tasks import Tasks


class Shown(QObject):
    """Holds what was made, and gives the preview the pictures that it asks for."""

    failed = Signal(object)

    def __init__(self, tasks: Tasks, preview: Preview) -> None:
        super().__init__()
        self._tasks = tasks
        self._preview = preview
        self._made: Made | None = None
        preview.picture_wished.connect(self._draw)
        preview.small_wished.connect(self._draw_small)

    @property
    def document(self) -> Document | None:
        """What is shown, if anything is."""
        return self._made.document if self._made is not None else None

    @property
    def words(self) -> str:
        """How much of it there is."""
        made = self._made
        return "" if made is None else pages_words(made.document, len(made.pages.sizes))

    def show_made(self, made: Made | None) -> None:
        """Show another document, or none."""
        if self._made is not None:
            self._made.pages.close()
        self._made = made
        self._preview.show_pages(() if made is None else made.pages.sizes)

    def _draw(self, page: int, per_mm: float) -> None:
        made = self._made
        if made is None:
            return

        def done(picture: QImage) -> None:
            if made is self._made:
                self._preview.show_picture(page, per_mm, picture)

        self._tasks.run_task(lambda: made.pages.image(page, per_mm), done, self._no_picture)

    def _draw_small(self, pages: list[int], scales: list[float]) -> None:
        made = self._made
        if made is None:
            return

        def draw() -> list[QImage]:
            return [made.pages.image(n, by) for n, by in zip(pages, scales, strict=True)]

        def done(pictures: list[QImage]) -> None:
            if made is self._made:
                for page, picture in zip(pages, pictures, strict=True):
                    self._preview.show_small(page, picture)

        self._tasks.run_task(draw, done, self._no_picture)

    def _no_picture(self, error: Exception) -> None:
        if not isinstance(error, PagesClosed):  # else another document is shown by now
            self.failed.emit(error)
