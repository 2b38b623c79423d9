"""The Printers section of Setup: which printer takes which paper, and what stands on tickets."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFileDialog

from gambrel.domain.prices.printer_setting import PaperSetting, PrinterAtHand
from gambrel.domain.prices.ticket_setting import TicketSetting
from gambrel.domain.refusals import Refusal
from gambrel.services.printing.documents import TrialSheet, paper_names, paper_words
from gambrel.services.printing.settings import (
    keep_paper_setting,
    keep_ticket_setting,
    paper_setting,
    paper_settings,
    ticket_setting,
)
from gambrel.services.settings import Change, take_back
from gambrel.ui.context import Context
from gambrel.ui.printing.section_state import (
    SECOND_PRICES,
    TICKETS,
    PaperState,
    paper_state,
    paper_title,
    printer_of,
    setting_rows,
    ticket_state,
)
from gambrel.ui.printing.section_view import PrintersView
from gambrel.ui.setup.page import ActingSection, Done

if TYPE_CHECKING:
    from gambrel.devices.printer import Printers
    from gambrel.ui.printing.desk import PrintDesk


class PrintersSection(ActingSection):
    """A tap chooses a paper; what is changed is kept at once and can be taken back.

    ``printers`` and ``ask_logo`` stand in for the system's in tests.
    """

    kind = "printers"

    def __init__(self, context: Context, printers: Printers | None = None) -> None:
        super().__init__(context)
        self._printers = printers
        self._known: tuple[PrinterAtHand, ...] = ()
        self._papers: dict[str, str] = {}
        self._chosen = TICKETS
        self._desk: PrintDesk | None = None
        self.ask_logo: Callable[[], str] = self._dialog
        self.view = PrintersView(context.theme)
        self.show_page(self.view)
        view, paper, tickets = self.view, self.view.paper, self.view.tickets
        view.chosen.connect(self.choose)
        paper.printer.chosen.connect(self._choose_printer)
        paper.shift.moved.connect(lambda right, down: self._change(right=right, down=down))
        paper.shift.dots_chosen.connect(lambda dpi: self._change(dpi=dpi))
        paper.trial.clicked.connect(self.print_trial)
        tickets.second.chosen.connect(
            lambda index: self._change_tickets(per=SECOND_PRICES[index][0])
        )
        tickets.bars.chosen.connect(lambda index: self._change_tickets(barcode=index == 0))
        tickets.choose.clicked.connect(self._choose_logo)
        tickets.drop.clicked.connect(lambda: self._change_tickets(logo=b""))

    def refresh(self) -> None:
        """Read again what is kept, and look for printers once."""
        if not self._papers:
            self._papers = {name: paper_words(name) for name in paper_names()}
            self._look_for_printers()
        self._show()

    def _show(self) -> None:
        book, station = self.context.book, self.context.station
        refusal = ""
        try:
            settings, tickets = paper_settings(book, station), ticket_setting(book)
        except Refusal as refused:
            settings, tickets, refusal = {}, TicketSetting(), str(refused)
        self.view.rows.show_rows(setting_rows(self._papers, settings, tickets, self._chosen))
        self.view.show_refusal(refusal)
        if self._chosen == TICKETS:
            self.view.show_tickets(self.tr("What stands on tickets"), ticket_state(tickets))
        else:
            self.view.show_paper(self._state())

    def choose(self, key: str) -> None:
        """Choose a paper, or what stands on tickets."""
        self._chosen = key
        self._show()

    def _setting(self) -> PaperSetting:
        try:
            return paper_setting(self.context.book, self.context.station, self._chosen)
        except Refusal:
            return PaperSetting()

    # Papers

    def _state(self) -> PaperState:
        words = self._papers[self._chosen]
        return paper_state(self._chosen, words, self._setting(), self._known)

    def _choose_printer(self, index: int) -> None:
        self._keep(replace(self._setting(), printer=printer_of(self._state(), index)))

    def _change(self, **changes: int) -> None:
        self._keep(replace(self._setting(), **changes))  # type: ignore[arg-type]  # numbers all

    def _keep(self, setting: PaperSetting) -> None:
        book, station, paper = self.context.book, self.context.station, self._chosen
        title = paper_title(self._papers[paper])

        def act() -> Done:
            change = keep_paper_setting(book, station, paper, setting)
            return self._done(self.tr("Kept: {0}.").format(title), change)

        self._say(self.do(act))

    def _done(self, sentence: str, change: Change) -> Done:
        return Done(sentence, lambda: take_back(self.context.book, change))

    def _say(self, refusal: str) -> None:
        if refusal:
            self._show()
            self.view.show_refusal(refusal)

    def _look_for_printers(self) -> None:
        def look() -> tuple[PrinterAtHand, ...]:
            return self._system().at_hand()

        def know(found: tuple[PrinterAtHand, ...]) -> None:
            self._known = found
            self._show()

        def failed(error: Exception) -> None:
            self.view.show_refusal(
                self.tr("The printers of this machine could not be listed ({0}).").format(error)
            )

        self.context.tasks.run_task(look, know, failed)

    def _system(self) -> Printers:
        if self._printers is None:
            from gambrel.devices.printer import SystemPrinters

            self._printers = SystemPrinters()
        return self._printers

    def print_trial(self) -> None:
        """Show the test sheet of the paper, to be printed."""
        if self._desk is None:
            from gambrel.ui.printing.desk import PrintDesk

            self._desk = PrintDesk(self.context, self._system())
            self._desk.left.connect(self._come_back)
            self._box.addWidget(self._desk)
        self.view.hide()
        self._desk.show()
        self._desk.show_source(TrialSheet(self._chosen))

    def _come_back(self) -> None:
        assert self._desk is not None
        self._desk.hide()
        self.view.show()
        self._show()

    # Tickets

    def _change_tickets(self, **changes: object) -> None:
        book = self.context.book
        try:
            before = ticket_setting(book)
        except Refusal:
            before = TicketSetting()

        def act() -> Done:
            after = replace(before, **changes)  # type: ignore[arg-type]  # the panel's own fields
            change = keep_ticket_setting(book, after)
            return self._done(self.tr("Kept for all tickets of the shop."), change)

        self._say(self.do(act))

    def _choose_logo(self) -> None:
        path = self.ask_logo()
        if not path:
            return
        try:
            logo = Path(path).read_bytes()
        except OSError as error:
            self._say(self.tr("The picture cannot be read ({0}). Choose another.").format(error))
            return
        self._change_tickets(logo=logo)

    def _dialog(self) -> str:
        title, kinds = self.tr("The shop's logo"), self.tr("Pictures (*.png *.jpg *.jpeg)")
        return QFileDialog.getOpenFileName(self, title, "", kinds)[0]

    def handle_key(self, event: QKeyEvent) -> bool:
        """No key means anything here beside those of the buttons."""
        del event
        return False
