"""What stands on one block: a stage, with whatever took of the same bodies and pieces."""

from __future__ import annotations

from dataclasses import replace

from sqlalchemy import or_, select
from sqlalchemy.engine import Connection

from gambrel.domain.trade.records import Stage, Trade, piece_order, stage_order
from gambrel.storage import rows, tables
from gambrel.storage.reading import (
    by_piece,
    by_stage,
    read,
    read_stage_trade,
    read_writeoffs,
)
from gambrel.storage.stages import read_standings, standing_stages


def read_nearby(connection: Connection, key: str) -> Trade:
    """`read_stage_trade`, and what is needed to know how much the stage took and what went on.

    That is: the pieces of other stages that it takes, with their voids and write-offs, and every
    other standing stage that takes of the same bodies or pieces or of its own pieces, with these
    inputs.

    Raises:
        Refusal: There is no such stage, or it was cancelled, or there is no shop.
    """
    own = read_stage_trade(connection, key)
    taken = tables.stage_input.c
    mine = select(taken.piece).where(taken.stage == key, taken.piece.is_not(None))
    bodies = select(taken.body).where(taken.stage == key, taken.body.is_not(None))
    made = select(tables.piece.c.key).where(tables.piece.c.stage == key)
    others = read(
        connection,
        rows.INPUTS,
        taken.stage != key,
        or_(taken.body.in_(bodies), taken.piece.in_(mine), taken.piece.in_(made)),
    )
    pieces = read(connection, rows.PIECES, tables.piece.c.key.in_(mine))
    if not others and not pieces:
        return own
    stages = _standing(connection, {row.stage for row in others})
    alive = {stage.key for stage in stages}
    inputs = (*own.inputs, *(row for row in others if row.stage in alive))
    voids = read(connection, rows.VOIDS, tables.void.c.piece.in_(mine))
    thrown = read_writeoffs(connection, tables.writeoff.c.piece.in_(mine))
    return replace(
        own,
        stages=tuple(sorted((*own.stages, *stages), key=stage_order)),
        inputs=tuple(sorted(inputs, key=by_stage)),
        pieces=tuple(sorted((*own.pieces, *pieces), key=piece_order)),
        voids=tuple(sorted((*own.voids, *voids), key=by_piece)),
        writeoffs=tuple(sorted((*own.writeoffs, *thrown), key=by_piece)),
    )


def _standing(connection: Connection, keys: set[str]) -> list[Stage]:
    standings = (read_standings(connection, key) for key in sorted(keys))
    return [stage for found in standings for stage in standing_stages(found)]
