"""Until which day a piece may be used: its own shelf life, never past what it was made of."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import date, timedelta
from graphlib import CycleError, TopologicalSorter

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import IngredientLot
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.records import Piece, Source, Trade

NO_LIMITS: Mapping[str, date] = {}


def use_by_days(
    trade: Trade,
    bodies: Mapping[str, date] = NO_LIMITS,
    ingredients: Iterable[IngredientLot] = (),
) -> dict[str, date | None]:
    """The last business day on which each piece may be used; None where nothing says one.

    A piece lasts for its cut's shelf life from the business day of its weighing, and never longer
    than the earliest of what its stage took: cutting or mincing again makes nothing fresher.

    Args:
        trade: A book, or a part of it that is closed under its inputs.
        bodies: The last day of bodies that came with one, by key.
        ingredients: The lots that stages used.
    Raises:
        Refusal: Stages take each other's pieces in a circle.
    Source: common practice, no source. A law may set less; the shop writes it into the shelf life.
    """
    lives = {cut.key: cut.shelf_life_days for cut in trade.cuts}
    pieces = {piece.key: piece for piece in trade.pieces}
    limits: dict[str, list[date]] = defaultdict(list)
    taken: dict[str, list[str]] = defaultdict(list)
    for row in trade.inputs:
        if row.source is Source.BODY and row.key in bodies:
            limits[row.stage].append(bodies[row.key])
        elif row.source is Source.PIECE and row.key in pieces:
            taken[row.stage].append(row.key)
    for lot in ingredients:
        if lot.use_by is not None:
            limits[lot.stage].append(lot.use_by)
    made: dict[str, list[Piece]] = defaultdict(list)
    for piece in trade.pieces:
        made[piece.stage].append(piece)
    found: dict[str, date | None] = {}
    for stage in makers_first(trade):
        before = [found[key] for key in taken[stage]]
        least = min([*limits[stage], *(day for day in before if day is not None)], default=None)
        for piece in made[stage]:
            found[piece.key] = earlier(_own(piece, lives.get(piece.cut), trade), least)
    return found


def earlier(one: date | None, other: date | None) -> date | None:
    """The earlier of two days, either of which may be unknown."""
    days = [day for day in (one, other) if day is not None]
    return min(days, default=None)


def _own(piece: Piece, life: int | None, trade: Trade) -> date | None:
    if life is None:
        return None
    return business_day(piece.weighed_at, trade.shop) + timedelta(days=life)


def makers_first(trade: Trade) -> list[str]:
    """The keys of all stages, each after those whose pieces it took.

    Raises:
        Refusal: Stages take each other's pieces in a circle.
    """
    made_by = {piece.key: piece.stage for piece in trade.pieces}
    waits: dict[str, set[str]] = {stage.key: set() for stage in trade.stages}
    for row in trade.inputs:
        if row.source is Source.PIECE and row.key in made_by:
            waits[row.stage].add(made_by[row.key])
    try:
        return list(TopologicalSorter(waits).static_order())
    except CycleError as error:
        names = ", ".join(sorted(set(error.args[1])))
        raise Refusal(
            f"Stages {names} take each other's pieces in a circle. Correct the inputs of one."
        ) from error
