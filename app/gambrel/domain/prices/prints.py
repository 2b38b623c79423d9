"""What became of everything that was printed: jobs, how each stands, and what they said."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum

from gambrel.domain.trade.around import PrintedItem, PrintEvent, PrintJob, PrintStep


class JobState(StrEnum):
    """How a job stands, in a word.

    A job is queued before it is sent. One that still is queued, and that nobody is sending, broke
    off between the two: whether it was printed is not known.
    """

    QUEUED = "not known"
    PRINTED = "printed"
    SAVED = "saved"
    FAILED = "failed"
    CANCELLED = "let go"


OPEN_STATES = frozenset({JobState.QUEUED, JobState.FAILED})
"""What somebody still has to decide about."""


@dataclass(frozen=True, slots=True)
class Job:
    """A print job with what happened to it last, when, and why."""

    job: PrintJob
    state: JobState
    at: datetime
    reason: str = ""
    steps: int = 0
    items: tuple[PrintedItem, ...] = field(default=())

    @property
    def is_open(self) -> bool:
        """Whether it waits for a decision."""
        return self.state in OPEN_STATES

    @property
    def is_out(self) -> bool:
        """Whether its papers are there: printed, or saved to be printed elsewhere."""
        return self.state in (JobState.PRINTED, JobState.SAVED)

    @property
    def cuts(self) -> tuple[str, ...]:
        """The cuts that it names, each once, in its order."""
        return tuple(dict.fromkeys(item.cut for item in self.items))


def jobs_of(
    jobs: Iterable[PrintJob], events: Iterable[PrintEvent], items: Iterable[PrintedItem] = ()
) -> list[Job]:
    """Jobs with how they stand, the newest first; rows may come in any order."""
    happened: dict[str, list[PrintEvent]] = defaultdict(list)
    for event in events:
        happened[event.job].append(event)
    said: dict[str, list[PrintedItem]] = defaultdict(list)
    for item in items:
        said[item.job].append(item)
    found = [_job(job, happened[job.key], said[job.key]) for job in jobs]
    return sorted(found, key=lambda each: (each.job.at, each.job.key), reverse=True)


def _job(job: PrintJob, events: list[PrintEvent], items: list[PrintedItem]) -> Job:
    last = max(events, key=lambda event: event.number, default=None)
    in_order = tuple(sorted(items, key=lambda item: item.position))
    if last is None:
        return Job(job, JobState.QUEUED, job.at, items=in_order)
    return Job(job, _state(job, last.kind), last.at, last.reason, last.number, in_order)


def _state(job: PrintJob, step: PrintStep) -> JobState:
    if step is PrintStep.PRINTED:
        return JobState.PRINTED if job.printer else JobState.SAVED
    return {
        PrintStep.QUEUED: JobState.QUEUED,
        PrintStep.FAILED: JobState.FAILED,
        PrintStep.CANCELLED: JobState.CANCELLED,
    }[step]


@dataclass(frozen=True, slots=True)
class LogLine:
    """One ticket or label that went out, or a sheet (which has no ``item``)."""

    job: Job
    item: PrintedItem | None


def log_lines(jobs: Iterable[Job], cuts: Collection[str] = ()) -> list[LogLine]:
    """What went out, line by line, in the order of the jobs; of some cuts where any are named."""
    out = [job for job in jobs if job.is_out]
    if cuts:
        return [LogLine(job, item) for job in out for item in job.items if item.cut in cuts]
    return [LogLine(job, item) for job in out for item in (job.items or (None,))]
