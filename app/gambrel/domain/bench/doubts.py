"""Weights that are probably a slip: asked about in place, never refused."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

from gambrel.domain.bench.block import CutOnBlock, OnBlock
from gambrel.domain.numbers.mass import kg_text

TIMES_THE_NORM = 3
"""A cut that comes to this many times what its norm expects of the whole body is asked about
(common practice, no source)."""

SAME_AGAIN = timedelta(seconds=2)
"""The same cut and weight again this soon is probably one weighing tapped twice."""


class DoubtKind(StrEnum):
    """Why a weight is asked about."""

    MORE_THAN_LEFT = "more-than-left"
    FAR_FROM_NORM = "far-from-norm"
    SAME_AGAIN = "same-again"


@dataclass(frozen=True, slots=True)
class Doubt:
    """One reason to ask, as a sentence for the person at the block."""

    kind: DoubtKind
    sentence: str


def doubts(on_block: OnBlock, cut: str, net_g: int, now: datetime) -> list[Doubt]:
    """What is odd about weighing in a cut now; nothing when nothing is.

    Args:
        on_block: The stage as it stands before this piece.
        cut: A cut of the catalogue.
        net_g: Net grams, more than zero.
        now: An aware moment.
    """
    row = on_block.cut(cut)
    if row is None:
        return []
    found = (_same_again(on_block, row, net_g, now), _too_much(on_block, net_g), _norm(row, net_g))
    return [doubt for doubt in found if doubt is not None]


def _same_again(on_block: OnBlock, row: CutOnBlock, net_g: int, now: datetime) -> Doubt | None:
    last = on_block.last
    if last is None or last.cut.key != row.cut.key or last.piece.net_g != net_g:
        return None
    if not timedelta(0) <= now - last.piece.weighed_at <= SAME_AGAIN:
        return None
    return Doubt(
        DoubtKind.SAME_AGAIN,
        f"{row.cut.name} {kg_text(net_g)} kg was weighed in a moment ago. Is this another piece?",
    )


def _too_much(on_block: OnBlock, net_g: int) -> Doubt | None:
    left = on_block.left_g
    if net_g <= left:
        return None
    there = f"only {kg_text(left)} kg is left" if left > 0 else "by weight nothing is left"
    return Doubt(
        DoubtKind.MORE_THAN_LEFT,
        f"{kg_text(net_g)} kg, but {there} on the block. Is the weight right?",
    )


def _norm(row: CutOnBlock, net_g: int) -> Doubt | None:
    """Ask when this piece takes the cut over the bound, or is over it alone; not ever after."""
    if not row.norm_g:
        return None
    bound = TIMES_THE_NORM * row.norm_g
    after = row.weighed_g + net_g
    if net_g <= bound and not row.weighed_g <= bound < after:
        return None
    return Doubt(
        DoubtKind.FAR_FROM_NORM,
        f"{row.cut.name} would come to {kg_text(after)} kg; the norm for this body is "
        f"{kg_text(row.norm_g)} kg. Is it the right cut and weight?",
    )
