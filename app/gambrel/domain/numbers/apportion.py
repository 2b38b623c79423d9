"""The one divider of money (and of any other whole number that must not lose a unit)."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction


class UnsplittableError(ValueError):
    """There is nothing to share by: no weights, a negative one, or weights that sum to zero."""


def apportion(total: int, weights: Sequence[int]) -> list[int]:
    """Share a whole number by weights, losing nothing to rounding.

    Args:
        total: What to share, for example minor units of money. A negative total is shared as its
            positive twin and each part negated.
        weights: Each part's claim on it, zero or more: net grams, or worth in any unit.
    Returns:
        One part per weight, in the order given; the parts sum to ``total`` exactly.
    Raises:
        UnsplittableError: No weights, a negative one, or weights that sum to zero.
    Source: the largest remainder method (Hamilton); equal remainders go to the earlier part.
    """
    whole = sum(weights)
    if not whole or min(weights) < 0:
        raise UnsplittableError("a sum is shared by weights of zero or more, not all of them zero")
    if len(weights) == 1:
        return [total]
    size = abs(total)
    claims = [size * weight for weight in weights]
    parts = [claim // whole for claim in claims]
    left = size - sum(parts)
    if left:
        remainders = [claim % whole for claim in claims]
        # Sorting backwards still keeps the earlier of two equal ones first.
        largest = sorted(range(len(parts)), key=remainders.__getitem__, reverse=True)
        for index in largest[:left]:
            parts[index] += 1
    return [-part for part in parts] if total < 0 else parts


def whole_weights(weights: Sequence[int | Fraction]) -> list[int]:
    """Fractions and whole numbers as whole numbers in the same proportion, exactly."""
    scale = math.lcm(*(w.denominator for w in weights))
    return [w.numerator * (scale // w.denominator) for w in weights]
