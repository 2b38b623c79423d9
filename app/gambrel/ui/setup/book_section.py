"""The Book section of Setup: where the book is, its backups, and whether it is sound."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtGui import QGuiApplication, QKeyEvent
from PySide6.QtWidgets import QFileDialog

from gambrel.domain.refusals import Refusal
from gambrel.services import backup as backups
from gambrel.services.backup import Contents, Restored
from gambrel.services.check import CheckReport, check_book
from gambrel.services.daily_copy import daily_copies
from gambrel.services.settings import take_back
from gambrel.ui.book_care import RESTORED
from gambrel.ui.context import Context
from gambrel.ui.setup.book_state import (
    BookFacts,
    Busy,
    back_told,
    backup_told,
    check_told,
    describe,
    sound_told,
)
from gambrel.ui.setup.book_view import BookView
from gambrel.ui.setup.page import ActingSection, Done
from gambrel.ui.theme import Meaning


class BookSection(ActingSection):
    """Backs up and checks in a worker.

    ``ask_folder`` and ``ask_file`` stand in for the system's dialogs in tests.
    """

    kind = "backups"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self._busy = Busy.NOTHING
        self._backup: Path | None = None
        self.ask_folder: Callable[[], str] = self._dialog
        self.ask_file: Callable[[], str] = self._file_dialog
        self.view = BookView(context.theme)
        self.show_page(self.view)
        self.view.folder_wanted.connect(self.choose_folder)
        self.view.backup_wanted.connect(self.back_up)
        self.view.check_wanted.connect(self.check)
        self.view.copy_wanted.connect(self.copy_command)
        self.view.go_back_wanted.connect(self.choose_backup)
        self.view.go_back_meant.connect(self.go_back)

    def refresh(self) -> None:
        """Read again what is known of the book and its backups."""
        self.view.show_state(describe(self._facts(), self._busy))

    def _facts(self) -> BookFacts:
        book = self.context.book
        facts = book.facts()
        with book.reading() as work:
            shop = work.shop()
        folder = backups.backup_folder(book, self.context.station)
        return BookFacts(
            where=book.where,
            size=facts.size,
            bodies=facts.bodies,
            pieces=facts.pieces,
            time_zone=shop.time_zone if shop else "",
            last=backups.last_backup(book),
            due=backups.reminder(book, self.context.clock()),
            copies=daily_copies(book),
            on_server=book.file is None,
            folder=str(folder or ""),
            same_disk=folder is not None and backups.on_the_same_disk(book, folder),
            command=backups.restore_command(book),
        )

    # Backing up

    def choose_folder(self) -> bool:
        """Ask where backups go; False where none was chosen."""
        chosen = self.ask_folder()
        if not chosen:
            return False
        book, station = self.context.book, self.context.station

        def act() -> Done:
            change = backups.choose_folder(book, station, Path(chosen))
            sentence = self.tr("Backups of this station go to {0} from now on.").format(chosen)
            return Done(sentence, lambda: take_back(book, change))

        refusal = self.do(act)
        if refusal:
            self.view.told.say(Meaning.STOP, refusal)
        return not refusal

    def _dialog(self) -> str:
        title = self.tr("Where backups go")
        kept = backups.backup_folder(self.context.book, self.context.station)
        return QFileDialog.getExistingDirectory(self, title, str(kept or ""))

    def back_up(self) -> None:
        """Write a backup, after asking where to if that was never said."""
        book, station = self.context.book, self.context.station
        if self._busy or (
            backups.backup_folder(book, station) is None and not self.choose_folder()
        ):
            return
        folder = backups.backup_folder(book, station)
        assert folder is not None
        now = self.context.clock()
        file = folder / backups.file_name(book, now)

        def done(contents: Contents) -> None:
            self._end()
            self.view.told.say(Meaning.FINE, backup_told(contents, str(file)))
            self.context.changes.tell(self.kind)

        self._begin(Busy.BACKUP)
        self.context.tasks.run_task(
            lambda: backups.back_up(book, file, now, station), done, self._failed
        )

    def check(self) -> None:
        """Look through the whole book."""
        if self._busy:
            return

        def done(report: CheckReport) -> None:
            self._end()
            meaning = Meaning.FINE if report.sound else Meaning.STOP
            self.view.told.say(meaning, sound_told(report), word=self.tr("Checked"))
            self.view.show_report(check_told(report))

        self.view.show_report(())
        self._begin(Busy.CHECK)
        self.context.tasks.run_task(lambda: check_book(self.context.book), done, self._failed)

    # Going back

    def choose_backup(self) -> None:
        """Ask for a backup, look at it, and ask whether it is meant."""
        chosen = "" if self._busy else self.ask_file()
        if not chosen:
            return
        book, self._backup = self.context.book, Path(chosen)

        def done(sentence: str) -> None:
            self._end()
            self.view.show_question(sentence)

        self._begin(Busy.LOOK)
        self.context.tasks.run_task(
            lambda: backups.look_at_backup(book, Path(chosen)), done, self._failed
        )

    def _file_dialog(self) -> str:
        title, kinds = self.tr("The backup to go back to"), self.tr("Books (*.gambrel);;All (*)")
        kept = backups.backup_folder(self.context.book, self.context.station)
        return QFileDialog.getOpenFileName(self, title, str(kept or ""), kinds)[0]

    def go_back(self) -> None:
        """Put the backup that was looked at in the place of the book."""
        book, backup, now = self.context.book, self._backup, self.context.clock()
        if self._busy or backup is None:
            return

        def done(restored: Restored) -> None:
            self._end()
            self.view.told.say(Meaning.FINE, back_told(restored))
            self.context.changes.tell(RESTORED, "shop")

        self._begin(Busy.GO_BACK)
        self.context.tasks.run_task(lambda: backups.go_back(book, backup, now), done, self._failed)

    def leave(self) -> None:
        """Forget the question."""
        self._backup = None
        self.view.show_question("")

    def copy_command(self) -> None:
        """Put the line that goes back to a backup where it can be pasted from."""
        QGuiApplication.clipboard().setText(backups.restore_command(self.context.book))
        self.view.told.say(Meaning.FINE, self.tr("The line is copied. Paste it into a terminal."))

    def _begin(self, what: Busy) -> None:
        self._busy = what
        self._forget()
        self.view.told.clear()
        self.view.show_question("")
        self.refresh()

    def _end(self) -> None:
        self._busy = Busy.NOTHING
        self.refresh()

    def _failed(self, error: Exception) -> None:
        self._end()
        if not isinstance(error, Refusal):
            raise error
        self.view.told.say(Meaning.STOP, str(error))

    def handle_key(self, event: QKeyEvent) -> bool:
        """No key means anything here beside those of the buttons."""
        del event
        return False
