"""Printing and saving: written down, sent, and written down again how it went."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from gambrel.domain.prices.prints import Job
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import PrintStep
from gambrel.services.bench.act import Act
from gambrel.services.papers import save_whole
from gambrel.services.printing.documents import Document
from gambrel.services.printing.queue import To, note_step, queue_job

if TYPE_CHECKING:
    from gambrel.devices.printer import Printers, Told
    from gambrel.storage.book import Book

HANDED = "handed to the printer"
STOPPED = "stopped on the way; some pages may have been printed"
MISTAKE = "the program made a mistake while printing"


def print_document(
    book: Book,
    document: Document,
    to: To,
    act: Act,
    printers: Printers,
    told: Told,
    clock: Callable[[], datetime],
) -> Job:
    """Print a document and return how the job stands then: printed, failed, or let go.

    The job is in the book before the first page is sent, so that a sudden stop leaves a trace.

    Args:
        book: The shop's book.
        document: What is printed, as it was shown.
        to: Printer, copies and dots.
        act: Who prints, where and when.
        printers: What prints.
        told: Told after every page; it answers whether to go on.
        clock: What the time is when it is done.
    Raises:
        Refusal: Nothing was sent: no copies, no printer, or the book may not be written.
    """
    from gambrel.devices.printer import PrintingStopped, Sending

    if not to.printer:
        raise Refusal("No printer is chosen. Choose one, or save as PDF.")
    job = queue_job(book, document, to, act)
    sending = Sending(to.printer, document.pdf, document.title, to.copies, to.dpi)
    try:
        printers.send(sending, told)
    except Refusal as refusal:
        return note_step(book, job.key, PrintStep.FAILED, clock(), str(refusal))
    except PrintingStopped:
        return note_step(book, job.key, PrintStep.CANCELLED, clock(), STOPPED)
    except Exception:
        note_step(book, job.key, PrintStep.FAILED, clock(), MISTAKE)
        raise
    return note_step(book, job.key, PrintStep.PRINTED, clock(), HANDED)


def save_document(book: Book, document: Document, path: Path, act: Act) -> Job:
    """Save a document as a PDF, whole or not at all, and write it down.

    Raises:
        Refusal: The place cannot be written to, or the book may not be written.
    """
    save_whole(path, document.pdf)
    job = queue_job(book, document, To(), act)
    return note_step(book, job.key, PrintStep.PRINTED, act.now, path.name)


def settle(book: Book, job: str, step: PrintStep, now: datetime, who: str) -> Job:
    """Write down what somebody saw at the printer, or decided about a job that waits.

    Raises:
        Refusal: It was settled already.
    """
    seen = {
        PrintStep.PRINTED: f"seen by {who}",
        PrintStep.CANCELLED: f"let go by {who}",
        PrintStep.FAILED: f"not printed, says {who}",
    }
    return note_step(book, job, step, now, seen[step])
