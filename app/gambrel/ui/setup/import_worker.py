"""Reading a folder and taking it in, off the window's thread."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Signal

from gambrel.domain.refusals import Refusal
from gambrel.services.folder.preview import Preview, PreviewChanged, preview_folder, take_in
from gambrel.services.folder.read import LoadStopped
from gambrel.ui.context import Context
from gambrel.ui.worker import Worker


class Importer(Worker):
    """One work at a time; whatever it ends with is told once."""

    previewed = Signal(object)
    changed = Signal(object)
    """What was to be taken in is not so any more; here is how it is now."""
    taken = Signal(object)
    refused = Signal(str)
    stopped = Signal()

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self._number = 0

    def read(self, path: Path) -> None:
        """Look at a folder; nothing is changed."""
        self.let_go()
        number, book, stopper = self._number, self._context.book, self._begin()

        def work() -> Preview:
            return preview_folder(book, path, stopper)

        def done(preview: Preview) -> None:
            if number == self._number:
                self._end()
                self.previewed.emit(preview)

        def failed(error: Exception) -> None:
            if number == self._number:
                self._failed(error)

        self._context.tasks.run_task(work, done, failed)

    def let_go(self) -> None:
        """Stop what is being read, and tell nothing of it any more."""
        self.stop()
        self._end()
        self._number += 1

    def take(self, preview: Preview) -> None:
        """Take in what a preview has shown. It may be stopped until it is written."""
        book, stopper = self._context.book, self._begin()

        def done(result: object) -> None:
            self._end()
            self.taken.emit(result)

        self._context.tasks.run_task(lambda: take_in(book, preview, stopper), done, self._failed)

    def _failed(self, error: Exception) -> None:
        self._end()
        if isinstance(error, PreviewChanged):
            self.changed.emit(error.now)
        elif isinstance(error, LoadStopped):
            self.stopped.emit()
        elif isinstance(error, Refusal | OSError):
            self.refused.emit(str(error))
        else:
            self.refused.emit(self.tr("This went wrong ({0}). Nothing was changed.").format(error))
            raise error
