"""Printing from a real book: written down before it is sent, and how it went after."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from gambrel.devices.printer import Sending, Told
from gambrel.domain.prices.labels import TrayCode
from gambrel.domain.prices.printer_setting import PaperSetting
from gambrel.domain.prices.prints import JobState
from gambrel.domain.prices.ticket_setting import TicketSetting
from gambrel.domain.prices.unit_price import Per
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import PrintKind, PrintStep, Setting
from gambrel.services.books import Book
from gambrel.services.printing.documents import (
    A4,
    CODES,
    Choice,
    DaySheet,
    Document,
    Labels,
    MakingStopped,
    Source,
    Tickets,
    TrialSheet,
    WeekSheet,
    paper_names,
    source_of,
)
from gambrel.services.printing.queue import (
    To,
    note_step,
    print_days,
    print_log,
    queue_job,
    replace_job,
    reprints,
    waiting_jobs,
)
from gambrel.services.printing.sending import print_document, save_document, settle
from gambrel.services.printing.settings import (
    PRINTERS,
    keep_paper_setting,
    keep_ticket_setting,
    keep_usual_paper,
    paper_setting,
    usual_paper,
)
from gambrel.services.settings import keep_setting, take_back
from tests.reports.reading import text_of
from tests.services.printing.shop import FRIDAY, Clock, KeepingPrinters, an_act, go_on

TICKETS = Tickets(("rump", "mince"))
OFFICE = To("Office")


def made(book: Book, source: Source = TICKETS, paper: str = "a4-15") -> Document:
    return source.make(book, Choice(paper), FRIDAY, go_on)


def test_a_printed_job_is_in_the_log_with_what_it_said(book: Book) -> None:
    printers = KeepingPrinters()
    document = made(book)
    job = print_document(book, document, To("Office", 2, 600), an_act(), printers, go_on, Clock())
    assert job.state is JobState.PRINTED
    assert printers.sent == [Sending("Office", document.pdf, "Shelf tickets", 2, 600)]
    lines = print_log(book)
    assert [(line.item.cut, line.item.price) for line in lines if line.item] == [
        ("rump", 2799),
        ("mince", 1399),
    ]
    told = lines[0].job.job
    assert (told.person, told.station, told.printer, told.copies) == ("Ana", "desk", "Office", 2)
    assert lines[0].job.at > FRIDAY
    assert waiting_jobs(book) == []


def test_a_job_is_in_the_book_before_the_first_page_is_sent(book: Book) -> None:
    seen: list[JobState] = []

    class Looking(KeepingPrinters):
        def send(self, sending: Sending, told: Told) -> None:
            seen.extend(job.state for job in waiting_jobs(book))

    print_document(book, made(book), OFFICE, an_act(), Looking(), go_on, Clock())
    assert seen == [JobState.QUEUED]


def test_what_a_printer_refuses_is_kept_with_the_reason(book: Book) -> None:
    printers = KeepingPrinters(refusal="The printer Office does not answer. See that it is on.")
    job = print_document(book, made(book), OFFICE, an_act(), printers, go_on, Clock())
    assert (job.state, job.reason) == (JobState.FAILED, printers.refusal)
    (waiting,) = waiting_jobs(book)
    assert waiting.cuts == ("rump", "mince")
    assert print_log(book) == []
    assert source_of(waiting) == TICKETS


def test_a_fault_of_the_program_fails_the_job_and_is_not_hidden(book: Book) -> None:
    class Broken(KeepingPrinters):
        def send(self, sending: Sending, told: Told) -> None:
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        print_document(book, made(book), OFFICE, an_act(), Broken(), go_on, Clock())
    assert [job.state for job in waiting_jobs(book)] == [JobState.FAILED]


def test_a_sudden_stop_leaves_it_open_and_asks(book: Book) -> None:
    class Killed(BaseException):
        """What no code of ours catches, as a kill is."""

    class Dying(KeepingPrinters):
        def send(self, sending: Sending, told: Told) -> None:
            raise Killed

    with pytest.raises(Killed):
        print_document(book, made(book), OFFICE, an_act(), Dying(), go_on, Clock())
    (job,) = waiting_jobs(book)
    assert job.state is JobState.QUEUED
    assert settle(book, job.job.key, PrintStep.PRINTED, FRIDAY, "Ana").reason == "seen by Ana"
    assert len(print_log(book)) == 2
    with pytest.raises(Refusal, match="printed already"):
        settle(book, job.job.key, PrintStep.CANCELLED, FRIDAY, "Joss")


def test_a_stop_on_the_way_lets_the_job_go(book: Book) -> None:
    printers = KeepingPrinters(pages=3)
    job = print_document(
        book, made(book), OFFICE, an_act(), printers, lambda done, _: done < 2, Clock()
    )
    assert job.state is JobState.CANCELLED
    assert "some pages may have been printed" in job.reason
    assert printers.sent == []


def test_saving_writes_the_file_whole_and_the_log(book: Book, tmp_path: Path) -> None:
    document = made(book)
    job = save_document(book, document, tmp_path / "tickets.pdf", an_act())
    assert (tmp_path / "tickets.pdf").read_bytes() == document.pdf
    assert (job.state, job.reason) == (JobState.SAVED, "tickets.pdf")
    with pytest.raises(Refusal, match="Choose another place"):
        save_document(book, document, tmp_path / "nowhere" / "tickets.pdf", an_act(2))
    assert len(print_log(book)) == 2


@pytest.mark.parametrize(
    ("to", "sentence"),
    [(To("", 1), "No printer is chosen"), (To("Office", 0), "Choose 1 to 1000")],
)
def test_nothing_is_sent_or_written_for_a_wish_that_cannot_be(
    book: Book, to: To, sentence: str
) -> None:
    printers = KeepingPrinters()
    with pytest.raises(Refusal, match=sentence):
        print_document(book, made(book), to, an_act(), printers, go_on, Clock())
    assert printers.sent == []
    assert waiting_jobs(book) == []


def test_the_log_goes_by_business_day_and_cut(book: Book) -> None:
    late = datetime(2026, 11, 20, 16, 30, tzinfo=UTC)  # 03:30 in the shop: its day has not ended
    for number, now in enumerate((FRIDAY, late, datetime(2026, 11, 21, 2, tzinfo=UTC)), start=1):
        act = an_act(number, now)
        print_document(book, made(book), OFFICE, act, KeepingPrinters(), go_on, Clock(now))
    assert print_days(book) == [date(2026, 11, 21), date(2026, 11, 20)]
    assert len(print_log(book)) == 6
    assert len(print_log(book, date(2026, 11, 20))) == 4
    assert [line.item and line.item.cut for line in print_log(book, cuts=["rump"])] == ["rump"] * 3
    assert len(print_log(book, date(2026, 11, 21), {"rump"})) == 1
    assert print_log(book, date(2026, 11, 19)) == []
    with pytest.raises(Refusal, match="no cut ham"):
        print_log(book, cuts=["ham"])
    assert len(print_log(book, most=3)) == 4  # whole jobs


def test_what_was_printed_again_is_let_go(book: Book) -> None:
    failing = KeepingPrinters(refusal="No paper.")
    old = print_document(book, made(book), OFFICE, an_act(), failing, go_on, Clock())
    replace_job(book, old.job.key, FRIDAY)
    assert waiting_jobs(book) == []
    replace_job(book, old.job.key, FRIDAY)  # a second time changes nothing
    with pytest.raises(Refusal, match="let go already"):
        note_step(book, old.job.key, PrintStep.PRINTED, FRIDAY)


def test_a_job_that_is_gone_is_refused(book: Book) -> None:
    with pytest.raises(Refusal, match="not in the book"):
        note_step(book, "no such job", PrintStep.PRINTED, FRIDAY)


def test_tickets_of_yesterday_are_listed_when_the_price_has_changed(book: Book) -> None:
    """The small shop's rump is dearer from the twentieth on."""
    before = datetime(2026, 11, 19, 2, tzinfo=UTC)
    document = TICKETS.make(book, Choice("a4-15"), before, go_on)
    print_document(book, document, OFFICE, an_act(1, before), KeepingPrinters(), go_on, Clock())
    assert reprints(book, before) == []
    (found,) = reprints(book, FRIDAY)
    assert (found.cut.key, found.printed, found.now) == ("rump", 2699, 2799)
    failed = KeepingPrinters(refusal="No paper.")
    print_document(book, made(book), OFFICE, an_act(2), failed, go_on, Clock())
    assert [each.cut.key for each in reprints(book, FRIDAY)] == ["rump"]
    print_document(book, made(book), OFFICE, an_act(3), KeepingPrinters(), go_on, Clock())
    assert reprints(book, FRIDAY) == []


