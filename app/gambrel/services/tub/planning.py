"""Lean targets over what stands free: the sources of a mix, and the pieces that it takes."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from gambrel.domain.bench.lean import Mix, Target, TrimSource, mix_by_square
from gambrel.domain.bench.trim import FreePiece, Lean, Mark, Portion, take_oldest
from gambrel.domain.costing.fallback import costed
from gambrel.domain.numbers.mass import GRAMS_PER_KILO
from gambrel.domain.numbers.money import round_half_up
from gambrel.domain.refusals import Refusal
from gambrel.services.tub.standing import Stock


@dataclass(frozen=True, slots=True)
class TrimStock:
    """Trim of one cut and one lean, as a source of a mix, with its pieces, the oldest first.

    A screen may narrow the source's bounds before it asks for a plan.
    """

    source: TrimSource
    pieces: tuple[FreePiece, ...]


@dataclass(frozen=True, slots=True)
class LeanPlan:
    """A mix that reaches its target, and the pieces to take for it.

    ``proven`` unless time ran out: then a better mix may exist.
    """

    mix: Mix
    portions: tuple[Portion, ...]
    proven: bool = True


def lean_stock(stock: Stock, cuts: Collection[str] = ()) -> tuple[TrimStock, ...]:
    """The sources that a mix may be made of: trim within its dates whose lean is known.

    Costs every piece of the book: call it off the window's thread.

    Args:
        stock: What stands free.
        cuts: Keys of the cuts that may be used; empty for all at the tub.
    Raises:
        Refusal: The lean of some trim is not known: which, and what to do.
    """
    groups: dict[tuple[str, Decimal], list[FreePiece]] = defaultdict(list)
    unknown: list[str] = []
    for row in stock.trim:
        if cuts and row.cut.key not in cuts:
            continue
        for piece in row.pieces:
            if piece.mark is Mark.STOP:
                continue
            if piece.lean is None:
                unknown.append(row.cut.name)
            else:
                groups[row.cut.key, piece.lean.percent].append(piece)
    if unknown:
        names = ", ".join(dict.fromkeys(unknown))
        raise Refusal(
            f"The lean of {names} is not known. Set it for the class, or measure the pieces."
        )
    costing, _ = costed(stock.trade)
    rates = {row.piece.key: Fraction(row.cost, row.piece.net_g) for row in costing.pieces}
    return tuple(
        TrimStock(_source(pieces, groups, rates), tuple(pieces)) for pieces in groups.values()
    )


def _source(
    pieces: Sequence[FreePiece],
    groups: Collection[tuple[str, Decimal]],
    rates: Mapping[str, Fraction],
) -> TrimSource:
    first = pieces[0]
    assert first.lean is not None
    cut, lean = first.cut, first.lean.percent
    alone = sum(key == cut.key for key, _ in groups) == 1
    grams = sum(piece.free_g for piece in pieces)
    cost = sum((rates[row.piece.key] * row.free_g for row in pieces), Fraction(0))
    rate = cost * GRAMS_PER_KILO / grams
    return TrimSource(
        key=cut.key if alone else f"{cut.key}@{lean}",
        name=cut.name if alone else f"{cut.name} ({_said(first.lean)})",
        lean=lean,
        most_g=grams,
        price=round_half_up(rate.numerator, rate.denominator),
        hours=max(piece.hours for piece in pieces),
    )


def _said(lean: Lean) -> str:
    return f"{'measured' if lean.measured else 'class'} {lean.percent.normalize():f} %"


def plan_lean(sources: Sequence[TrimStock], target: Target) -> LeanPlan:
    """The best mix for a target; two trims and one lean go by the square, to a gram.

    The first plan loads the solver: call it off the window's thread.

    Raises:
        Refusal: The target is out of reach: by how much, and which limits hold it.
    """
    chosen = [row for row in sources if row.source.most_g]
    trims = [row.source for row in chosen]
    if len(trims) == 2 and target.lean_least == target.lean_most:
        mix, proven = mix_by_square(trims, target), True
    else:
        from gambrel.services.tub.solver import best_mix

        mix, proven = best_mix(trims, target)
    portions = [
        part
        for row, grams in zip(chosen, mix.grams, strict=True)
        if grams
        for part in take_oldest(row.pieces, grams)
    ]
    return LeanPlan(mix, tuple(portions), proven)
