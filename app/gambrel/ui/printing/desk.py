"""The print desk: the real pages of anything that is printed, and what became of it.

A place makes one desk, puts it into its own stack of layers, and says what shall be printed::

    from gambrel.services.printing.documents import Tickets  # or Labels, DaySheet, WeekSheet
    from gambrel.ui.printing.desk import PrintDesk

    desk = PrintDesk(context)
    layers.addWidget(desk)
    desk.left.connect(lambda: layers.setCurrentWidget(view))
    desk.show_source(Tickets(("rump", "mince")))  # shows the pages; nothing is printed yet
    desk.show_sources([WeekSheet("2026-W47"), DaySheet(friday)])  # or: several to step through
    desk.show_waiting()  # or: what waits and what failed; `show_log` for what went out
    layers.setCurrentWidget(desk)

The place's ``refresh`` calls the desk's while it is shown. Everything slow runs off the window's
thread; what was printed is told as the change "prints".
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QStandardPaths, Signal
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QFileDialog, QVBoxLayout, QWidget

from gambrel.domain.prices.prints import Job, JobState
from gambrel.domain.refusals import Refusal
from gambrel.services.printing.documents import Source, source_of
from gambrel.ui.context import Context
from gambrel.ui.printing.chooser import Chooser
from gambrel.ui.printing.ledger import Ledger
from gambrel.ui.printing.shown import Shown
from gambrel.ui.printing.state import options_state
from gambrel.ui.printing.view import LOG, PAGES, WAITING, DeskView
from gambrel.ui.printing.workers import Changed, Made, Maker, Order, Sender
from gambrel.ui.theme import Meaning

if TYPE_CHECKING:
    from gambrel.devices.printer import Printers


class PrintDesk(QWidget):
    """Shows pages, prints and saves them; see the module for how to use it.

    ``printers`` and ``ask_path`` stand in for the system's in tests.
    """

    left = Signal()

    def __init__(self, context: Context, printers: Printers | None = None) -> None:
        super().__init__()
        self._context = context
        self._printers = printers
        self._source: Source | None = None
        self._sources: tuple[Source, ...] = ()
        self._busy = ""
        self._replaces = ""
        self._could_not_make = False
        self.ask_path: Callable[[str], str] = self._dialog
        self.view = DeskView(context.theme)
        self.chooser = Chooser(context, self._system)
        self.shown = Shown(context.tasks, self.view.preview)
        self.maker = Maker(context)
        self.printing = Sender(context, self._system)
        self.ledger = Ledger(context, self.view)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.addWidget(self.view)
        self.setFocusProxy(self.view.options.print_button)
        self._connect_choices()
        self._connect_work()

    def _connect_choices(self) -> None:
        options, chooser = self.view.options, self.chooser
        options.what_chosen.connect(self._begin_with)
        options.paper_chosen.connect(chooser.choose_paper)
        options.printer_chosen.connect(chooser.choose_printer)
        options.copies_chosen.connect(chooser.choose_copies)
        options.start_chosen.connect(chooser.choose_start)
        options.code_chosen.connect(chooser.choose_code)
        options.shift.moved.connect(chooser.move)
        options.shift.dots_chosen.connect(chooser.choose_dots)
        options.print_wished.connect(self.print_pages)
        options.save_wished.connect(self.save_pages)
        options.stop_wished.connect(self._stop)
        chooser.remake.connect(self._make)
        chooser.changed.connect(self._show_options)

    def _connect_work(self) -> None:
        self.view.left.connect(self._leave)
        self.view.turned.connect(self._turned)
        self.view.banner.acted.connect(self.print_pages)
        self.maker.made.connect(self._show_made)
        self.maker.refused.connect(lambda sentence: self._not_made(Meaning.STOP, sentence))
        self.maker.stopped.connect(self._making_stopped)
        self.maker.progressed.connect(self._making_goes_on)
        self.printing.ended.connect(self._ended)
        self.printing.progressed.connect(self._printing_goes_on)
        self.ledger.again.connect(self._again)
        for part in (self.chooser, self.shown, self.printing, self.ledger):
            part.failed.connect(self._broke)

    def _system(self) -> Printers:
        if self._printers is None:
            from gambrel.devices.printer import SystemPrinters

            self._printers = SystemPrinters()
        return self._printers

    # What is shown

    def show_source(self, source: Source, paper: str = "", copies: int = 1) -> None:
        """Show the pages of something; nothing is printed before somebody says so."""
        self._sources = (source,)
        self._begin_with(0, paper, copies)

    def show_sources(self, sources: Sequence[Source], index: int = 0) -> None:
        """Show one of several things, and let people step to the others."""
        self._sources = tuple(sources)
        self._begin_with(index)

    def _begin_with(self, index: int, paper: str = "", copies: int = 1) -> None:
        self._source = self._sources[index]
        self._replaces = ""
        self.view.banner.clear()
        self.view.options.show_whats([source.title for source in self._sources], index)
        self.chooser.begin(self._source, paper, copies)
        self.view.turn(PAGES)

    def show_waiting(self) -> None:
        """Show what waits for a decision."""
        self.view.turn(WAITING)

    def show_log(self) -> None:
        """Show what went out."""
        self.view.turn(LOG)

    def refresh(self) -> None:
        """Read again what is shown; a change of the book makes the pages anew."""
        if not self._busy:
            self._make()
        self._turned(self.view.stack.currentIndex())

    def _turned(self, page: int) -> None:
        if page == LOG:
            self.ledger.show_log()
        self.ledger.show_waiting()
        self._show_head()

    def _show_head(self) -> None:
        title = self._source.title if self._source is not None else self.tr("Printing")
        self.view.show_head(title, self.shown.words)

    def _show_options(self) -> None:
        chooser = self.chooser
        state = options_state(
            chooser.wish,
            chooser.offers,
            chooser.known,
            self.shown.document,
            self._busy,
            chooser.codes,
        )
        self.view.options.show_state(state, chooser.wish.dpi)

    def _leave(self) -> None:
        self.maker.let_go()
        self.left.emit()

    def hideEvent(self, event: QHideEvent) -> None:
        """Let the pages go while another place is shown; they are made anew in the end."""
        super().hideEvent(event)
        if not event.spontaneous():
            self.maker.let_go()
            self.shown.show_made(None)
            if self.ledger.sending is None:
                self._busy = ""

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if not event.spontaneous() and self.shown.document is None and not self._busy:
            self._make()

    # Making

    def _make(self) -> None:
        if self._source is None:
            return
        self._busy = self.tr("Making the pages …")
        self._show_options()
        self.maker.make(self._source, self.chooser.choice())

    def _making_goes_on(self, done: int, total: int) -> None:
        if self._busy:
            self._say_busy(self.tr("Making {0} of {1} …").format(done, total))

    def _say_busy(self, words: str) -> None:
        self._busy = words
        self.view.options.show_busy(words)

    def _show_made(self, made: Made) -> None:
        self._busy = ""
        if self._could_not_make:
            self._could_not_make = False
            self.view.banner.clear()
        self.shown.show_made(made)
        self._show_head()
        self._show_options()

    def _making_stopped(self) -> None:
        self._not_made(Meaning.INFO, self.tr("Stopped; nothing was made."))

    def _not_made(self, meaning: Meaning, sentence: str) -> None:
        self._busy = ""
        self._could_not_make = True
        self.shown.show_made(None)
        self.view.banner.say(meaning, sentence)
        self._show_head()
        self._show_options()

    # Printing and saving

    def _order(self) -> Order | None:
        document = self.shown.document
        if self._source is None or document is None or self._busy:
            return None
        wish = self.chooser.wish
        return Order(self._source, self.chooser.choice(), document, wish, self._replaces)

    def print_pages(self) -> None:
        """Print what is shown."""
        order = self._order()
        if order is not None:
            self._begin(self.tr("Printing …"))
            self.printing.send(order)

    def save_pages(self) -> None:
        """Save what is shown as a PDF, where somebody wants it."""
        order = self._order()
        if order is None:
            return
        name = order.document.title.lower().replace(", ", "-").replace(" ", "-")
        path = self.ask_path(f"{name}.pdf")
        if path:
            self._begin(self.tr("Saving …"))
            self.printing.save(order, Path(path))

    def _begin(self, words: str) -> None:
        self._busy = words
        self.ledger.sending = self._context.clock()
        self.view.banner.clear()
        self._show_options()

    def _printing_goes_on(self, done: int, total: int) -> None:
        self._say_busy(self.tr("Printing page {0} of {1} …").format(done, total))

    def _stop(self) -> None:
        self.maker.stop()
        self.printing.stop()

    def _ended(self, outcome: Job | Changed) -> None:
        self._rest()
        if isinstance(outcome, Changed):
            self._make()
            said = self.tr(
                "The book has changed since these pages were made. Look at them again, then print."
            )
            self.view.banner.say(Meaning.WATCH, said)
            return
        self._say_outcome(outcome)
        if outcome.is_out:
            self.chooser.remember()
        self.ledger.show_waiting()
        self._context.changes.tell("prints")

    def _say_outcome(self, job: Job) -> None:
        banner = self.view.banner
        self._replaces = job.job.key if job.state is JobState.FAILED else ""
        if job.state is JobState.FAILED:
            banner.say(Meaning.STOP, job.reason, action=self.tr("Print again"))
        elif job.state is JobState.CANCELLED:
            banner.say(Meaning.INFO, self.tr("Stopped. Some pages may have been printed."))
        elif job.state is JobState.SAVED:
            banner.say(Meaning.FINE, self.tr("Saved as {0}.").format(job.reason))
        else:
            said = self.tr("The printer {0} has taken all pages.").format(job.job.printer)
            banner.say(Meaning.FINE, said)

    def _rest(self) -> None:
        self._busy = ""
        self.ledger.sending = None
        self._show_options()

    def _broke(self, error: Exception) -> None:
        self._rest()
        if not isinstance(error, Refusal):
            raise error
        self.view.banner.say(Meaning.STOP, str(error))

    def _again(self, job: Job) -> None:
        """Show what a job printed, as the book has it now, to be printed in its place."""
        try:
            source = source_of(job)
        except Refusal as refusal:
            self.view.banner.say(Meaning.STOP, str(refusal))
            return
        self.show_source(source, job.job.paper, job.job.copies)
        self._replaces = job.job.key

    def _dialog(self, name: str) -> str:
        home = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DocumentsLocation)
        title, kinds = self.tr("Save as PDF"), self.tr("PDF files (*.pdf)")
        return QFileDialog.getSaveFileName(self, title, str(Path(home) / name), kinds)[0]
