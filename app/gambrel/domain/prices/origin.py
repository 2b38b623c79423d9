"""From which supplier the meat in the cabinet came: traced back through every stage."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from datetime import datetime, timedelta

from gambrel.domain.costing.takes import grams_gone
from gambrel.domain.trade.around import Origin, OriginOf
from gambrel.domain.trade.catalogue import CutKind
from gambrel.domain.trade.records import Piece, Source, StageKind, Trade, stage_order


def one_supplier(trade: Trade, now: datetime) -> dict[str, str]:
    """For each cut, the key of the one supplier from whom all of it came.

    What counts is what stands and is within its shelf life at ``now``. A cut whose pieces came
    from several suppliers, or of which nothing stands, is left out: nothing is claimed of it.
    """
    by_stage = _suppliers_of_stages(trade)
    lives = {cut.key: cut.shelf_life_days for cut in trade.cuts}
    found: dict[str, set[str]] = defaultdict(set)
    for piece in _still_there(trade, now):
        days = lives.get(piece.cut)
        if days is None or piece.weighed_at >= now - timedelta(days=days):
            found[piece.cut] |= by_stage.get(piece.stage) or {""}
    return {
        cut: next(iter(keys)) for cut, keys in found.items() if len(keys) == 1 and "" not in keys
    }


def standing_origins(
    trade: Trade, origins: Iterable[Origin], now: datetime
) -> dict[str, tuple[tuple[Origin, ...], bool]]:
    """For each cut, the origins of all bodies whose meat stands now, and whether it is plain mince.

    A body of which nothing is known has an empty origin, so that nobody takes it for known.
    """
    known = origins_by_body(trade, origins)
    bodies = bodies_of_stages(trade)
    kinds = {stage.key: stage.kind for stage in trade.stages}
    found: dict[str, set[str]] = defaultdict(set)
    minced: dict[str, bool] = {}
    for piece in _still_there(trade, now):
        found[piece.cut] |= bodies.get(piece.stage, frozenset())
        minced[piece.cut] = kinds[piece.stage] is StageKind.BLEND
    return {
        cut: (
            tuple(known.get(key) or Origin(OriginOf.BODY, key) for key in sorted(keys)),
            minced[cut],
        )
        for cut, keys in found.items()
    }


def origins_by_body(trade: Trade, origins: Iterable[Origin]) -> dict[str, Origin]:
    """Each body's own origin, or else its supplier's."""
    given = list(origins)
    of_suppliers = {each.key: each for each in given if each.kind is OriginOf.SUPPLIER}
    found = {
        body.key: of_suppliers[body.supplier]
        for body in trade.bodies
        if body.supplier in of_suppliers
    }
    return found | {each.key: each for each in given if each.kind is OriginOf.BODY}


def _suppliers_of_stages(trade: Trade) -> dict[str, set[str]]:
    suppliers = {body.key: body.supplier for body in trade.bodies}
    return {
        stage: {suppliers[body] for body in bodies if body in suppliers}
        for stage, bodies in bodies_of_stages(trade).items()
    }


def bodies_of_stages(trade: Trade) -> dict[str, frozenset[str]]:
    """The keys of all bodies whose meat each stage took, directly or through pieces."""
    made_by = {piece.key: piece.stage for piece in trade.pieces}
    inputs = defaultdict(list)
    for row in trade.inputs:
        inputs[row.stage].append(row)
    found: dict[str, frozenset[str]] = {}
    for stage in sorted(trade.stages, key=stage_order):
        keys: set[str] = set()
        for row in inputs[stage.key]:
            if row.source is Source.BODY:
                keys.add(row.key)
            elif row.source is Source.PIECE:
                keys |= found.get(made_by.get(row.key, ""), frozenset())
        found[stage.key] = frozenset(keys)
    return found


def _still_there(trade: Trade, now: datetime) -> list[Piece]:
    """Pieces of which something is neither consumed nor thrown away."""
    gone = grams_gone(trade)
    return [
        piece
        for piece in trade.standing
        if piece.weighed_at <= now and gone[piece.key] < piece.net_g
    ]


def blended_cuts(trade: Trade) -> set[str]:
    """Cuts that a blend made out of trim: mince, sausages, and whatever else is minced."""
    kinds = {cut.key: cut.kind for cut in trade.cuts}
    cut_of = {piece.key: piece.cut for piece in trade.pieces}
    blends = {stage.key for stage in trade.stages if stage.kind is StageKind.BLEND}
    of_trim = {
        row.stage
        for row in trade.inputs
        if row.stage in blends
        and row.source is Source.PIECE
        and kinds.get(cut_of.get(row.key, "")) is CutKind.TRIM
    }
    return {piece.cut for piece in trade.standing if piece.stage in of_trim}
