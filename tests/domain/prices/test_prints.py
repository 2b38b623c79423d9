"""What became of what was printed."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.prices.prints import JobState, jobs_of, log_lines
from gambrel.domain.trade.around import PrintedItem, PrintEvent, PrintJob, PrintKind, PrintStep

NOON = datetime(2026, 11, 20, 12, tzinfo=UTC)
MINUTE = timedelta(minutes=1)
Q, P, F, C = PrintStep.QUEUED, PrintStep.PRINTED, PrintStep.FAILED, PrintStep.CANCELLED


def a_job(key: str, minute: int = 0, *, printer: str = "Office") -> PrintJob:
    at = NOON + minute * MINUTE
    return PrintJob(key, PrintKind.TICKET, "Tickets", "a4-15", printer, 1, at, "Ana", "desk")


def events(job: str, *steps: PrintStep) -> list[PrintEvent]:
    return [
        PrintEvent(job, number, step, NOON + number * MINUTE, f"step {number}")
        for number, step in enumerate(steps, start=1)
    ]


@pytest.mark.parametrize(
    ("steps", "state", "is_open", "is_out"),
    [
        ((), JobState.QUEUED, True, False),
        ((Q,), JobState.QUEUED, True, False),
        ((Q, P), JobState.PRINTED, False, True),
        ((Q, F), JobState.FAILED, True, False),
        ((Q, F, C), JobState.CANCELLED, False, False),
        ((Q, C), JobState.CANCELLED, False, False),
        ((Q, F, P), JobState.PRINTED, False, True),
    ],
)
def test_the_last_thing_that_happened_counts(
    steps: tuple[PrintStep, ...], state: JobState, is_open: bool, is_out: bool
) -> None:
    for order in permutations(events("A", *steps)):
        (job,) = jobs_of([a_job("A")], order)
        assert (job.state, job.is_open, job.is_out) == (state, is_open, is_out)
        assert job.steps == len(steps)
        assert job.reason == (f"step {len(steps)}" if steps else "")


def test_a_job_without_a_printer_was_saved() -> None:
    (job,) = jobs_of([a_job("A", printer="")], events("A", P))
    assert job.state is JobState.SAVED
    assert job.is_out


@given(st.permutations(range(6)))
def test_newest_first_whatever_the_order_of_the_rows(order: list[int]) -> None:
    jobs = [a_job(f"J{number}", number // 2) for number in order]
    found = [job.job.key for job in jobs_of(jobs, [])]
    assert found == ["J5", "J4", "J3", "J2", "J1", "J0"]


def test_the_log_holds_every_line_that_went_out_and_no_other() -> None:
    items = [PrintedItem("A", 1, "shin", 1499), PrintedItem("A", 0, "rump", 2699)]
    items += [PrintedItem("B", 0, "rump", 2599)]
    jobs = jobs_of(
        [a_job("A"), a_job("B", 1), a_job("C", 2)],
        [*events("A", Q, P), *events("B", Q, F), *events("C", Q, P)],
        items,
    )
    told = [(line.job.job.key, line.item and line.item.cut) for line in log_lines(jobs)]
    assert told == [("C", None), ("A", "rump"), ("A", "shin")]
    assert [line.item for line in log_lines(jobs, {"shin"})] == [items[0]]
    assert log_lines(jobs, ["bone"]) == []
    assert jobs[2].cuts == ("rump", "shin")
