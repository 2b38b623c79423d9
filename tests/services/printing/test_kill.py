"""A process that is killed while it prints leaves a job that asks, never one that is lost."""

from __future__ import annotations

import signal
import subprocess
import sys
from pathlib import Path

import pytest

from gambrel.domain.prices.prints import JobState
from gambrel.services.books import open_book
from gambrel.services.printing.queue import print_log, waiting_jobs

DIE = """
import os, signal, sys
from gambrel.services.books import open_book
from gambrel.services.printing.documents import Choice, Tickets
from gambrel.services.printing.queue import To
from gambrel.services.printing.sending import print_document
from tests.services.printing.shop import FRIDAY, Clock, KeepingPrinters, an_act, go_on

class Killed(KeepingPrinters):
    def send(self, sending, told):
        if sys.argv[2] == "before the first page":
            os.kill(os.getpid(), signal.SIGKILL)
        super().send(sending, told)

def told(done, total):
    if done == 2:
        os.kill(os.getpid(), signal.SIGKILL)
    return True

with open_book(sys.argv[1]) as book:
    document = Tickets(("rump", "mince")).make(book, Choice("a4-15"), FRIDAY, go_on)
    print_document(book, document, To("Office"), an_act(), Killed(pages=3), told, Clock())
"""


@pytest.mark.skipif(sys.platform == "win32", reason="there is no SIGKILL on Windows")
@pytest.mark.parametrize("when", ["before the first page", "between two pages"])
def test_a_kill_while_printing_is_asked_about(small_book: Path, tmp_path: Path, when: str) -> None:
    place = tmp_path / "shop.gambrel"
    place.write_bytes(small_book.read_bytes())
    done = subprocess.run(
        [sys.executable, "-c", DIE, str(place), when],
        cwd=Path(__file__).parents[3],
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )
    assert done.returncode == -signal.SIGKILL, done.stderr
    with open_book(str(place)) as book:
        (job,) = waiting_jobs(book)
        assert job.state is JobState.QUEUED
        assert job.cuts == ("rump", "mince")
        assert print_log(book) == []
