"""When two weighings of the same thing agree."""

from __future__ import annotations

from decimal import Decimal

SCALE_SHARE = Decimal("0.005")
SCALE_G = 200
"""Two weighings that differ by no more than the larger of these agree: half a per cent or 200 g.

Common practice, no source: rail scales of a shop show steps of 50 to 200 g.
"""


def agree(one_g: int, other_g: int) -> bool:
    """Whether two weighings of the same thing differ by no more than scales do."""
    return abs(one_g - other_g) <= max(SCALE_G, int(other_g * SCALE_SHARE))
