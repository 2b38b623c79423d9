"""Looks after the book while the window is open: a daily copy, and a word when a backup is due."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import QObject, QTimer

from gambrel.domain.refusals import Refusal
from gambrel.ui.context import Context
from gambrel.ui.shell import Shell
from gambrel.ui.theme import Meaning

RESTORED = "restored"
"""What places hear when the whole book has become another (`Changes`)."""
FIRST_MS = 20_000
"""The window is filled and used first; nothing here is in a hurry."""
AGAIN_MS = 3_600_000
"""A tablet may be on for weeks, so each hour it looks whether another day has begun."""


class BookCare(QObject):
    """Works in a worker, and speaks across the window; never while somebody stands at the block."""

    def __init__(self, shell: Shell, context: Context) -> None:
        super().__init__(shell)
        self._shell, self._context = shell, context
        self._reminded: date | None = None
        self._waiting = ""
        self.timer = QTimer(self)
        self.timer.setInterval(FIRST_MS)
        self.timer.timeout.connect(self.look)
        self.timer.start()
        shell.closing.connect(self.timer.stop)
        shell.place_shown.connect(lambda _key: self._speak())
        shell.banner.acted.connect(self._to_setup)

    def look(self) -> None:
        """Make today's copy if there is none, and see whether a backup is due, once a day."""
        from gambrel.services.backup import reminder
        from gambrel.services.daily_copy import make_daily_copy

        self.timer.setInterval(AGAIN_MS)
        book, now, tasks = self._context.book, self._context.clock(), self._context.tasks
        tasks.run_task(lambda: make_daily_copy(book, now), lambda _made: None, self._failed)
        if self._reminded != now.date():
            self._reminded = now.date()
            tasks.run_task(lambda: reminder(book, now), self._remind, self._ask_again)

    def _ask_again(self, error: Exception) -> None:
        """The book was busy: the next hour will do."""
        self._reminded = None
        if not isinstance(error, Refusal):
            raise error

    def _remind(self, sentence: str) -> None:
        if sentence:
            self._waiting = sentence
            self._speak()

    def _speak(self) -> None:
        if self._waiting and self._shell.current != "block":
            self._shell.banner.say(
                Meaning.INFO,
                self._waiting,
                action=self.tr("To the backups"),
                word=self.tr("Time to back up"),
            )
            self._waiting = ""

    def _failed(self, error: Exception) -> None:
        if not isinstance(error, Refusal):
            raise error
        self._shell.banner.say(
            Meaning.WATCH, self.tr("The book was not copied today. {0}").format(error)
        )

    def _to_setup(self) -> None:
        self._shell.banner.clear()
        self._shell.go("setup", "book")