def test_labels_say_weight_price_and_days_in_the_log_and_can_be_made_again(book: Book) -> None:
    from gambrel.services.labels import Wish

    source = Labels((Wish("P1", (1000, 500)),))
    document = source.make(book, Choice("label-58x60", dpi=203), FRIDAY, go_on)
    assert document.kind is PrintKind.LABEL
    told = [(i.piece, i.cut, i.price, i.grams, i.amount, i.lot) for i in document.items]
    assert told == [
        ("P1", "rump", 2799, 1000, 2799, "HQ-1"),
        ("P1", "rump", 2799, 500, 1400, "HQ-1"),
    ]
    assert all(item.use_by and len(item.number) == 13 for item in document.items)
    failing = KeepingPrinters(refusal="No paper.")
    job = print_document(book, document, OFFICE, an_act(), failing, go_on, Clock())
    assert source_of(job) == source


@pytest.mark.parametrize("source", [DaySheet(date(2026, 11, 18)), WeekSheet("2026-W47")])
def test_sheets_are_printed_and_made_again_by_their_title(book: Book, source: Source) -> None:
    document = made(book, source, A4)
    assert document.kind is PrintKind.SHEET
    job = print_document(book, document, OFFICE, an_act(), KeepingPrinters(), go_on, Clock())
    assert source_of(job) == source
    (line,) = print_log(book)
    assert line.item is None
    assert source_of(line.job) == source


