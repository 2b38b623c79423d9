"""The rows of the demo's plan: a break, a trim-out, a blend, and what was written off.

Times are the shop's local ones (`2026-11-09 06:30`), weights are grams, money is cents.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta, timezone

MELBOURNE_SUMMER = timezone(timedelta(hours=11))

Made = tuple[tuple[str, int, int], ...]
"""What a step made: cut, its share in percent, in how many pieces it was weighed."""


@dataclass(frozen=True, slots=True)
class Slip:
    """A voided weighing: `weighed_as` a wrong cut, or where that is empty the same piece twice."""

    cut: str
    weighed_as: str = ""


@dataclass(frozen=True, slots=True)
class Break:
    """A body broken by a cutting list.

    `bend` scales a cut's norm for this body, in thousandths. `missed` is a cut and its grams that
    never came to the scale. `stop_after`, in percent of the pieces, leaves the stage open there.
    """

    start: str
    person: str
    minutes: int
    body: str
    list_name: str
    station: str = "block-1"
    bend: Mapping[str, int] = field(default_factory=dict)
    missed: tuple[str, int] = ("", 0)
    stop_after: int = 100
    pause: int = 0
    slips: tuple[Slip, ...] = ()


@dataclass(frozen=True, slots=True)
class TrimOut:
    """One body's pieces of a cut, the first `pieces` of them or all (0), taken apart."""

    start: str
    person: str
    minutes: int
    body: str
    cut: str
    made: Made
    station: str = "block-2"
    pieces: int = 0
    slips: tuple[Slip, ...] = ()


@dataclass(frozen=True, slots=True)
class Blend:
    """Cuts by grams, oldest first (of one `body` where it is named), and bought ingredients.

    An ingredient is its name, grams and cents. `loss` is what stays in the machine, in thousandths
    of all that went in.
    """

    start: str
    person: str
    minutes: int
    takes: tuple[tuple[str, int], ...]
    bought: tuple[tuple[str, int, int], ...]
    made: Made
    loss: int = 6
    station: str = "tub-1"
    body: str = ""


@dataclass(frozen=True, slots=True)
class WriteOff:
    """Grams that could not be sold, of a cut from a body or from the blend begun at that time."""

    at: str
    origin: str
    cut: str
    grams: int
    reason: str


Step = Break | TrimOut | Blend


def moment(text: str) -> datetime:
    """A plan's local time, with the offset that Melbourne keeps in November."""
    return datetime.fromisoformat(text).replace(tzinfo=MELBOURNE_SUMMER)
