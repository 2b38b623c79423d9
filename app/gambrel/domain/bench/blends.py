"""Lean targets: how much of each of two trims gives the fat content that is wanted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from gambrel.domain.numbers.apportion import apportion
from gambrel.domain.refusals import Refusal


@dataclass(frozen=True, slots=True)
class Square:
    """Grams of the fatter and of the leaner trim, together the grams that were asked for."""

    fat_g: int
    lean_g: int


def square(grams: int, fat_trim: Decimal, lean_trim: Decimal, target: Decimal) -> Square:
    """Blend two trims to a fat content by the square.

    Args:
        grams: How much the blend shall weigh.
        fat_trim: Fat of the fatter trim in per cent, 0 to 100.
        lean_trim: Fat of the leaner trim in per cent.
        target: Fat wanted in per cent, between the two.
    Returns:
        Whole grams that sum to ``grams``.
    Raises:
        Refusal: The target does not lie between the two trims.
    Source: the two-material (Pearson) square: share of A = (target − fatB) / (fatA − fatB).
    """
    if not lean_trim <= target <= fat_trim:
        raise Refusal(
            f"{target} % fat cannot be made from trims of {lean_trim} % and {fat_trim} %; "
            "choose a target between them or another trim"
        )
    parts = [target - lean_trim, fat_trim - target]
    if not any(parts):
        parts = [Decimal(0), Decimal(1)]
    scale = max(-int(part.as_tuple().exponent) for part in parts)
    fat_g, lean_g = apportion(grams, [int(part.scaleb(max(scale, 0))) for part in parts])
    return Square(fat_g, lean_g)


def mixed_percent(parts: Sequence[tuple[int, Decimal]]) -> Decimal:
    """The fat, or the lean, of a mix of (grams, per cent), in per cent.

    Raises:
        ZeroDivisionError: Nothing to mix.
    """
    return sum((grams * share for grams, share in parts), Decimal(0)) / sum(g for g, _ in parts)
