"""What a shop usually loses on the block, from what its finished bodies left unexplained."""

from __future__ import annotations

from collections import defaultdict
from decimal import Decimal
from statistics import median

from gambrel.domain.costing.takes import settle
from gambrel.domain.trade.records import Source, StageKind, Trade

FEWEST = 3
"""Fewer finished bodies make no habit."""


def usual_loss(trade: Trade, species: str, portion: str, without: str = "") -> Decimal | None:
    """The median unexplained share (of one) of the finished breaks of a portion.

    Args:
        trade: The whole book; only breaks of one body count.
        species: For example ``"beef"``.
        portion: For example ``"hindquarter"``.
        without: A stage to leave out: the one that is to be compared.
    Returns:
        Loss over input, negative where more came off than went in; None with fewer than
        `FEWEST` to go by.
    """
    bodies = {b.key for b in trade.bodies if (b.species, b.portion) == (species, portion)}
    flow = settle(trade)
    output: dict[str, int] = defaultdict(int)
    for piece in trade.standing:
        output[piece.stage] += piece.net_g
    shares = []
    for stage in trade.stages:
        takes = flow.by_stage.get(stage.key, [])
        if stage.kind is not StageKind.BREAK or stage.is_open or stage.key == without:
            continue
        if len(takes) != 1 or takes[0].source is not Source.BODY or takes[0].key not in bodies:
            continue
        grams = takes[0].grams
        shares.append(Decimal(grams - output[stage.key]) / grams)
    return median(shares) if len(shares) >= FEWEST else None
