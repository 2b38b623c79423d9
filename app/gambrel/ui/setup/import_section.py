"""Import: a folder is looked at, its changes are shown, and what was shown is taken in."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QStandardPaths, Qt, Signal
from PySide6.QtGui import QGuiApplication, QHideEvent, QKeyEvent
from PySide6.QtWidgets import QFileDialog, QVBoxLayout, QWidget

from gambrel.domain.refusals import Refusal
from gambrel.services.folder.load import LoadResult
from gambrel.services.folder.preview import Preview
from gambrel.services.folder.report import load_sentence, refused_text
from gambrel.services.papers import save_whole
from gambrel.ui.context import Context
from gambrel.ui.setup.import_state import Look, Order, Side, describe, first_look, wrong_rows
from gambrel.ui.setup.import_view import ImportView
from gambrel.ui.setup.import_worker import Importer
from gambrel.ui.theme import Meaning

WRONG_FILE = "refused-lines.txt"


class ImportSection(QWidget):
    """Nothing is changed before "Take in", and then just what is shown."""

    taken_in = Signal(str)
    """What came in, in a sentence; after each folder."""

    def __init__(self, context: Context) -> None:
        super().__init__()
        self.context = context
        self.view = ImportView(context.theme)
        self.work = Importer(context)
        self._preview: Preview | None = None
        self._look = Look()
        self._taking = False
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.addWidget(self.view)
        self._connect()

    def _connect(self) -> None:
        view, page, work = self.view, self.view.preview, self.work
        view.read_wanted.connect(self.read)
        view.folder.clicked.connect(self._choose_folder)
        view.file.clicked.connect(self._choose_file)
        view.path.returnPressed.connect(view.read.click)
        view.progress.cancel.clicked.connect(self.cancel)
        page.side_chosen.connect(lambda side: self._turn(self._look.at(Side(side))))
        page.order_chosen.connect(lambda order: self._turn(self._look.by(Order(order))))
        page.files.picked.connect(lambda file: self._turn(self._look.of(file)))
        page.turned.connect(lambda pages: self._turn(self._look.turned(pages)))
        page.copy.clicked.connect(self.copy_wrong)
        page.save.clicked.connect(self._choose_where_to_save)
        page.take.clicked.connect(self.take)
        work.progressed.connect(self._goes_on)
        work.previewed.connect(self._previewed)
        work.changed.connect(self._changed)
        work.taken.connect(self._taken)
        work.refused.connect(self._refused)
        work.stopped.connect(self._stopped)

    def refresh(self) -> None:
        """Nothing here is read from the book before somebody asks."""

    # --- Looking ---

    def read(self, path: str) -> None:
        """Look at a folder, or at one file."""
        self.view.told.clear()
        self._begin(taking=False)
        self.work.read(Path(path).expanduser())

    def cancel(self) -> None:
        """Stop: a look ends at once, what is being taken in where it can still be left."""
        if self._taking:
            self.work.stop()
            self.view.progress.show_progress(self.tr("Stopping …"), 0, 0)
        else:
            self.work.let_go()
            self._stopped()

    def _begin(self, *, taking: bool) -> None:
        self._taking = taking
        self.view.show_page(self.view.progress)
        self._goes_on(0, 0)

    def _goes_on(self, done: int, total: int) -> None:
        if not self.view.is_busy:
            return
        if done < total or not total:
            told = self.tr("Reading the files …")
            self.view.progress.show_progress(told, done, total)
            return
        told = self.tr("Taking it in …") if self._taking else self.tr("Comparing with the book …")
        self.view.progress.show_progress(told, 0, 0)

    def _previewed(self, preview: Preview) -> None:
        self._preview, self._look = preview, first_look(preview)
        self._show()
        page = self.view.preview
        (page.take if preview.can_be_taken else page.files).setFocus()

    def _turn(self, look: Look) -> None:
        self._look = look
        self._show()

    def _show(self) -> None:
        if self._preview is None:
            self.view.show_page(self.view.empty)
            return
        self.view.preview.show_state(describe(self._preview, self._look))
        self.view.show_page(self.view.preview)

    # --- Taking in ---

    def take(self) -> None:
        """Take in what is shown."""
        if self._preview is None or not self._preview.can_be_taken:
            return
        self.view.told.clear()
        self._begin(taking=True)
        self.work.take(self._preview)

    def _taken(self, result: LoadResult) -> None:
        self._taking, self._preview = False, None
        self._show()
        sentence = load_sentence(result)
        self.view.told.say(Meaning.FINE, sentence, word=self.tr("Taken in"))
        self.view.path.setFocus()
        self.context.changes.tell(*result.added, "stages", "shop")
        self.taken_in.emit(sentence)

    def _changed(self, now: Preview) -> None:
        self._taking = False
        self._previewed(now)
        self.view.told.say(
            Meaning.WATCH,
            self.tr(
                "The files or the book have changed since you looked, so nothing was taken in. "
                "This is what they would change now."
            ),
        )

    def _refused(self, sentence: str) -> None:
        kept = self._taking
        self._taking = False
        if not kept:
            self._preview = None
        self._show()
        self.view.told.say(Meaning.STOP, sentence)
        self.view.path.setFocus()

    def _stopped(self) -> None:
        self._taking = False
        self._show()
        self.view.told.say(Meaning.INFO, self.tr("Stopped. Nothing was changed."))
        self.view.path.setFocus()

    # --- What is wrong, elsewhere ---

    def _wrong(self) -> str:
        assert self._preview is not None  # its buttons are there with a preview only
        return refused_text(wrong_rows(self._preview, self._look))

    def copy_wrong(self) -> None:
        """Put every refused line that is looked at on the clipboard."""
        text = self._wrong()
        QGuiApplication.clipboard().setText(text)
        count = text.count("\n")
        said = self.tr("1 line is copied.") if count == 1 else self.tr("{0} lines are copied.")
        self.view.told.say(Meaning.FINE, said.format(f"{count:,}"))

    def save_wrong(self, path: str) -> None:
        """Write every refused line that is looked at into a file."""
        text = self._wrong().encode()

        def saved(_nothing: None) -> None:
            self.view.told.say(Meaning.FINE, self.tr("Saved as {0}.").format(path))

        def failed(error: Exception) -> None:
            if not isinstance(error, Refusal):
                raise error
            self.view.told.say(Meaning.STOP, str(error))

        self.context.tasks.run_task(lambda: save_whole(Path(path), text), saved, failed)

    # --- The system's dialogs ---

    def _home(self) -> str:
        typed = self.view.path.text().strip()
        place = QStandardPaths.StandardLocation.DocumentsLocation
        return typed or QStandardPaths.writableLocation(place)

    def _choose_folder(self) -> None:
        title = self.tr("A folder of plain files")
        self._chosen(QFileDialog.getExistingDirectory(self, title, self._home()))

    def _choose_file(self) -> None:
        title, kinds = self.tr("One file of such a folder"), "*.csv *.toml"
        self._chosen(QFileDialog.getOpenFileName(self, title, self._home(), kinds)[0])

    def _chosen(self, path: str) -> None:
        if path:
            self.view.path.setText(path)
            self.read(path)

    def _choose_where_to_save(self) -> None:
        place = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)
        name = str(Path(place) / WRONG_FILE)
        path, _ = QFileDialog.getSaveFileName(self, self.tr("Save what is wrong"), name, "*.txt")
        if path:
            self.save_wrong(path)

    # --- Keys, and out of sight ---

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape and self.view.is_busy:
            self.cancel()
        else:
            super().keyPressEvent(event)

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        if event.spontaneous():
            return  # a window that is only minimised keeps all
        self.view.told.clear()
        if self.view.is_busy and not self._taking:
            self.work.let_go()
            self._show()