def test_what_says_too_little_is_not_made_again(book: Book) -> None:
    document = Document(PrintKind.SHEET, "Daily sheet, some day", A4, b"")
    job = queue_job(book, document, OFFICE, an_act())
    with pytest.raises(Refusal, match="from its own place"):
        source_of(note_step(book, job.key, PrintStep.FAILED, FRIDAY, "?"))


def test_pages_begin_at_the_place_and_shift_that_were_chosen(book: Book) -> None:
    plain = TICKETS.make(book, Choice("a4-15"), FRIDAY, go_on)
    placed = TICKETS.make(book, Choice("a4-15", start=15, shift=(2.0, -1.5)), FRIDAY, go_on)
    assert "Rump" in text_of(placed.pdf)
    assert placed.pdf.count(b"/Type /Page\n") == plain.pdf.count(b"/Type /Page\n") + 1
    with pytest.raises(Refusal, match="cannot start at 16"):
        TICKETS.make(book, Choice("a4-15", start=16), FRIDAY, go_on)
    with pytest.raises(Refusal, match="mm"):
        TICKETS.make(book, Choice("a4-15", shift=(99.0, 0.0)), FRIDAY, go_on)


def test_making_can_be_stopped(book: Book) -> None:
    with pytest.raises(MakingStopped):
        TICKETS.make(book, Choice("card-a7"), FRIDAY, lambda done, total: done == total)


def test_a_cut_without_a_price_is_refused_before_anything_is_written(book: Book) -> None:
    keep_setting(book, "country", "")
    with pytest.raises(Refusal, match="Bone has no price"):
        Tickets(("bone",)).make(book, Choice("a4-15"), FRIDAY, go_on)
    assert waiting_jobs(book) == []


def test_tickets_bear_what_the_shop_wants(book: Book) -> None:
    plain = text_of(made(book).pdf)
    change = keep_ticket_setting(book, TicketSetting(Per.HUNDRED_GRAMS, barcode=False))
    document = made(book)
    assert "per 100 g" in text_of(document.pdf)
    assert "per 100 g" not in plain
    assert [item.number for item in document.items] == ["", ""]
    with pytest.raises(Refusal, match="PNG or JPEG"):
        keep_ticket_setting(book, TicketSetting(logo=b"no picture"))
    take_back(book, change)
    assert text_of(made(book).pdf) == plain


def test_every_code_is_one_that_labels_know() -> None:
    assert set(CODES) == {code.value for code in TrayCode}


def test_a_test_sheet_is_made_for_every_paper(book: Book) -> None:
    for number, paper in enumerate(paper_names()):
        source = TrialSheet(paper)
        (offer,) = source.papers()
        document = source.make(book, Choice(paper, shift=(0.5, -1.0)), FRIDAY, go_on)
        assert "Moved 0.5 mm right, -1 mm down" in text_of(document.pdf)
        assert offer.about
        job = print_document(
            book, document, OFFICE, an_act(number), KeepingPrinters(), go_on, Clock()
        )
        assert source_of(job) == source
    assert "a4" in paper_names()
    with pytest.raises(Refusal, match="no label paper"):
        TrialSheet("a3").papers()


def test_stations_keep_their_own_printers_and_the_dump_leaves_them_out(book: Book) -> None:
    setting = PaperSetting("Office", 600, 5, -5)
    keep_paper_setting(book, "desk", "a4-15", setting)
    assert paper_setting(book, "desk", "a4-15") == setting
    assert paper_setting(book, "block", "a4-15") == PaperSetting()
    assert paper_setting(book, "block", "label-58x40").dpi == 203
    keep_usual_paper(book, "desk", "tickets", "a4-15")
    assert usual_paper(book, "desk", "tickets") == "a4-15"
    with book.reading() as work:
        kept = [Setting(name, value) for name, value in work.settings().items()]
    mine = [each for each in kept if "desk" in each.name]
    assert len(mine) == 2
    assert not any(each.of_the_shop for each in mine)
    keep_setting(book, PRINTERS + "desk", "spoilt")
    with pytest.raises(Refusal, match="Set them up again"):
        paper_setting(book, "desk", "a4-15")
    keep_paper_setting(book, "desk", "a4-24", setting)
    assert paper_setting(book, "desk", "a4-24") == setting
