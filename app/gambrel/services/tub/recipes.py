"""The shop's recipes and the ingredients that it buys in, and what a batch of one takes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING

from gambrel.domain.bench.allergens import checked_allergens, together
from gambrel.domain.bench.recipes import (
    Scaled,
    ingredient_cost,
    largest_batch,
    main_line,
    missing,
    refuse_if_unfit,
    scale_to_batch,
    scale_to_main,
)
from gambrel.domain.bench.trim import Portion, lean_of_mix, take_oldest
from gambrel.domain.numbers.money import DEAREST_MINOR
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import Ingredient, Recipe, RecipeLine
from gambrel.services.bench.act import Act
from gambrel.services.tub.blending import Added
from gambrel.services.tub.standing import Stock

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book

LONGEST_NAME = 40


@dataclass(frozen=True, slots=True)
class Written:
    """A recipe with its lines."""

    recipe: Recipe
    lines: tuple[RecipeLine, ...]


def recipes(book: Book) -> list[Written]:
    """All recipes by name, each with its lines in their order."""
    with book.reading() as work:
        found = work.every(Recipe)
        lines = work.every(RecipeLine)
    by_name = sorted(found, key=lambda each: (each.name.casefold(), each.key))
    return [
        Written(each, tuple(line for line in lines if line.recipe == each.key)) for each in by_name
    ]


def save_recipe(book: Book, recipe: Recipe, lines: Sequence[RecipeLine], act: Act) -> Written:
    """Keep a recipe with just these lines; one without a key is a new one.

    Raises:
        RowsRefused: All that is wrong with it.
        Refusal: Another recipe has its name.
    """
    key = recipe.key or act.key
    recipe = replace(recipe, key=key, name=" ".join(recipe.name.split()))
    placed = [replace(line, recipe=key, position=n) for n, line in enumerate(lines, start=1)]
    with book.transaction() as work:
        cuts = {cut.key: cut for cut in work.cuts()}
        known = {each.key for each in work.every(Ingredient)}
        refuse_if_unfit(recipe, placed, cuts, known)
        names = {each.name.casefold(): each.key for each in work.every(Recipe)}
        if names.get(recipe.name.casefold(), key) != key:
            raise Refusal(f"There is a recipe {recipe.name!r} already. Give this one another name.")
        work.put_recipe(recipe, placed)
    return Written(recipe, tuple(placed))


def drop_recipe(book: Book, key: str) -> None:
    """Forget a recipe; what was made by it stays in the book.

    Raises:
        Refusal: There is no such recipe.
    """
    with book.transaction() as work:
        if not work.every(Recipe, key=key):
            raise Refusal("There is no such recipe any more. Look at the list again.")
        work.drop_recipe(key)


def ingredients(book: Book) -> list[Ingredient]:
    """All ingredients that are written down, by name."""
    with book.reading() as work:
        return sorted(work.every(Ingredient), key=lambda each: (each.name.casefold(), each.key))


def save_ingredient(book: Book, ingredient: Ingredient) -> Ingredient:
    """Write an ingredient down, or change it; without a key it is known by its name from then on.

    Raises:
        Refusal: It has no name, its price cannot be, or an allergen looks like a slip.
    """
    name = " ".join(ingredient.name.split())
    if not 0 < len(name) <= LONGEST_NAME:
        raise Refusal(f"An ingredient needs a name of 1 to {LONGEST_NAME} letters. Type it again.")
    if not 0 <= ingredient.price <= DEAREST_MINOR:
        raise Refusal(f"What {name} costs a kilo cannot be. Type zero or more.")
    allergens = checked_allergens(ingredient.allergens)
    with book.transaction() as work:
        key = ingredient.key or name
        if not ingredient.key and work.every(Ingredient, key=key):
            raise Refusal(f"{name} is written down already. Change that one, or add its maker.")
        kept = replace(ingredient, key=key, name=name, allergens=allergens)
        work.put(kept)
    return kept


@dataclass(frozen=True, slots=True)
class Batch:
    """What one batch of a recipe takes, from what stands free, the oldest first.

    ``portions`` and ``added`` are what `start_blend` takes; the lots are not known here.
    ``missing`` are sentences of what there is not enough of; then ``portions`` is empty.
    ``lean`` is per cent of the meat, None where that of some trim is not known; ``fits`` whether
    it lies within the recipe's bounds, None where there are none or it is not known.
    """

    scaled: tuple[Scaled, ...]
    portions: tuple[Portion, ...]
    added: tuple[Added, ...]
    missing: tuple[str, ...]
    meat_g: int
    lean: Decimal | None
    fits: bool | None
    allergens: tuple[str, ...]
    minutes: Decimal

    @property
    def total_g(self) -> int:
        """What goes in."""
        return sum(row.grams for row in self.scaled)


def most_of(stock: Stock, written: Written) -> int:
    """Grams of the largest batch for which there is enough trim within its dates."""
    return largest_batch(written.lines, _usable(stock))


def batch_of(
    stock: Stock, written: Written, known: Sequence[Ingredient], batch_g: int | None = None
) -> Batch:
    """What a batch takes.

    Args:
        stock: What stands free.
        written: The recipe.
        known: The ingredients that are written down.
        batch_g: How much to make; None for all that stands free of its main trim.
    Raises:
        Refusal: The batch cannot be, or nothing of the main trim stands free.
    """
    free = _usable(stock)
    lines = written.lines
    scaled = (
        scale_to_main(lines, free.get(main_line(lines).cut, 0))
        if batch_g is None
        else scale_to_batch(lines, batch_g)
    )
    cuts = {cut.key: cut for cut in stock.trade.cuts}
    lacking = missing(scaled, free, cuts)
    meat = [row for row in scaled if row.line.cut and row.grams]
    portions = () if lacking else tuple(part for row in meat for part in _oldest(stock, row))
    lean = _lean(stock, portions)
    by_key = {each.key: each for each in known}
    bought_in = [(by_key[row.line.ingredient], row.grams) for row in scaled if row.line.ingredient]
    total = sum(row.grams for row in scaled)
    return Batch(
        scaled=scaled,
        portions=portions,
        added=tuple(Added(each.key, g, ingredient_cost(each, g)) for each, g in bought_in if g),
        missing=tuple(lacking),
        meat_g=sum(row.grams for row in meat),
        lean=lean,
        fits=_fits(lean, written.recipe),
        allergens=together(each.allergens for each, _ in bought_in),
        minutes=written.recipe.minutes_per_kg * total / 1000,
    )


def _usable(stock: Stock) -> dict[str, int]:
    return {row.cut.key: row.usable_g for row in stock.trim}


def _oldest(stock: Stock, row: Scaled) -> tuple[Portion, ...]:
    found = stock.of_cut(row.line.cut)
    return take_oldest(found.pieces if found else (), row.grams)


def _lean(stock: Stock, portions: Sequence[Portion]) -> Decimal | None:
    pieces = {row.piece.key: row for free in stock.trim for row in free.pieces}
    return lean_of_mix([(part.grams, pieces[part.piece].lean) for part in portions])


def _fits(lean: Decimal | None, recipe: Recipe) -> bool | None:
    least, most = recipe.lean_least, recipe.lean_most
    if lean is None or (least is None and most is None):
        return None
    return (least is None or least <= lean) and (most is None or lean <= most)
