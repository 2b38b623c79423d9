"""All that the tub reads of the book at once, off the window's thread. Pure: no Qt."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal
from typing import TYPE_CHECKING

from gambrel.domain.bench.trim import FreeClass, FreePiece
from gambrel.domain.costing.fallback import costed
from gambrel.domain.numbers.money import per_kilo
from gambrel.domain.trade.around import Ingredient
from gambrel.domain.trade.catalogue import Cut, CutKind
from gambrel.domain.trade.records import Stage, StageKind, Trade, stage_order
from gambrel.services.tub.looking import OpenBlend, open_blends
from gambrel.services.tub.recipes import Written, ingredients, recipes
from gambrel.services.tub.standing import Stock, standing_trim
from gambrel.ui.tub.draft import pieces_by_key

if TYPE_CHECKING:
    from gambrel.services.books import Book


@dataclass(frozen=True, slots=True)
class Shelf:
    """What stands free and what it may become.

    ``costs`` is the cost per kilo of free pieces; ``species_before`` what was blended last;
    ``products`` what a blend may make, what blends made before first.
    """

    stock: Stock
    costs: Mapping[str, Decimal] = field(default_factory=dict)
    recipes: tuple[Written, ...] = ()
    ingredients: tuple[Ingredient, ...] = ()
    open: tuple[OpenBlend, ...] = ()
    species_before: str = ""
    products: tuple[Cut, ...] = ()

    @property
    def cuts(self) -> dict[str, Cut]:
        """The catalogue by key."""
        return {cut.key: cut for cut in self.stock.trade.cuts}

    @property
    def classes(self) -> tuple[FreeClass, ...]:
        """Trim and trays together."""
        return (*self.stock.trim, *self.stock.trays)

    @property
    def pieces(self) -> dict[str, FreePiece]:
        """All that stands free, by key."""
        return pieces_by_key(self.classes)

    def recipe(self, key: str) -> Written | None:
        """A recipe by key."""
        return next((each for each in self.recipes if each.recipe.key == key), None)

    def ingredient(self, key: str) -> Ingredient | None:
        """An ingredient by key."""
        return next((each for each in self.ingredients if each.key == key), None)


def read_shelf(book: Book, now: datetime) -> Shelf:
    """Read it all. Costs every piece of the book: call it off the window's thread.

    Raises:
        Refusal: The book has no shop yet, or contradicts itself.
    """
    stock = standing_trim(book, now)
    trade = stock.trade
    costing, _ = costed(trade)
    return Shelf(
        stock,
        costs={
            row.piece.key: per_kilo(row.rest_share, row.rest_g)
            for row in costing.pieces
            if row.rest_g > 0
        },
        recipes=tuple(recipes(book)),
        ingredients=tuple(ingredients(book)),
        open=tuple(open_blends(book)),
        species_before=_species_before(trade),
        products=_products(trade),
    )


def _blends(trade: Trade) -> list[Stage]:
    return sorted((s for s in trade.stages if s.kind is StageKind.BLEND), key=stage_order)


def _species_before(trade: Trade) -> str:
    blends = _blends(trade)
    if not blends:
        return ""
    last = {row.key for row in trade.inputs if row.stage == blends[-1].key}
    cuts = {cut.key: cut.species for cut in trade.cuts}
    return next((cuts[piece.cut] for piece in trade.pieces if piece.key in last), "")


def _products(trade: Trade) -> tuple[Cut, ...]:
    """Tray cuts: what blends made before, the most often first, then the rest by catalogue."""
    blends = {stage.key for stage in _blends(trade)}
    counts: dict[str, int] = {}
    for piece in trade.standing:
        if piece.stage in blends:
            counts[piece.cut] = counts.get(piece.cut, 0) + 1
    trays = [cut for cut in trade.cuts if cut.kind is CutKind.TRAY]
    return tuple(sorted(trays, key=lambda cut: -counts.get(cut.key, 0)))
