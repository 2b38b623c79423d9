"""What the print desk says, without a window."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from gambrel.domain.prices.printer_setting import MOST_TENTHS, PrinterAtHand
from gambrel.domain.prices.prints import Job, JobState, LogLine
from gambrel.domain.trade.around import PrintedItem, PrintJob, PrintKind
from gambrel.domain.trade.formats import Formats
from gambrel.services.printing.documents import A4, Document, PaperOffer
from gambrel.ui.printing.state import (
    LOG_LINES,
    NO_PRINTER,
    Wish,
    copies_offered,
    job_rows,
    log_rows,
    options_state,
    pages_words,
    shift_words,
    tenths,
    waiting_words,
)
from tests.services.printing.shop import FRIDAY
from tests.trades import AUD, a_shop

FORMATS = Formats(AUD, "$")
OFFERS = (PaperOffer("a4-15", "A4 sheet", 15), PaperOffer(A4, "A4"))
OFFICE = PrinterAtHand("Office", is_default=True)
DOCUMENT = Document(PrintKind.TICKET, "Tickets", "a4-15", b"", (), ("Too long.",))
MINUTE = timedelta(minutes=1)


@pytest.mark.parametrize(
    ("right", "down", "words"),
    [
        (0, 0, "Nothing is moved"),
        (5, 0, "Moved 0.5 mm right"),
        (-12, 3, "Moved 1.2 mm left, 0.3 mm down"),
        (0, -100, "Moved 10.0 mm up"),
    ],
)
def test_a_shift_in_words(right: int, down: int, words: str) -> None:
    assert shift_words(right, down) == words


def test_every_shift_and_number_of_copies_can_be_chosen() -> None:
    assert len(tenths()) == 2 * MOST_TENTHS + 1
    assert (tenths()[0], tenths()[MOST_TENTHS], tenths()[-1]) == ("-10.0 mm", "0 mm", "+10.0 mm")
    assert (copies_offered()[0], copies_offered()[-1]) == ("1", "1000")


def test_options_of_a_document_that_can_be_printed() -> None:
    state = options_state(Wish(printer="Office"), OFFERS, (OFFICE,), DOCUMENT, "")
    assert (state.can_print, state.can_save, state.trouble) == (True, True, "")
    assert (state.places, state.moves) == (15, True)
    assert state.warnings == ("Too long.",)


def test_while_something_is_done_nothing_else_can_be_begun() -> None:
    state = options_state(Wish(printer="Office"), OFFERS, (OFFICE,), DOCUMENT, "Printing …")
    assert (state.can_print, state.can_save) == (False, False)
    nothing = options_state(Wish(printer="Office"), OFFERS, (OFFICE,), None, "")
    assert (nothing.can_print, nothing.can_save, nothing.warnings) == (False, False, ())


def test_a_sheet_to_read_is_not_moved() -> None:
    state = options_state(Wish(paper=1, printer="Office"), OFFERS, (OFFICE,), DOCUMENT, "")
    assert (state.places, state.moves, state.shift) == (1, False, "300 dots an inch")


def test_printers_in_trouble_are_named() -> None:
    stuck = replace(OFFICE, trouble="does not answer")
    told = options_state(Wish(printer="Office"), OFFERS, (stuck,), DOCUMENT, "")
    assert told.trouble == "Office does not answer. See that it is on."
    assert told.can_print, "it may answer by now"
    gone = options_state(Wish(printer="Attic"), OFFERS, (OFFICE,), DOCUMENT, "")
    assert "Attic is not there any more" in gone.trouble
    assert not gone.can_print
    none = options_state(Wish(), OFFERS, (), DOCUMENT, "")
    assert none.printers == (NO_PRINTER,)
    assert none.can_save


def test_how_much_was_made() -> None:
    one = PrintedItem("", 0, "rump", 2699)
    assert pages_words(DOCUMENT, 1) == "1 page"
    assert pages_words(replace(DOCUMENT, items=(one,)), 1) == "1 ticket on 1 page"
    labels = replace(DOCUMENT, kind=PrintKind.LABEL, items=(one, one))
    assert pages_words(labels, 3) == "2 labels on 3 pages"


def a_job(state: JobState, station: str = "desk", **changes: object) -> Job:
    row = PrintJob("J", PrintKind.TICKET, "Tickets", "a4-15", "Office", 2, FRIDAY, "Ana", station)
    return Job(replace(row, **changes), state, FRIDAY, "No paper.")  # type: ignore[arg-type]


def test_a_failed_job_says_why_and_what_can_be_done() -> None:
    (row,) = job_rows([a_job(JobState.FAILED)], FORMATS, a_shop(), "desk", None)
    assert (row.word, row.sentence, row.is_failed) == ("failed", "No paper.", True)
    assert row.where == "20 Nov 13:00 · Office · a4-15 · 2 copies · Ana"
    assert (row.may_confirm, row.may_act) == (False, True)


def test_a_job_that_broke_off_is_asked_about_and_one_under_way_is_left_alone() -> None:
    shop, job = a_shop(), a_job(JobState.QUEUED)
    (asked,) = job_rows([job], FORMATS, shop, "desk", None)
    assert (asked.word, asked.may_confirm) == ("not known", True)
    assert "did the pages come out?" in asked.sentence
    (now,) = job_rows([job], FORMATS, shop, "desk", FRIDAY - MINUTE)
    assert (now.word, now.may_act) == ("printing", False)
    (older,) = job_rows([job], FORMATS, shop, "desk", FRIDAY + MINUTE)
    assert older.may_confirm, "what was begun before this print is not this print"
    (elsewhere,) = job_rows([job], FORMATS, shop, "block", FRIDAY - MINUTE)
    assert elsewhere.sentence.startswith("It was sent from desk.")
    assert elsewhere.may_confirm


def test_what_waits_is_counted() -> None:
    assert (waiting_words(0), waiting_words(3)) == ("Waiting", "Waiting · 3")


def test_lines_of_the_log() -> None:
    label = PrintedItem("J", 0, "rump", 2699, "P1", 1250, 3374)
    job = replace(a_job(JobState.PRINTED), items=(label,))
    (row,) = log_rows([LogLine(job, label)], {"rump": "Rump"}, FORMATS, a_shop())
    assert row == (
        *("Rump", "20 Nov 13:00", "$26.99", "1.250 kg, $33.74", "a4-15 × 2, Office", "Ana"),
    )
    saved = Job(replace(job.job, printer="", copies=1, person=""), JobState.SAVED, FRIDAY, "a.pdf")
    (sheet,) = log_rows([LogLine(saved, None)], {}, FORMATS, a_shop())
    assert sheet == ("Tickets", "20 Nov 13:00", "—", "—", "a4-15, a.pdf", "desk")
    many = [LogLine(job, label)] * (LOG_LINES + 5)
    assert len(log_rows(many, {}, FORMATS, a_shop())) == LOG_LINES
