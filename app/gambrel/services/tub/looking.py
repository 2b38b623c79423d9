"""Looking at a blend: which are open, and what went into one with its lots, dates and allergens.

The weighing itself is looked at as at the block (`gambrel.services.bench.look`), which is quick.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

from gambrel.domain.bench.allergens import contents_of_stages
from gambrel.domain.bench.trim import Lean, lean_of_mix, leans_of
from gambrel.domain.costing.takes import settle
from gambrel.domain.prices.origin import bodies_of_stages
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import CutLabel, CutLean, Ingredient, IngredientLot, PieceLean
from gambrel.domain.trade.catalogue import Cut
from gambrel.domain.trade.records import Piece, Source, Stage, StageKind, Trade
from gambrel.services.tub.standing import last_days

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book


@dataclass(frozen=True, slots=True)
class OpenBlend:
    """A blend that is not finished: the names of what it took, its grams in and out."""

    stage: Stage
    names: tuple[str, ...]
    input_g: int
    output_g: int


@dataclass(frozen=True, slots=True)
class TakenPiece:
    """Grams of a piece that a blend took, with what is known of it."""

    piece: Piece
    cut: Cut
    grams: int
    lean: Lean | None
    use_by: date | None


@dataclass(frozen=True, slots=True)
class AddedIngredient:
    """An ingredient that a blend took. Money is minor units; ``lot`` is empty where none is kept.

    ``allergens`` is None where the ingredient is not written down, so that nothing is known.
    """

    key: str
    name: str
    grams: int
    cost: int
    lot: str
    use_by: date | None
    allergens: str | None


@dataclass(frozen=True, slots=True)
class BlendFacts:
    """What went into a blend.

    ``lean`` is per cent of the meat, None where that of some piece is not known. ``use_by`` is the
    earliest day of all that went in: nothing that it makes lasts longer. ``allergens`` are those of
    its ingredients and of all that earlier blends put into its pieces; ``unknown`` are ingredients
    that are not written down, so that nobody knows theirs. ``bodies`` are the keys of all bodies.
    """

    taken: tuple[TakenPiece, ...]
    added: tuple[AddedIngredient, ...]
    lean: Decimal | None
    use_by: date | None
    allergens: tuple[str, ...]
    unknown: tuple[str, ...]
    bodies: tuple[str, ...]
    species: tuple[str, ...]


def open_blends(book: Book) -> list[OpenBlend]:
    """The blends that are not finished, the newest first. Reads the whole book.

    Raises:
        Refusal: The book has no shop yet.
    """
    with book.reading() as work:
        trade = work.trade()
        names = {each.key: each.name for each in work.every(Ingredient)}
    flow = settle(trade)
    output: dict[str, int] = defaultdict(int)
    for piece in trade.standing:
        output[piece.stage] += piece.net_g
    cuts = {cut.key: cut.name for cut in trade.cuts}
    cut_of = {piece.key: cuts.get(piece.cut, piece.cut) for piece in trade.pieces}
    found = []
    for stage in trade.stages:
        if stage.kind is not StageKind.BLEND or not stage.is_open:
            continue
        takes, added = flow.by_stage[stage.key], flow.ingredients[stage.key]
        called = [cut_of.get(take.key, take.key) for take in takes]
        called += [names.get(row.key, row.key) for row in added]
        weight = sum(take.grams for take in takes) + sum(row.grams or 0 for row in added)
        unique = tuple(dict.fromkeys(called))
        found.append(OpenBlend(stage, unique, weight, output[stage.key]))
    return sorted(found, key=lambda row: row.stage.started_at, reverse=True)


def blend_facts(book: Book, stage: str) -> BlendFacts:
    """What went into a blend. Reads the whole book: call it off the window's thread.

    Raises:
        Refusal: There is no such stage.
    """
    with book.reading() as work:
        trade = work.trade()
        leans = leans_of(work.every(CutLean), work.every(PieceLean))
        known = {each.key: each for each in work.every(Ingredient)}
        labels = {row.cut: row for row in work.every(CutLabel)}
        lots = work.every(IngredientLot)
        days = last_days(work, trade)
    if all(each.key != stage for each in trade.stages):
        raise Refusal("This blend is not in the book any more. Look at the tubs again.")
    pieces = {piece.key: piece for piece in trade.pieces}
    cuts = {cut.key: cut for cut in trade.cuts}
    taken = []
    for take in settle(trade).by_stage[stage]:
        if take.source is Source.PIECE:
            piece = pieces[take.key]
            cut, lean = cuts[piece.cut], leans.of(piece)
            taken.append(TakenPiece(piece, cut, take.grams, lean, days[piece.key]))
    contents = contents_of_stages(trade, known, labels)
    own_lots = {lot.key: lot for lot in lots if lot.stage == stage}
    added = _added(trade, stage, known, own_lots)
    ends = [*(row.use_by for row in taken), *(row.use_by for row in added)]
    return BlendFacts(
        taken=tuple(taken),
        added=added,
        lean=lean_of_mix([(row.grams, row.lean) for row in taken]),
        use_by=min((day for day in ends if day is not None), default=None),
        allergens=contents[stage].allergens,
        unknown=contents[stage].unknown,
        bodies=tuple(sorted(bodies_of_stages(trade).get(stage, ()))),
        species=tuple(dict.fromkeys(row.cut.species for row in taken)),
    )


def _added(
    trade: Trade, stage: str, known: dict[str, Ingredient], lots: dict[str, IngredientLot]
) -> tuple[AddedIngredient, ...]:
    found = []
    for row in trade.inputs:
        if row.stage != stage or row.source is not Source.INGREDIENT:
            continue
        ingredient, lot = known.get(row.key), lots.get(row.key)
        found.append(
            AddedIngredient(
                key=row.key,
                name=ingredient.name if ingredient else row.key,
                grams=row.grams or 0,
                cost=row.cost,
                lot=lot.lot if lot else "",
                use_by=lot.use_by if lot else None,
                allergens=ingredient.allergens if ingredient else None,
            )
        )
    return tuple(found)
