"""What a shop usually gets and loses on the block, from what its finished bodies came to."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from decimal import ROUND_HALF_UP, Decimal
from statistics import median

from gambrel.domain.costing.takes import settle
from gambrel.domain.trade.records import Source, Stage, StageKind, Trade, stage_order

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
    output: dict[str, int] = defaultdict(int)
    for piece in trade.standing:
        output[piece.stage] += piece.net_g
    shares = [
        Decimal(grams - output[stage.key]) / grams
        for stage, grams in _breaks_of(trade, species, portion)
        if stage.key != without
    ]
    return median(shares) if len(shares) >= FEWEST else None


LATEST = 20
"""So many last bodies say what a list yields; older ones were bought and cut otherwise."""

FINEST_NORM = Decimal("0.1")
"""Per cent to which a norm is proposed."""


@dataclass(frozen=True, slots=True)
class UsualYields:
    """What the last bodies cut by a list really yielded: per cent of the input, by cut."""

    bodies: int = 0
    percent: Mapping[str, Decimal] = field(default_factory=dict)


def usual_yields(trade: Trade, cutting_list: str, species: str, portion: str) -> UsualYields:
    """The median yield of each cut over the last finished breaks by a cutting list.

    Args:
        trade: The whole book; only breaks of one body count.
        cutting_list: The name of the list.
        species: For example ``"beef"``.
        portion: For example ``"hindquarter"``.
    Returns:
        Per cent of what went in, to a tenth, half up. A body that a cut did not come off counts
        as nought for it; one that came off fewer than half of them is left out, since a norm of
        nought says nothing. Empty below `FEWEST` bodies.
    """
    inputs = [
        (stage, grams)
        for stage, grams in _breaks_of(trade, species, portion)
        if stage.list == cutting_list
    ]
    last = sorted(inputs, key=lambda each: stage_order(each[0]))[-LATEST:]
    if len(last) < FEWEST:
        return UsualYields(len(last))
    made: dict[str, dict[str, int]] = defaultdict(lambda: defaultdict(int))
    stages = {stage.key for stage, _ in last}
    for piece in trade.standing:
        if piece.stage in stages:
            made[piece.cut][piece.stage] += piece.net_g
    medians = {
        cut: median(Decimal(100 * of_stage.get(stage.key, 0)) / grams for stage, grams in last)
        for cut, of_stage in made.items()
    }
    finest = {cut: each.quantize(FINEST_NORM, ROUND_HALF_UP) for cut, each in medians.items()}
    return UsualYields(len(last), {cut: each for cut, each in finest.items() if each})


def _breaks_of(trade: Trade, species: str, portion: str) -> Iterator[tuple[Stage, int]]:
    """The finished breaks of one body of a portion, each with the grams that it took."""
    bodies = {b.key for b in trade.bodies if (b.species, b.portion) == (species, portion)}
    flow = settle(trade)
    for stage in trade.stages:
        takes = flow.by_stage.get(stage.key, [])
        if stage.kind is not StageKind.BREAK or stage.is_open or len(takes) != 1:
            continue
        if takes[0].source is Source.BODY and takes[0].key in bodies:
            yield stage, takes[0].grams
