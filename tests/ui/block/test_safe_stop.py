"""Killed at any moment, the block comes back to the same work, and every piece is there once."""

from __future__ import annotations

import signal
import subprocess
import sys
from collections import Counter
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path
from random import Random

import pytest

from gambrel.services import bench
from gambrel.storage.book import Book
from tests.block_shop import Hand
from tests.ui.block import worker
from tests.ui.block.fingers import Make

KILLS = 5
MOST = 8
LONGEST = 0.03
"""The process is killed once it has told of so many more pieces, and within so many seconds after.
Pieces, not seconds alone: a fast machine would weigh more than the body has."""


@dataclass(frozen=True)
class Acknowledged:
    """What the screen of the killed process had shown."""

    number: int
    piece: str
    cut: str
    tub: str
    worked: timedelta


def killed_after(path: str, first: int, pieces: int, seconds: float) -> list[Acknowledged]:
    """Let somebody weigh, kill the process, and tell what it had acknowledged."""
    command = [sys.executable, worker.__file__, path, str(first)]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, cwd=Path.cwd())
    assert process.stdout is not None
    with process.stdout as lines:
        told = [lines.readline() for _ in range(1 + pieces)]
        try:
            process.wait(seconds)
        except subprocess.TimeoutExpired:
            process.send_signal(signal.SIGKILL)
        told += lines.readlines()
    assert process.wait() == -signal.SIGKILL, "it ended by itself"
    return [_read(line) for line in told if line.endswith("\n")]


def _read(line: str) -> Acknowledged:
    number, piece, cut, *tub, worked = line.split()
    return Acknowledged(int(number), piece, cut, " ".join(tub), timedelta(seconds=int(worked)))


@pytest.mark.timeout(240)  # each process has to begin, which a busy machine makes long
def test_killed_at_any_moment_it_comes_back(book: Book, make: Make) -> None:
    """The moments are drawn anew each time from one seed, so that a failure can be repeated."""
    draw = Random(20261121)
    stage = bench.start_break(book, "HQ-17", "", Hand(station=worker.STATION).act()).key
    bench.keep(book, worker.STATION, bench.Kept(stage, "rump", "no tub", "Ana"))
    known: list[Acknowledged] = []
    first = 0
    for _ in range(KILLS):
        known += killed_after(book.where, first, draw.randint(0, MOST), draw.uniform(0, LONGEST))
        standing = bench.look(book, stage).on_block.standing
        keys = Counter(row.piece.key for row in standing)
        grams = Counter(row.piece.gross_g for row in standing)
        assert all(keys[each.piece] == 1 for each in known)
        assert set(grams.values()) == {1}
        assert len(standing) - len(known) in range(KILLS + 1)  # on the disk and not yet shown
        place = make()
        last = known[-1]
        assert place.look.on_block.stage.key == stage
        chosen = (place._hands.cut, place._hands.tub, place._hands.person)
        after = worker.wished(last.number + 1)
        before = (last.cut, last.tub)
        half = (after[0], place._tub_of.get(after[0], last.tub))  # killed between the two taps
        assert chosen in [(*each, "Ana") for each in (before, half, after)]
        assert place.look.clock(standing[0].piece.weighed_at).worked >= last.worked
        place.close()
        first = max(row.piece.gross_g for row in standing) - worker.FIRST_G + 1
    assert len(known) > KILLS
