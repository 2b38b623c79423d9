"""The print desk by touch and by keyboard: what is seen is what is printed."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest
import zxingcpp
from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QAbstractButton
from pytestqt.qtbot import QtBot

from gambrel.devices.pages import Pages
from gambrel.devices.printer import Sending, Told
from gambrel.domain.prices.prints import JobState
from gambrel.domain.refusals import Refusal
from gambrel.services.books import Book
from gambrel.services.cabinet import set_price
from gambrel.services.labels import Wish
from gambrel.services.printing.documents import (
    Choice,
    Document,
    Labels,
    MakingStopped,
    OnPage,
    PaperOffer,
    Source,
    Tickets,
    WeekSheet,
)
from gambrel.services.printing.queue import print_log, waiting_jobs
from gambrel.services.printing.settings import PRINTERS, paper_setting, usual_code
from gambrel.services.settings import keep_setting
from gambrel.ui.context import Context
from gambrel.ui.printing.desk import PrintDesk
from gambrel.ui.printing.view import LOG, PAGES, WAITING
from gambrel.ui.tasks import PoolTasks
from gambrel.ui.theme import Meaning
from tests.services.printing.shop import FRIDAY, Clock, KeepingPrinters
from tests.ui.walk import cut_labels, nameless, out_of_reach, outside, too_small

LEFT = Qt.MouseButton.LeftButton
TICKETS = Tickets(("rump", "mince"))


def tap(qtbot: QtBot, button: QAbstractButton) -> None:
    assert button.isVisible()
    assert button.isEnabled(), button.text()
    qtbot.mouseClick(button, LEFT)


def pixels(picture: QImage) -> bytes:
    return bytes(picture.constBits())


def test_the_page_that_is_seen_is_the_page_that_is_printed(
    desk: PrintDesk, printers: KeepingPrinters, book: Book, qtbot: QtBot
) -> None:
    desk.show_source(TICKETS, "card-a6")
    assert desk.view.made.text() == "2 tickets on 2 pages"
    assert desk.view.preview.size_words.text() == "148 × 105 mm"
    seen = desk.view.preview.sheet.picture
    per_mm = round(desk.view.preview.per_mm() * desk.devicePixelRatioF(), 4)
    tap(qtbot, desk.view.options.print_button)
    (sent,) = printers.sent
    with Pages(sent.pdf) as pages:
        assert pixels(pages.image(0, per_mm)) == pixels(seen)
    codes = zxingcpp.read_barcodes(_as_array(seen))
    assert [code.text for code in codes] == [print_log(book)[0].item and _number(book)]
    assert desk.view.banner.meaning is Meaning.FINE
    assert "Office has taken all pages" in desk.view.banner.sentence


def _number(book: Book) -> str:
    item = print_log(book)[0].item
    assert item is not None
    return item.number


def _as_array(picture: QImage) -> object:
    import numpy as np

    grey = picture.convertToFormat(QImage.Format.Format_Grayscale8)
    rows = np.frombuffer(grey.constBits(), np.uint8).reshape(grey.height(), grey.bytesPerLine())
    return rows[:, : grey.width()].copy()


def test_pages_turn_by_touch_keyboard_and_small_pictures(desk: PrintDesk, qtbot: QtBot) -> None:
    desk.show_source(TICKETS, "card-a7")
    preview = desk.view.preview
    assert preview.where.text() == "1 of 2"
    tap(qtbot, preview.on)
    assert preview.where.text() == "2 of 2"
    assert not preview.on.isEnabled()
    qtbot.keyClick(preview, Qt.Key.Key_PageUp)
    assert preview.page == 0
    preview.thumbs.setFocus()
    qtbot.keyClick(preview.thumbs, Qt.Key.Key_Down)
    assert preview.page == 1
    place = preview.thumbs.visualRect(preview.thumbs.pages.index(0))
    qtbot.mouseClick(preview.thumbs.viewport(), LEFT, pos=place.center())
    assert preview.page == 0
    qtbot.waitUntil(lambda: preview.thumbs.pages.index(1).data(Qt.ItemDataRole.DecorationRole))


def test_true_size_and_whole_page(desk: PrintDesk, qtbot: QtBot) -> None:
    desk.show_source(TICKETS, "roll-58")
    preview = desk.view.preview
    whole = preview.sheet.picture.width()
    tap(qtbot, preview.actual_button)
    assert preview.sheet.picture.width() == pytest.approx(58 * preview.per_mm(), abs=2)
    assert preview.sheet.picture.width() != whole
    tap(qtbot, preview.fit_button)
    assert preview.sheet.picture.width() == whole


def test_paper_copies_place_and_shift_are_chosen(
    desk: PrintDesk, printers: KeepingPrinters, context: Context, qtbot: QtBot
) -> None:
    desk.show_source(TICKETS)
    options = desk.view.options
    assert options.paper.text.text() == "A4 sheet to cut into 8 large tickets"
    first = desk.shown.document
    tap(qtbot, options.copies.on)
    assert desk.shown.document is first, "copies make no other pages"
    for _ in range(7):
        tap(qtbot, options.start.on)
    assert desk.view.made.text() == "2 tickets on 2 pages"
    tap(qtbot, options.shift_button)
    for _ in range(3):
        qtbot.keyClick(options.shift.right, Qt.Key.Key_Right)
    assert options.shift_words.text() == "Moved 0.3 mm right"
    moved = desk.shown.document
    assert moved is not None
    assert first is not None
    assert moved.pdf != first.pdf
    tap(qtbot, options.printer.on)
    tap(qtbot, options.print_button)
    (sent,) = printers.sent
    assert (sent.printer, sent.copies, sent.pdf) == ("Labels", 2, moved.pdf)
    kept = paper_setting(context.book, context.station, "a4-8")
    assert (kept.printer, kept.right, kept.down) == ("Labels", 3, 0)
    assert paper_setting(context.book, context.station, "a4-15").printer == ""


def test_the_paper_that_was_printed_on_is_the_usual_one_for_such_things(
    desk: PrintDesk, context: Context, qtbot: QtBot
) -> None:
    desk.show_source(TICKETS, "card-a6")
    tap(qtbot, desk.view.options.print_button)
    desk.show_source(Labels((Wish("P1"),)))
    assert desk.chooser.paper == "label-58x40"
    assert "verified for trade" in desk.view.options.note.text()
    another = PrintDesk(context, KeepingPrinters())
    qtbot.addWidget(another)
    another.show()
    another.show_source(TICKETS)
    assert another.chooser.paper == "card-a6"
    another.hide()


def test_labels_bear_the_code_that_is_chosen_and_keep_it(
    desk: PrintDesk, printers: KeepingPrinters, context: Context, qtbot: QtBot
) -> None:
    desk.show_source(TICKETS)
    assert not desk.view.options.code.isVisible()
    desk.show_source(Labels((Wish("P1"),)), "label-100x60")
    code = desk.view.options.code
    assert code.text.text() == "Bars with the price"
    read: list[tuple[str, str]] = []
    for _ in range(5):
        document = desk.shown.document
        assert document is not None
        with Pages(document.pdf) as pages:
            found = zxingcpp.read_barcodes(_as_array(pages.image(0, 12)))
        read += [(each.format.name, each.text[:2]) for each in found]
        code.step(1)
    assert read[:2] == [("EAN13", "22"), ("EAN13", "23")]
    assert [name for name, _ in read[2:]] == ["Code128", "QRCode"]
    code.step(-1)
    tap(qtbot, desk.view.options.print_button)
    assert usual_code(context.book, context.station) == "qr"
    desk.show_source(TICKETS)
    desk.show_source(Labels((Wish("P1"),)), "label-100x60")
    assert code.text.text() == "QR code: use by, lot"


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


@pytest.mark.parametrize(
    ("source", "paper", "words"),
    [
        (Tickets(("bone",)), "a4-15", "Bone has no price"),
        (Labels((Wish("P99"),)), "label-58x60", "no piece 'P99'"),
    ],
)
def test_what_cannot_be_made_is_said_and_nothing_can_be_printed(
    desk: PrintDesk, source: Source, paper: str, words: str
) -> None:
    desk.show_source(source, paper)
    assert words in desk.view.banner.sentence
    assert not desk.view.options.print_button.isEnabled()
    assert not desk.view.options.save_button.isEnabled()
    desk.show_source(TICKETS)
    assert desk.view.banner.sentence == ""
    assert desk.view.options.print_button.isEnabled()


def test_settings_that_cannot_be_read_are_said(desk: PrintDesk, context: Context) -> None:
    keep_setting(context.book, PRINTERS + context.station, "spoilt")
    desk.show_source(TICKETS)
    assert "Set them up again" in desk.view.banner.sentence
    assert desk.view.options.print_button.isEnabled()


def test_pages_without_a_line_say_what_will_stand_there(desk: PrintDesk, qtbot: QtBot) -> None:
    log, waiting = desk.view.log, desk.view.waiting
    desk.view.turn(WAITING)
    assert waiting.quiet.isVisible()
    desk.view.turn(LOG)
    qtbot.waitUntil(log.empty.isVisible)
    assert not log.table.isVisible()
    assert not log.search.isVisible()


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


def test_slow_work_runs_off_the_window_s_thread_and_can_be_stopped(
    context: Context, qtbot: QtBot
) -> None:
    printers = KeepingPrinters(pages=1_000_000)  # as slow as it may be: it goes on until stopped
    tasks = PoolTasks()
    desk = PrintDesk(replace(context, tasks=tasks, clock=Clock(FRIDAY)), printers)
    qtbot.addWidget(desk)
    desk.show()
    with qtbot.waitSignal(desk.maker.made, timeout=10_000):
        desk.show_source(TICKETS, "card-a7")
    qtbot.waitUntil(lambda: not desk.view.preview.sheet.picture.isNull())
    qtbot.waitUntil(desk.view.options.print_button.isEnabled)
    with qtbot.waitSignal(desk.printing.progressed, timeout=10_000):
        desk.print_pages()
    with qtbot.waitSignal(desk.printing.ended, timeout=10_000):
        tap(qtbot, desk.view.options.stop_button)
    assert "Stopped" in desk.view.banner.sentence
    assert printers.sent == []
    desk.hide()
    tasks.wait()


class EndlessSource:
    """As slow as pages may be: it is never done, and stops when it is asked to."""

    title = "Endless"

    def papers(self) -> list[PaperOffer]:
        return [PaperOffer("a4-15", "A4 sheet", 15)]

    def make(self, book: Book, choice: Choice, now: datetime, on_page: OnPage) -> Document:
        done = 0
        while on_page(done, 1_000_000):
            done += 1
        raise MakingStopped


def test_making_tells_its_progress_and_can_be_stopped(context: Context, qtbot: QtBot) -> None:
    tasks = PoolTasks()
    desk = PrintDesk(replace(context, tasks=tasks), KeepingPrinters())
    qtbot.addWidget(desk)
    desk.show()
    with qtbot.waitSignal(desk.maker.progressed, timeout=10_000):
        desk.show_source(EndlessSource())
    qtbot.waitUntil(lambda: "Making" in desk.view.options.busy.text())
    with qtbot.waitSignal(desk.maker.stopped, timeout=10_000):
        tap(qtbot, desk.view.options.stop_button)
    assert "nothing was made" in desk.view.banner.sentence
    assert not desk.view.options.print_button.isEnabled()
    desk.show_source(EndlessSource())
    with qtbot.waitSignal(desk.maker.made, timeout=10_000):
        desk.show_source(TICKETS)  # what was being made is let go, and its end is not told
    assert "Stopped" not in desk.view.banner.sentence
    desk.hide()
    assert tasks.wait()


def test_a_fault_of_the_program_is_not_hidden(desk: PrintDesk, qtbot: QtBot) -> None:
    class Broken(KeepingPrinters):
        def send(self, sending: Sending, told: Told) -> None:
            raise ZeroDivisionError

    desk._printers = Broken()
    desk.show_source(TICKETS)
    with qtbot.capture_exceptions() as faults:
        desk.print_pages()
    assert [kind for kind, _, _ in faults] == [ZeroDivisionError]
    assert desk.view.options.print_button.isEnabled()


@pytest.mark.parametrize("page", [PAGES, WAITING, LOG])
@pytest.mark.parametrize("size", [(1280, 736), (1024, 536), (1920, 1016)])
def test_every_control_is_named_reached_and_large_enough(
    desk: PrintDesk, printers: KeepingPrinters, size: tuple[int, int], page: int, qtbot: QtBot
) -> None:
    printers.refusal = "The printer Office does not answer. See that it is on and has paper."
    desk.show_source(TICKETS, "a4-15")
    tap(qtbot, desk.view.options.print_button)
    desk.view.options.shift_button.setChecked(True)
    desk.resize(*size)
    desk.view.turn(page)
    qtbot.wait(1)
    assert too_small(desk, 44) == []
    assert nameless(desk) == []
    assert out_of_reach(desk) == []
    assert outside(desk) == []
    assert cut_labels(desk) == []


def test_refusals_of_the_book_are_said(
    desk: PrintDesk, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    def refuse(*_arguments: object) -> None:
        raise Refusal("This book may be read only. Open it where it can be written.")

    monkeypatch.setattr("gambrel.services.printing.sending.queue_job", refuse)
    desk.show_source(TICKETS)
    tap(qtbot, desk.view.options.print_button)
    assert "read only" in desk.view.banner.sentence
