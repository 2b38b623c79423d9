"""Jobs at the print desk: sent, refused, kept, printed again, told in the log."""

from __future__ import annotations

from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from gambrel.devices.printer import Sending, Told
from gambrel.domain.prices.prints import JobState
from gambrel.services.books import Book
from gambrel.services.cabinet import set_price
from gambrel.services.labels import Wish
from gambrel.services.printing.documents import Labels, WeekSheet
from gambrel.services.printing.queue import print_log, waiting_jobs
from gambrel.ui.context import Context
from gambrel.ui.printing.desk import PrintDesk
from gambrel.ui.printing.view import LOG, PAGES, WAITING
from tests.services.printing.shop import KeepingPrinters
from tests.ui.printing.hands import TICKETS, tap


def test_what_a_printer_refuses_is_said_kept_and_printed_again(
    desk: PrintDesk, printers: KeepingPrinters, book: Book, qtbot: QtBot
) -> None:
    printers.refusal = "The printer Office does not answer. See that it is on."
    desk.show_source(TICKETS, "a4-15")
    tap(qtbot, desk.view.options.print_button)
    assert desk.view.banner.sentence == printers.refusal
    assert [job.state for job in waiting_jobs(book)] == [JobState.FAILED]
    assert desk.view.tabs.button(WAITING).text() == "Waiting · 1"
    printers.refusal = ""
    tap(qtbot, desk.view.banner.action)
    assert len(printers.sent) == 1
    assert waiting_jobs(book) == []
    assert desk.view.tabs.button(WAITING).text() == "Waiting"


def test_a_failed_job_is_made_anew_from_the_list(
    desk: PrintDesk, printers: KeepingPrinters, book: Book, qtbot: QtBot
) -> None:
    printers.refusal = "No paper. Put some in."
    desk.show_source(Labels((Wish("P1", (700, 300)),)), "label-58x60", copies=3)
    tap(qtbot, desk.view.options.print_button)
    desk.show_source(WeekSheet("2026-W47"))
    tap(qtbot, desk.view.tabs.button(WAITING))
    (card,) = desk.view.waiting.cards
    assert "No paper" in "".join(_words(card))
    printers.refusal = ""
    tap(qtbot, card.again_button)
    assert desk.view.stack.currentIndex() == PAGES
    assert desk.view.title.text() == "Tray labels"
    assert desk.view.options.copies.text.text() == "3"
    tap(qtbot, desk.view.options.print_button)
    assert printers.sent[-1].copies == 3
    assert waiting_jobs(book) == []
    assert [line.item and line.item.grams for line in print_log(book)] == [700, 300]


def _words(card: object) -> list[str]:
    from PySide6.QtWidgets import QLabel, QWidget

    assert isinstance(card, QWidget)
    return [label.text() for label in card.findChildren(QLabel)]


def test_after_a_sudden_stop_the_desk_asks(
    desk: PrintDesk, context: Context, book: Book, qtbot: QtBot
) -> None:
    class Killed(BaseException):
        """As a kill is: nothing of ours catches it."""

    class Dying(KeepingPrinters):
        def send(self, sending: Sending, told: Told) -> None:
            raise Killed

    dying = PrintDesk(context, Dying())
    qtbot.addWidget(dying)
    dying.show()
    dying.show_source(TICKETS)
    with pytest.raises(Killed):
        dying.print_pages()
    dying.hide()
    desk.show_waiting()
    (card,) = desk.view.waiting.cards
    assert any("did the pages come out?" in words for words in _words(card))
    tap(qtbot, card.seen_button)
    assert desk.view.waiting.cards == []
    assert desk.view.waiting.quiet.isVisible()
    assert [line.job.reason for line in print_log(book)] == ["seen by test station"] * 2


def test_a_job_is_let_go(desk: PrintDesk, printers: KeepingPrinters, qtbot: QtBot) -> None:
    printers.refusal = "No paper. Put some in."
    desk.show_source(TICKETS)
    tap(qtbot, desk.view.options.print_button)
    desk.show_waiting()
    tap(qtbot, desk.view.waiting.cards[0].drop_button)
    assert desk.view.waiting.cards == []


