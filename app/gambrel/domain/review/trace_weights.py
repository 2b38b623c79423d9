"""How much of what is traced went where: a mass balance to the gram.

A stage mixes what it takes, so each thing that it makes holds the traced part of its inputs in the
same share by weight, and so does what it lost. That is a share by calculation: what lies in which
tray nobody knows, and all of a piece is suspect.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from gambrel.domain.numbers.apportion import apportion
from gambrel.domain.review.trace_keys import Subject
from gambrel.domain.review.trace_ways import Ways
from gambrel.domain.trade.records import Piece, Source, Stage

FINE = 1_000_000
"""Parts of a gram that are counted on the way, so that many stages round nothing off."""


@dataclass(slots=True)
class Spread:
    """Where traced weight is, in millionths of a gram.

    ``left`` and ``thrown`` are by piece (what no stage took of it, and its write-offs in their
    order), ``stage_in`` and ``pieces`` what of a stage's inputs and of a whole piece is traced.
    ``lost`` is negative where stages weighed out more than they took.
    """

    stage_in: dict[str, int] = field(default_factory=dict)
    pieces: dict[str, int] = field(default_factory=dict)
    left: dict[str, int] = field(default_factory=dict)
    thrown: dict[str, list[int]] = field(default_factory=dict)
    on_block: int = 0
    lost: int = 0


@dataclass(frozen=True, slots=True)
class Balance:
    """What came in against where it is, in whole grams; `difference_g` is always zero."""

    went_in_g: int
    hang_loss_g: int
    on_rail_g: int
    on_block_g: int
    lost_g: int
    written_off_g: int
    at_end_g: int

    @property
    def difference_g(self) -> int:
        """What is lost between the lines."""
        known = self.hang_loss_g + self.on_rail_g + self.on_block_g + self.lost_g
        return self.went_in_g - known - self.written_off_g - self.at_end_g


@dataclass(frozen=True, slots=True)
class Grams:
    """A spread in whole grams: of what is left, of what was thrown away, and the balance."""

    left: dict[str, int]
    thrown: dict[str, list[int]]
    balance: Balance


def spread(ways: Ways, subject: Subject, after: Sequence[Stage]) -> Spread:
    """Follow traced weight through the stages after a subject.

    Args:
        ways: Of the whole trade.
        subject: What is traced.
        after: ``ways.after(subject)``: each stage after those whose pieces it took.
    """
    walk = _Walk(ways, subject)
    for key in subject.pieces:
        if key not in ways.trade.voided:
            walk.carry(ways.pieces[key], ways.pieces[key].net_g * FINE)
    for stage in after:
        walk.through(stage)
    return walk.spread


class _Walk:
    """One subject's weight on its way; what waits for a stage stands under its key."""

    def __init__(self, ways: Ways, subject: Subject) -> None:
        self.spread = Spread()
        self._ways = ways
        self._subject = subject
        self._bodies = frozenset(subject.bodies)
        self._added = frozenset(subject.added)
        self._waiting: dict[str, int] = {}

    def through(self, stage: Stage) -> None:
        """Take a stage's traced inputs through it, to its pieces, its loss and its block."""
        key = stage.key
        whole = self._ways.input_g(key) * FINE
        traced = whole if key in self._subject.stages else self._taken(key)
        made = self._ways.made[key]
        weighed = sum(piece.net_g for piece in made) * FINE
        out = weighed if traced == whole else _half_up(traced * weighed, whole)
        if weighed:
            parts = apportion(out, [piece.net_g for piece in made])
            for piece, part in zip(made, parts, strict=True):
                self.carry(piece, part)
        self.spread.stage_in[key] = traced
        rest = traced - out
        if stage.is_open and rest > 0:
            self.spread.on_block += rest
        else:
            self.spread.lost += rest

    def _taken(self, stage: str) -> int:
        of_bodies = sum(
            take.grams
            for take in self._ways.takes(stage)
            if take.source is Source.BODY and take.key in self._bodies
        )
        of_goods = sum(
            row.grams or 0 for row in self._ways.added(stage) if (stage, row.key) in self._added
        )
        return (of_bodies + of_goods) * FINE + self._waiting.pop(stage, 0)

    def carry(self, piece: Piece, traced: int) -> None:
        """Share a piece's traced weight among those who took of it, the bin, and what is left."""
        takes = self._ways.taken_of(piece.key)
        thrown = [row.grams for row in self._ways.thrown[piece.key]]
        gone = [take.grams for take in takes] + thrown
        left = max(piece.net_g - sum(gone), 0)
        parts = apportion(traced, [*gone, left]) if traced else [0] * (len(gone) + 1)
        for take, part in zip(takes, parts, strict=False):
            self._waiting[take.stage] = self._waiting.get(take.stage, 0) + part
        self.spread.pieces[piece.key] = traced
        self.spread.thrown[piece.key] = parts[len(takes) : -1]
        self.spread.left[piece.key] = parts[-1]


def in_grams(ways: Ways, subject: Subject, found: Spread) -> Grams:
    """A spread in whole grams that add up to what came in."""
    fates = [ways.flow.bodies[body] for body in subject.bodies]
    fine = [*found.left.values(), *(part for parts in found.thrown.values() for part in parts)]
    *ends, on_block_g, lost_g = _rounded([*fine, found.on_block, max(found.lost, 0)])
    left = dict(zip(found.left, ends, strict=False))
    rest = iter(ends[len(found.left) :])
    thrown = {key: [next(rest) for _ in parts] for key, parts in found.thrown.items()}
    if found.lost < 0:  # more came out than went in: the gain takes what rounding leaves
        lost_g = (sum(fine) + found.on_block + found.lost) // FINE - sum(ends) - on_block_g
    balance = Balance(
        went_in_g=_went_in(ways, subject),
        hang_loss_g=sum(fate.hang_loss_g for fate in fates),
        on_rail_g=sum(fate.left_g for fate in fates),
        on_block_g=on_block_g,
        lost_g=lost_g,
        written_off_g=sum(map(sum, thrown.values())),
        at_end_g=sum(left.values()),
    )
    return Grams(left, thrown, balance)


def _rounded(fine: Sequence[int]) -> list[int]:
    """Millionths as whole grams, each the gram below or above; what adds up to grams still does."""
    missing = -sum(fine) % FINE
    whole = (sum(fine) + missing) // FINE
    return apportion(whole, [*fine, missing])[:-1] if whole else [0] * len(fine)


def _went_in(ways: Ways, subject: Subject) -> int:
    voided = ways.trade.voided
    added = frozenset(subject.added)
    return (
        sum(ways.flow.bodies[body].body.received_g for body in subject.bodies)
        + sum(ways.pieces[key].net_g for key in subject.pieces if key not in voided)
        + sum(ways.input_g(stage) for stage in subject.stages)
        + sum(
            row.grams or 0
            for stage in {stage for stage, _ in added}
            for row in ways.added(stage)
            if (stage, row.key) in added
        )
    )


def share_percent(part: int, whole_g: int) -> Decimal:
    """A traced weight (millionths of a gram) in per cent of some grams; zero of nothing."""
    return Decimal(100 * part) / (whole_g * FINE) if whole_g else Decimal(0)


def _half_up(part: int, whole: int) -> int:
    """A quotient to the nearest whole number, a half upward."""
    return (2 * part + whole) // (2 * whole)
