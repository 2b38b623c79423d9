"""What stands free to be blended or worked back: by class, oldest first, within its dates. Pure."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from decimal import Decimal
from enum import StrEnum
from typing import NamedTuple

from gambrel.domain.bench.blends import mixed_percent
from gambrel.domain.costing.takes import grams_gone
from gambrel.domain.numbers.mass import kg_text
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import CutLean, PieceLean
from gambrel.domain.trade.catalogue import Cut, CutKind
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.formats import near_day
from gambrel.domain.trade.records import Piece, Trade
from gambrel.domain.trade.use_by import earlier

TRIM_AGE_DAYS = 3
"""Business days that trim may stand before it is blended (common practice, no source)."""
TRIM_AGE_SETTING = "trim-age-days"
"""The name under which a shop keeps its own."""
NEAR_DAYS = 1
"""So many days before its last day a piece is watched (common practice, no source)."""


MINCED = (CutKind.TRIM, CutKind.BYPRODUCT)
"""Kinds of cuts that recipes are written with: trim, and fat that goes with it."""


class Mark(StrEnum):
    """How near its last day something stands: well before it, near it, past it."""

    FINE = "fine"
    WATCH = "watch"
    STOP = "stop"


@dataclass(frozen=True, slots=True)
class Leans:
    """The lean that is known, in per cent: of pieces as measured, of cuts as their class."""

    of_pieces: Mapping[str, Decimal] = field(default_factory=dict)
    of_cuts: Mapping[str, Decimal] = field(default_factory=dict)

    def of(self, piece: Piece) -> Lean | None:
        """What was measured, else the class of its cut, else nothing."""
        measured = self.of_pieces.get(piece.key)
        percent = self.of_cuts.get(piece.cut) if measured is None else measured
        return None if percent is None else Lean(percent, measured is not None)


class Lean(NamedTuple):
    """Lean in per cent of the weight, the rest being fat; measured, or by class."""

    percent: Decimal
    measured: bool


def lean_of_mix(parts: Sequence[tuple[int, Lean | None]]) -> Decimal | None:
    """The lean of a mix in per cent; None of nothing, or where the lean of a part is not known."""
    known = [(grams, lean.percent) for grams, lean in parts if lean is not None]
    if not known or len(known) < len(parts):
        return None
    return mixed_percent(known)


def leans_of(cuts: Iterable[CutLean], pieces: Iterable[PieceLean]) -> Leans:
    """What is known of lean; of a piece that was measured again the newest counts."""
    measured = {row.piece: row.percent for row in sorted(pieces, key=lambda row: row.at)}
    return Leans(measured, {row.cut: row.percent for row in cuts})


@dataclass(frozen=True, slots=True)
class FreePiece:
    """Grams of a piece that nobody took or threw away, with its age and last days.

    ``hours`` are whole hours since its weighing, ``days`` business days. ``use_by`` is its own
    last day, ``age_ends`` that of the shop's limit for its age; None where there is no such limit.
    """

    piece: Piece
    cut: Cut
    free_g: int
    lean: Lean | None
    hours: int
    days: int
    today: date
    use_by: date | None
    age_ends: date | None

    @property
    def last_day(self) -> date | None:
        """The earlier of both limits."""
        return earlier(self.use_by, self.age_ends)

    @property
    def days_left(self) -> int | None:
        """Days to the last one, negative past it; None without any limit."""
        return None if self.last_day is None else (self.last_day - self.today).days

    @property
    def mark(self) -> Mark:
        """Fine, to be watched, or past its last day and not to be taken."""
        left = self.days_left
        if left is None or left > NEAR_DAYS:
            return Mark.FINE
        return Mark.WATCH if left >= 0 else Mark.STOP

    @property
    def past(self) -> str:
        """Why it may not be taken any more, as a sentence; empty while it may."""
        if self.mark is not Mark.STOP:
            return ""
        if self.use_by is not None and self.use_by < self.today:
            return (
                f"{self.cut.name} weighed {self.days} days ago is past its use-by of "
                f"{near_day(self.use_by)}. Write it off; do not blend or sell it."
            )
        return (
            f"{self.cut.name} is {self.days} days old, past the shop's limit for trim. "
            "Decide by your food-safety plan: write it off, or change the limit in the setup."
        )


@dataclass(frozen=True, slots=True)
class FreeClass:
    """All that stands free of one cut, the oldest piece first."""

    cut: Cut
    pieces: tuple[FreePiece, ...]

    @property
    def free_g(self) -> int:
        """Grams that stand free, those past their last day too."""
        return sum(row.free_g for row in self.pieces)

    @property
    def usable_g(self) -> int:
        """Grams that may still be taken."""
        return sum(row.free_g for row in self.pieces if row.mark is not Mark.STOP)

    @property
    def mark(self) -> Mark:
        """The gravest of its pieces."""
        marks = [row.mark for row in self.pieces]
        return next((m for m in (Mark.STOP, Mark.WATCH) if m in marks), Mark.FINE)

    @property
    def lean_percent(self) -> Decimal | None:
        """The lean of all of it together; None where that of a piece is not known."""
        return lean_of_mix([(row.free_g, row.lean) for row in self.pieces])


@dataclass(frozen=True, slots=True)
class Standing:
    """What the limits are counted by: the moment, the last days, the leans, the limit of age.

    ``use_by`` are the last days of `use_by_days`; ``age_days`` None sets no limit of age.
    """

    now: datetime
    use_by: Mapping[str, date | None]
    leans: Leans
    age_days: int | None = None


def tub_cuts(cuts: Iterable[Cut], leans: Leans) -> frozenset[str]:
    """The cuts that stand at the tub: all trim, and by-products whose lean the shop has set."""
    return frozenset(
        cut.key
        for cut in cuts
        if cut.kind is CutKind.TRIM or (cut.kind in MINCED and cut.key in leans.of_cuts)
    )


def free_classes(trade: Trade, keys: Collection[str], at: Standing) -> list[FreeClass]:
    """What stands free of some cuts, in the catalogue's order, each oldest first.

    Fat past its last day counts as collected: nobody writes off what the renderer took.

    Args:
        trade: The whole book.
        keys: Of cuts: for blends `tub_cuts`, for working back those of the trays.
        at: By what age and dates are counted.
    """
    cuts = {cut.key: cut for cut in trade.cuts if cut.key in keys}
    gone = grams_gone(trade)
    by_cut: dict[str, list[FreePiece]] = defaultdict(list)
    for piece in trade.standing:
        cut = cuts.get(piece.cut)
        if cut is None or (left := piece.net_g - gone[piece.key]) <= 0:
            continue
        row = _free(trade, piece, cut, left, at)
        if cut.kind is not CutKind.BYPRODUCT or row.mark is not Mark.STOP:
            by_cut[piece.cut].append(row)
    return [FreeClass(cut, tuple(by_cut[key])) for key, cut in cuts.items() if key in by_cut]


def _free(trade: Trade, piece: Piece, cut: Cut, left: int, at: Standing) -> FreePiece:
    today, weighed = business_day(at.now, trade.shop), business_day(piece.weighed_at, trade.shop)
    ends = None if at.age_days is None else weighed + timedelta(days=at.age_days)
    return FreePiece(
        piece=piece,
        cut=cut,
        free_g=left,
        lean=at.leans.of(piece),
        hours=max((at.now - piece.weighed_at) // timedelta(hours=1), 0),
        days=max((today - weighed).days, 0),
        today=today,
        use_by=at.use_by.get(piece.key),
        age_ends=ends,
    )


class Portion(NamedTuple):
    """So many grams of one piece."""

    piece: str
    grams: int


def take_oldest(pieces: Sequence[FreePiece], grams: int) -> tuple[Portion, ...]:
    """Which pieces to take for so many grams, the oldest first; the last one in part.

    Pieces past their last day are passed over.

    Raises:
        Refusal: Nothing is asked for, or more than stands free within its dates.
    """
    if grams <= 0:
        raise Refusal("Say how many kilos to take: more than nothing.")
    taken: list[Portion] = []
    left = grams
    for row in pieces:
        if left and row.mark is not Mark.STOP:
            part = min(left, row.free_g)
            taken.append(Portion(row.piece.key, part))
            left -= part
    if left:
        raise Refusal(_too_much(pieces, grams, left))
    return tuple(taken)


def take_chosen(pieces: Sequence[FreePiece], chosen: Sequence[Portion]) -> tuple[Portion, ...]:
    """The pieces that somebody chose, if they may be taken; a piece named twice is taken once.

    Raises:
        Refusal: Nothing is chosen, one does not stand free any more, is past its last day, or less
            of it is left.
    """
    known = {row.piece.key: row for row in pieces}
    wanted: dict[str, int] = {}
    for portion in chosen:
        wanted[portion.piece] = wanted.get(portion.piece, 0) + portion.grams
    if not wanted:
        raise Refusal("Nothing is chosen yet. Choose what goes into the blend.")
    for key, grams in wanted.items():
        row = known.get(key)
        if row is None:
            raise Refusal(f"Piece {key} does not stand free any more. Look at the tubs again.")
        if row.past:
            raise Refusal(row.past)
        if not 0 < grams <= row.free_g:
            raise Refusal(
                f"{kg_text(grams)} kg of {row.cut.name} is asked of a piece of which "
                f"{kg_text(row.free_g)} kg is left. Take that or less."
            )
    return tuple(Portion(key, grams) for key, grams in wanted.items())


def _too_much(pieces: Sequence[FreePiece], grams: int, missing: int) -> str:
    names = ", ".join(dict.fromkeys(row.cut.name for row in pieces)) or "it"
    past = sum(row.free_g for row in pieces if row.mark is Mark.STOP)
    beside = f" {kg_text(past)} kg more is past its last day." if past else ""
    return (
        f"{kg_text(grams)} kg is asked for, but of {names} only {kg_text(grams - missing)} kg "
        f"stands free.{beside} Take {kg_text(missing)} kg less, or choose other trim."
    )