def test_a_price_that_changed_since_is_never_printed_unseen(
    desk: PrintDesk, printers: KeepingPrinters, context: Context, qtbot: QtBot
) -> None:
    desk.show_source(TICKETS)
    set_price(context.book, "rump", 3099, context.clock())  # at another station
    tap(qtbot, desk.view.options.print_button)
    assert printers.sent == []
    assert "has changed since" in desk.view.banner.sentence
    tap(qtbot, desk.view.options.print_button)
    (sent,) = printers.sent
    assert print_log(context.book)[0].item is not None
    assert [line.item.price for line in print_log(context.book) if line.item] == [3099, 1399]
    assert desk.shown.document is not None
    assert sent.pdf == desk.shown.document.pdf


def test_saving_asks_where_and_is_in_the_log(
    desk: PrintDesk, book: Book, tmp_path: Path, qtbot: QtBot
) -> None:
    asked: list[str] = []

    def answer(name: str) -> str:
        asked.append(name)
        return str(tmp_path / name)

    desk.ask_path = answer
    desk.show_source(WeekSheet("2026-W47"))
    tap(qtbot, desk.view.options.save_button)
    assert asked == ["weekly-sheet-2026-w47.pdf"]
    assert (tmp_path / asked[0]).read_bytes().startswith(b"%PDF")
    assert print_log(book)[0].job.state is JobState.SAVED
    desk.ask_path = lambda _name: str(tmp_path / "nowhere" / "a.pdf")
    tap(qtbot, desk.view.options.save_button)
    assert "Choose another place" in desk.view.banner.sentence
    desk.ask_path = lambda _name: ""
    tap(qtbot, desk.view.options.save_button)
    assert len(print_log(book)) == 1


def test_without_a_printer_it_still_saves(context: Context, qtbot: QtBot) -> None:
    desk = PrintDesk(context, KeepingPrinters(names=()))
    qtbot.addWidget(desk)
    desk.show()
    desk.show_source(TICKETS)
    options = desk.view.options
    assert not options.print_button.isEnabled()
    assert options.save_button.isEnabled()
    assert "save as PDF" in options.trouble.text()
    desk.hide()


def test_a_printer_that_is_gone_is_named_and_not_printed_to(context: Context, qtbot: QtBot) -> None:
    from gambrel.domain.prices.printer_setting import PaperSetting
    from gambrel.services.printing.settings import keep_paper_setting

    keep_paper_setting(context.book, context.station, "a4-8", PaperSetting("Attic"))
    desk = PrintDesk(context, KeepingPrinters())
    qtbot.addWidget(desk)
    desk.show()
    desk.show_source(TICKETS, "a4-8")
    assert "Attic is not there any more" in desk.view.options.trouble.text()
    assert not desk.view.options.print_button.isEnabled()
    desk.hide()


def test_the_log_is_told_by_day_and_searched(
    desk: PrintDesk, printers: KeepingPrinters, qtbot: QtBot
) -> None:
    desk.show_source(TICKETS)
    tap(qtbot, desk.view.options.print_button)
    tap(qtbot, desk.view.tabs.button(LOG))
    table, search = desk.view.log.table, desk.view.log.search
    assert [row[0] for row in table.texts()] == ["Rump", "Mince"]
    assert table.texts()[0][2] == "$27.99"
    assert "Office" in table.texts()[0][4]
    qtbot.keyClicks(search, "min")
    assert [row[0] for row in table.texts()] == ["Mince"]
    qtbot.keyClicks(search, "xyz")
    assert table.texts() == []
    assert "Nothing was printed" in desk.view.log.said.text()
    search.clear()
    assert desk.view.log.day.text.text() == "Fri 20 Nov 2026"
    tap(qtbot, desk.view.log.day.on)
    assert desk.view.log.day.text.text() == "All days"
    assert len(table.texts()) == 2
