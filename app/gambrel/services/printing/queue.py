"""The queue in the book: a job is written down before it is sent, and then what became of it."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import TYPE_CHECKING

from gambrel.domain.prices.printer_setting import check_copies
from gambrel.domain.prices.prints import Job, LogLine, jobs_of, log_lines
from gambrel.domain.prices.reprint import Reprint, standing_tickets, to_reprint
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import PrintedItem, PrintEvent, PrintJob, PrintKind, PrintStep
from gambrel.domain.trade.clock import business_day
from gambrel.services.bench.act import Act
from gambrel.services.printing.documents import Document

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book
    from gambrel.storage.work import Work

PRINTED_AGAIN = "printed again"


@dataclass(frozen=True, slots=True)
class To:
    """Where a document goes, how often, and in how many dots an inch.

    ``printer`` is empty for a file.
    """

    printer: str = ""
    copies: int = 1
    dpi: int = 300


def queue_job(book: Book, document: Document, to: To, act: Act) -> PrintJob:
    """Write a job down, with all that its papers say, before anything is sent.

    Raises:
        Refusal: No copies or too many, or the book may not be written.
    """
    job = PrintJob(
        key=act.key,
        kind=document.kind,
        title=document.title,
        paper=document.paper,
        printer=to.printer,
        copies=check_copies(to.copies),
        at=act.now,
        person=act.person,
        station=act.station,
    )
    items = [replace(item, job=job.key) for item in document.items]
    with book.transaction() as work:
        work.note([job, PrintEvent(job.key, 1, PrintStep.QUEUED, act.now), *items])
    return job


def note_step(book: Book, job: str, step: PrintStep, now: datetime, reason: str = "") -> Job:
    """Write down what became of a job that waits; returns how it stands now.

    Raises:
        Refusal: There is no such job, or it was settled already.
    """
    with book.transaction() as work:
        found = _one(work, job)
        if not found.is_open:
            raise Refusal(f"“{found.job.title}” was {found.state.value} already. Look again.")
        work.note([PrintEvent(job, found.steps + 1, step, now, reason)])
        return _one(work, job)


def _one(work: Work, key: str) -> Job:
    rows = work.every(PrintJob, key=key)
    if not rows:
        raise Refusal("This print is not in the book any more. Look at the list again.")
    return jobs_of(rows, work.every(PrintEvent, job=key), work.every(PrintedItem, job=key))[0]


def replace_job(book: Book, old: str, now: datetime) -> None:
    """Let a job go that was printed again as another; one that is settled stays as it is."""
    with book.transaction() as work:
        found = _one(work, old)
        if found.is_open:
            step = PrintEvent(old, found.steps + 1, PrintStep.CANCELLED, now, PRINTED_AGAIN)
            work.note([step])


def waiting_jobs(book: Book) -> list[Job]:
    """Jobs that somebody has to decide about, the newest first, with what they say."""
    with book.reading() as work:
        found = [job for job in _all(work) if job.is_open]
        return [_with_items(work, job) for job in found]


def _all(work: Work) -> list[Job]:
    return jobs_of(work.every(PrintJob), work.every(PrintEvent))


def _with_items(work: Work, job: Job) -> Job:
    return replace(job, items=tuple(work.every(PrintedItem, job=job.job.key)))


def print_log(
    book: Book, day: date | None = None, cuts: Collection[str] = (), most: int = 0
) -> list[LogLine]:
    """What went out, the newest first.

    Args:
        book: The shop's book.
        day: Only of this business day.
        cuts: Only of these cuts, by key.
        most: Stop after the job with which so many lines are reached; 0 for all.
    Raises:
        Refusal: The book has no shop, or no such cut.
    """
    with book.reading() as work:
        unknown = set(cuts) - {each.key for each in work.cuts()}
        if unknown:
            names = ", ".join(sorted(unknown))
            raise Refusal(f"There is no cut {names} in the catalogue. Look up its key there.")
        jobs = _on(work, day)
        if cuts:
            jobs = _naming(work, jobs, cuts)
        found: list[LogLine] = []
        for job in jobs:
            found += log_lines([_with_items(work, job)], cuts)
            if most and len(found) >= most:
                break
        return found


def _naming(work: Work, jobs: list[Job], cuts: Collection[str]) -> list[Job]:
    """The jobs that name any of some cuts."""
    keys = {item.job for cut in cuts for item in work.every(PrintedItem, cut=cut)}
    return [job for job in jobs if job.job.key in keys]


def _on(work: Work, day: date | None) -> list[Job]:
    shop = work.shop()
    if shop is None:
        raise Refusal("This book has no shop in it yet. Load one with “gambrel load”.")
    out = [job for job in _all(work) if job.is_out]
    return [job for job in out if day is None or business_day(job.job.at, shop) == day]


def print_days(book: Book) -> list[date]:
    """The business days on which something went out, the newest first."""
    with book.reading() as work:
        shop = work.shop()
        if shop is None:
            return []
        days = {business_day(job.job.at, shop) for job in _on(work, None)}
        return sorted(days, reverse=True)


def reprints(book: Book, now: datetime) -> list[Reprint]:
    """Tickets that stand in the cabinet and no longer say what is asked."""
    with book.reading() as work:
        if work.shop() is None:
            return []
        prices, cuts = work.prices(), work.cuts()
        jobs = [job for job in _all(work) if job.job.kind is PrintKind.TICKET]
        with_items = _until_all(work, jobs, (cut.key for cut in cuts))
    return to_reprint(cuts, prices, standing_tickets(with_items).values(), now)


def _until_all(work: Work, jobs: Iterable[Job], cuts: Iterable[str]) -> list[Job]:
    """Jobs with their items, from the newest back, until every cut has its last ticket."""
    missing, found = set(cuts), []
    for job in jobs:
        if not missing:
            break
        if job.is_out:
            found.append(_with_items(work, job))
            missing -= set(found[-1].cuts)
    return found
