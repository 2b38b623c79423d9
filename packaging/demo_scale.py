"""The demo's imagined scale: lots of meat become weighings, the same ones on every run.

Weights are whole grams and every sum is in integers. Chance is drawn from SHA-256, so that it is
the same on every machine and in every version of Python.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from hashlib import sha256

from demo_steps import Slip

DIVISION_G = {"block-1": 5, "block-2": 2, "tub-1": 5}
TRAY_TARE_G, SMALL_TUB_G, LARGE_TUB_G = 120, 650, 1_450


class Chance:
    """Repeatable luck: the same name draws the same numbers."""

    def __init__(self, name: str) -> None:
        self._name = name
        self._drawn = 0

    def between(self, low: int, high: int) -> int:
        """A whole number from low to high, both included, more often near the middle."""
        self._drawn += 1
        digest = sha256(f"{self._name} {self._drawn}".encode()).digest()
        span = high - low + 1
        draws = [int.from_bytes(digest[at : at + 8]) % span for at in (0, 8, 16)]
        return low + (sum(draws) + 1) // 3


@dataclass(slots=True, eq=False)
class Piece:
    """One weighing. `left_g` is what no later stage took; `origin` is its body or its blend."""

    stage: Stage
    cut: str
    gross_g: int
    tare_g: int
    at: datetime
    origin: str
    left_g: int = 0
    void: tuple[datetime, str] | None = None
    key: str = ""


@dataclass(frozen=True, slots=True)
class Input:
    """What a stage took of one body, piece or ingredient; `grams` None is all that is left."""

    body: str = ""
    piece: Piece | None = None
    ingredient: str = ""
    grams: int | None = None
    cents: int | None = None


@dataclass(slots=True, eq=False)
class Stage:
    """One stage of work: what it took and what it weighed."""

    key: str
    kind: str
    start: datetime
    finish: datetime | None
    person: str
    minutes: int
    station: str
    list_name: str = ""
    inputs: list[Input] = field(default_factory=list)
    pieces: list[Piece] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Lot:
    """Grams of one cut, and in how many weighings they come to the scale."""

    cut: str
    grams: int
    count: int


def split(grams: int, count: int, chance: Chance) -> list[int]:
    """Grams into a count of unequal parts that sum to it."""
    parts = [grams // count * chance.between(900, 1_100) // 1_000 for _ in range(count - 1)]
    return [*parts, grams - sum(parts)]


def weigh(
    stage: Stage, lots: Sequence[Lot], origin: str, kinds: Mapping[str, str], chance: Chance
) -> None:
    """Put the lots on the scale one after another: whole cuts as they come off, tubs once full."""
    queue: list[tuple[int, str, int]] = []
    for place, lot in enumerate(lots, 1):
        for turn, part in enumerate(split(lot.grams, lot.count, chance), 1):
            cut_off, full = 950 * place // (len(lots) + 1) + turn, 1_000 * turn // lot.count
            queue.append((cut_off if kinds[lot.cut] == "tray" else full, lot.cut, part))
    queue.sort(key=lambda row: row[0])
    assert stage.finish is not None
    step = ((stage.finish - stage.start) // timedelta(seconds=1) - 200) // len(queue)
    for number, (_, cut, part) in enumerate(queue, 1):
        seconds = 150 + number * step - chance.between(0, step // 2)
        at = stage.start + timedelta(seconds=seconds)
        stage.pieces.append(_reading(stage, cut, part, at, origin, kinds[cut]))


def _reading(stage: Stage, cut: str, grams: int, at: datetime, origin: str, kind: str) -> Piece:
    division = DIVISION_G[stage.station]
    net = max(grams // division * division, division)
    tub = SMALL_TUB_G if net < 3_000 else LARGE_TUB_G
    tare = TRAY_TARE_G if kind == "tray" else tub
    return Piece(stage, cut, net + tare, tare, at, origin, net)


def slip(stage: Stage, fault: Slip) -> None:
    """Add the voided weighing beside the first good piece of its cut."""
    index, good = next((i, p) for i, p in enumerate(stage.pieces) if p.cut == fault.cut)
    if fault.weighed_as:
        at, reason, cut = good.at - timedelta(seconds=19), "wrong cut chosen", fault.weighed_as
        voided = at + timedelta(seconds=11)
    else:
        at, reason, cut = good.at + timedelta(seconds=7), "weighed twice", fault.cut
        voided, index = at + timedelta(seconds=34), index + 1
    wrong = Piece(stage, cut, good.gross_g, good.tare_g, at, good.origin)
    wrong.void = (voided, reason)
    stage.pieces.insert(index, wrong)


def leave_open(stage: Stage, percent: int) -> None:
    """Forget what would have been weighed later: the body is still on the block."""
    del stage.pieces[len(stage.pieces) * percent // 100 :]
    stage.finish = None
    stage.minutes = (stage.pieces[-1].at - stage.start) // timedelta(minutes=1) + 1
