"""The part of a trade that has to do with one stage, so that the rest cannot stand in its way.

Stages belong together that took of the same body, or of which one took the other's pieces: value
and cost flow between them. A missing price elsewhere in the book must not keep a shop from costing
the body that it has just finished. Pure.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace

from gambrel.domain.trade.records import Source, Trade


def connected_part(trade: Trade, stage_key: str) -> Trade:
    """The trade of all stages that are connected with one, with what they took and made."""
    stages = _connected(trade, stage_key)
    inputs = tuple(row for row in trade.inputs if row.stage in stages)
    bodies = {row.key for row in inputs if row.source is Source.BODY}
    pieces = tuple(piece for piece in trade.pieces if piece.stage in stages)
    keys = {piece.key for piece in pieces}
    return replace(
        trade,
        bodies=tuple(body for body in trade.bodies if body.key in bodies),
        reweighs=tuple(row for row in trade.reweighs if row.body in bodies),
        stages=tuple(stage for stage in trade.stages if stage.key in stages),
        inputs=inputs,
        pieces=pieces,
        voids=tuple(void for void in trade.voids if void.piece in keys),
        writeoffs=tuple(row for row in trade.writeoffs if row.piece in keys),
    )


def _connected(trade: Trade, stage_key: str) -> set[str]:
    made_by = {piece.key: piece.stage for piece in trade.pieces}
    takers: dict[str, set[str]] = defaultdict(set)
    near: dict[str, set[str]] = defaultdict(set)
    for row in trade.inputs:
        if row.source is Source.BODY:
            takers[row.key].add(row.stage)
        elif row.source is Source.PIECE and row.key in made_by:
            near[row.stage].add(made_by[row.key])
            near[made_by[row.key]].add(row.stage)
    for together in takers.values():
        for stage in together:
            near[stage] |= together
    found, edge = {stage_key}, [stage_key]
    while edge:
        for stage in near[edge.pop()] - found:
            found.add(stage)
            edge.append(stage)
    return found
