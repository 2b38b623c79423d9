"""Splitting a piece onto trays, tray by tray as each is weighed. Weights are net grams."""

from __future__ import annotations

from collections.abc import Sequence

from gambrel.domain.numbers.mass import kg_text
from gambrel.domain.refusals import Refusal


def with_tray(trays: Sequence[int], grams: int, left_g: int) -> tuple[int, ...]:
    """The trays with one more.

    Args:
        trays: What stands on trays already.
        grams: What the new one weighs, net.
        left_g: What there was of the piece before it was split.
    Raises:
        Refusal: It weighs nothing, or more than what is left of the piece.
    """
    if grams <= 0:
        raise Refusal("A tray weighs something. Type its net weight, or take it from the scale.")
    rest = left_g - sum(trays)
    if grams > rest:
        raise Refusal(
            f"{kg_text(grams)} kg are more than the {kg_text(max(rest, 0))} kg that are left. "
            "Weigh the tray again, without its tub."
        )
    return (*trays, grams)
