"""Papers in the making: stopped, refused, at fault; nothing is printed unseen."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest
from pytestqt.qtbot import QtBot

from gambrel.devices.printer import Sending, Told
from gambrel.domain.refusals import Refusal
from gambrel.services.books import Book
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
)
from gambrel.services.printing.settings import PRINTERS
from gambrel.services.settings import keep_setting
from gambrel.ui.context import Context
from gambrel.ui.printing.desk import PrintDesk
from gambrel.ui.tasks import PoolTasks
from tests.services.printing.shop import FRIDAY, Clock, KeepingPrinters
from tests.ui.printing.hands import TICKETS, tap


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


def test_refusals_of_the_book_are_said(
    desk: PrintDesk, monkeypatch: pytest.MonkeyPatch, qtbot: QtBot
) -> None:
    def refuse(*_arguments: object) -> None:
        raise Refusal("This book may be read only. Open it where it can be written.")

    monkeypatch.setattr("gambrel.services.printing.sending.queue_job", refuse)
    desk.show_source(TICKETS)
    tap(qtbot, desk.view.options.print_button)
    assert "read only" in desk.view.banner.sentence
