"""The state of a block after one more weighing or taking back, without looking at everything again.

`gambrel.domain.bench.block.block_state` of the whole trade would say the same; a tap waits for
this.
"""

from __future__ import annotations

from dataclasses import replace

from gambrel.domain.bench.block import OnBlock, PieceOnBlock
from gambrel.domain.trade.records import Piece, Void, piece_order


def with_piece(on_block: OnBlock, piece: Piece) -> OnBlock | None:
    """The state after a new piece of this stage; None where only a whole look can tell.

    That is so for a cut that stands neither on the list nor on the block yet: it moves among the
    keys.
    """
    if all(row.cut.key != piece.cut for row in on_block.cuts):
        return None
    cut = next(row.cut for row in on_block.cuts if row.cut.key == piece.cut)
    added = PieceOnBlock(piece, cut)
    rows = [*on_block.pieces, added]
    if on_block.pieces and piece_order(on_block.pieces[0].piece) <= piece_order(piece):
        rows = [added, *on_block.pieces]
    else:
        rows.sort(key=lambda row: piece_order(row.piece), reverse=True)
    return _counted(on_block, tuple(rows), piece, 1)


def with_void(on_block: OnBlock, void: Void) -> OnBlock | None:
    """The state after a piece of this stage was taken back; None where only a whole look can tell.

    That is so for an unknown piece, and for the last one of a cut that is not on the list.
    """
    found = next((row for row in on_block.standing if row.piece.key == void.piece), None)
    if found is None:
        return None
    counted = on_block.cut(found.cut.key)
    if counted is None or (counted.norm_g is None and counted.pieces == 1):
        return None
    rows = tuple(replace(row, void=void) if row is found else row for row in on_block.pieces)
    return _counted(on_block, rows, found.piece, -1)


def _counted(
    on_block: OnBlock, rows: tuple[PieceOnBlock, ...], piece: Piece, count: int
) -> OnBlock:
    cuts = tuple(
        replace(row, weighed_g=row.weighed_g + count * piece.net_g, pieces=row.pieces + count)
        if row.cut.key == piece.cut
        else row
        for row in on_block.cuts
    )
    return replace(on_block, cuts=cuts, pieces=rows)
