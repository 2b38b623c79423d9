"""The individuals chart: between which limits single figures have been falling.

Source: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2 "Individuals control charts". A
statistic, so it may be a float; no money and no weight comes out of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from statistics import fmean
from typing import NamedTuple

D2 = 1.128
"""The mean range of two draws over their standard deviation (control chart constants, n = 2)."""

SIGMAS = 3
"""How far the limits are from the mean (Shewhart's choice, the handbook's too)."""

LEAST = 8
"""Figures below which no limits are drawn (common practice, no source)."""


class Limits(NamedTuple):
    """The mean of what was before, the mean moving range, and three standard deviations about."""

    mean: float
    moving_range: float
    lower: float
    upper: float

    def holds(self, value: float) -> bool:
        """Whether a figure is as those before it; one on a limit is."""
        return self.lower <= value <= self.upper


def individuals(values: Sequence[float]) -> Limits:
    """The limits for the next figure, from those before it in their order.

    Args:
        values: Two at least, the oldest first.
    Raises:
        ValueError: Fewer than two figures have no moving range.
    """
    if len(values) < 2:
        raise ValueError("Limits need two figures at least: one has no moving range.")
    mean = fmean(values)
    moving = fmean(abs(after - before) for before, after in pairwise(values))
    reach = SIGMAS * moving / D2
    return Limits(mean, moving, mean - reach, mean + reach)
