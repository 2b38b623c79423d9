"""Our speed as a ratio to a bare baseline, both taken in the same run on the same machine."""

from __future__ import annotations

import gc
import json
import os
from collections.abc import Callable
from dataclasses import asdict, dataclass
from pathlib import Path
from statistics import median
from time import perf_counter

MEASURED: list[Ratio] = []
"""What this run has measured so far; pytest prints it at the end."""


@dataclass(frozen=True, slots=True)
class Ratio:
    """How long something takes beside its baseline.

    Attributes:
        ratio: Subject over baseline; 1 is as fast as the baseline, less is faster.
        subject: Median seconds of one call of ours.
        baseline: Median seconds of one call of the baseline.
    """

    name: str
    ratio: float
    subject: float
    baseline: float

    def __str__(self) -> str:
        return (
            f"{self.name} ratio {self.ratio:.2f} "
            f"({self.subject * 1000:.2f} ms, {self.baseline * 1000:.2f} ms)"
        )


def measure(
    name: str,
    subject: Callable[[], object],
    baseline: Callable[[], object],
    rounds: int = 9,
) -> Ratio:
    """Time both in turns, take medians, print the ratio and keep it.

    Each round runs both, and the next one runs them the other way round, so that a machine that
    slows down or warms up harms neither. One round before the first is not counted. A call should
    take a millisecond or more: let it do its work many times where once is too quick.
    """
    ours: list[float] = []
    bare: list[float] = []
    contestants = [(subject, ours), (baseline, bare)]
    for call, _ in contestants:
        call()
    for _ in range(rounds):
        for call, times in contestants:
            times.append(seconds(call))
        contestants.reverse()
    told = Ratio(name, median(ours) / median(bare), median(ours), median(bare))
    keep(told)
    return told


def seconds(call: Callable[[], object]) -> float:
    """Time one call, without the garbage of the calls before it."""
    gc.collect()
    began = perf_counter()
    call()
    return perf_counter() - began


def keep(told: Ratio) -> None:
    """Print a ratio, and hand it to the check when it asked for the ratios."""
    print(told)
    MEASURED.append(told)
    place = os.environ.get("GAMBREL_RATIOS")
    if place:
        with Path(place).open("a", encoding="utf-8") as lines:
            lines.write(json.dumps(asdict(told)) + "\n")
