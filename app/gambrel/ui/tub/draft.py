"""The blend as it is being put together, before it is in the book. Pure: no Qt."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from gambrel.domain.bench.allergens import together
from gambrel.domain.bench.recipes import Scaled, ingredient_cost
from gambrel.domain.bench.trim import FreeClass, FreePiece, Mark, Portion, lean_of_mix, take_oldest
from gambrel.domain.numbers.mass import GRAMS_PER_KILO
from gambrel.domain.trade.around import Ingredient, Recipe


@dataclass(frozen=True, slots=True)
class Extra:
    """A bought-in ingredient of the blend: how much of it, of which lot."""

    ingredient: Ingredient
    grams: int
    lot: str = ""
    use_by: date | None = None

    @property
    def cost(self) -> int:
        """What it costs, in minor units."""
        return ingredient_cost(self.ingredient, self.grams)


@dataclass(frozen=True, slots=True)
class Draft:
    """What is to go into a blend. ``wished`` are grams by cut where a recipe or a target asks.

    ``lean_*`` are per cent of the meat, None for any.
    """

    recipe: str = ""
    name: str = ""
    product: str = ""
    takes: tuple[Portion, ...] = ()
    wished: tuple[tuple[str, int], ...] = ()
    extras: tuple[Extra, ...] = ()
    lean_least: Decimal | None = None
    lean_most: Decimal | None = None
    minutes_per_kg: Decimal = Decimal(0)

    @property
    def empty(self) -> bool:
        """Whether nothing is in it, nor wished for."""
        return not (self.takes or self.extras or self.wished)

    @property
    def by_piece(self) -> dict[str, int]:
        """Grams of each piece."""
        return {portion.piece: portion.grams for portion in self.takes}

    @property
    def extra_g(self) -> int:
        """Grams of ingredients."""
        return sum(extra.grams for extra in self.extras)

    @property
    def weight_g(self) -> int:
        """Grams of all that is in it."""
        return sum(portion.grams for portion in self.takes) + self.extra_g

    @property
    def allergens(self) -> tuple[str, ...]:
        """The allergens of its ingredients, each once."""
        return together(extra.ingredient.allergens for extra in self.extras)

    def taking(self, row: FreeClass, portions: Sequence[Portion]) -> Draft:
        """The same with these portions of a class in place of those before."""
        own = {piece.piece.key for piece in row.pieces}
        others = tuple(portion for portion in self.takes if portion.piece not in own)
        return replace(self, takes=(*others, *portions))

    def without(self, cut: str, pieces: Mapping[str, FreePiece]) -> Draft:
        """The same with nothing of a cut, nor a wish for it."""
        kept = tuple(p for p in self.takes if _cut_of(p, pieces) != cut)
        wished = tuple(wish for wish in self.wished if wish[0] != cut)
        return replace(self, takes=kept, wished=wished)

    def adding(self, extra: Extra) -> Draft:
        """The same with an ingredient in place of what was of it before."""
        others = [each for each in self.extras if each.ingredient.key != extra.ingredient.key]
        return replace(self, extras=(*others, extra))

    def without_extra(self, key: str) -> Draft:
        """The same without an ingredient."""
        return replace(
            self, extras=tuple(each for each in self.extras if each.ingredient.key != key)
        )

    def standing(self, pieces: Mapping[str, FreePiece]) -> Draft:
        """The same with what still stands free: another station may have taken of it."""
        kept = tuple(
            portion._replace(grams=min(portion.grams, pieces[portion.piece].free_g))
            for portion in self.takes
            if portion.piece in pieces and pieces[portion.piece].mark is not Mark.STOP
        )
        return self if kept == self.takes else replace(self, takes=kept)

    def grams_of(self, pieces: Mapping[str, FreePiece]) -> dict[str, int]:
        """Grams taken of each cut."""
        found: dict[str, int] = {}
        for portion in self.takes:
            cut = _cut_of(portion, pieces)
            found[cut] = found.get(cut, 0) + portion.grams
        return found

    def lean(self, pieces: Mapping[str, FreePiece]) -> Decimal | None:
        """The lean of its meat in per cent, not rounded; None where that of a piece is unknown."""
        parts = [(p.grams, pieces[p.piece].lean) for p in self.takes if p.piece in pieces]
        return lean_of_mix(parts)

    def cost_per_kilo(self, costs: Mapping[str, Decimal], work_per_hour: int) -> Decimal | None:
        """What a kilo of it costs so far, in minor units; None where a piece's cost is not known.

        The work that the recipe expects is in it.
        """
        if not self.weight_g or any(portion.piece not in costs for portion in self.takes):
            return None
        meat = sum((costs[p.piece] * p.grams for p in self.takes), Decimal(0)) / GRAMS_PER_KILO
        minutes = self.minutes_per_kg * self.weight_g / GRAMS_PER_KILO
        work = minutes * work_per_hour / 60
        money = meat + sum(extra.cost for extra in self.extras) + work
        return money * GRAMS_PER_KILO / self.weight_g


def pieces_by_key(classes: Iterable[FreeClass]) -> dict[str, FreePiece]:
    """All free pieces by key."""
    return {piece.piece.key: piece for row in classes for piece in row.pieces}


def of_recipe(
    recipe: Recipe,
    scaled: Sequence[Scaled],
    classes: Sequence[FreeClass],
    ingredients: Mapping[str, Ingredient],
) -> Draft:
    """A blend by a recipe: of each trim the oldest, as far as it stands free within its dates.

    Args:
        recipe: What it is made by.
        scaled: Its lines with their grams.
        classes: What stands free.
        ingredients: By key; a line whose ingredient is not there is left out.
    """
    wished = tuple((row.line.cut, row.grams) for row in scaled if row.line.cut)
    extras = tuple(
        Extra(ingredients[row.line.ingredient], row.grams)
        for row in scaled
        if row.line.ingredient in ingredients and row.grams
    )
    return Draft(
        recipe=recipe.key,
        name=recipe.name,
        product=recipe.product,
        takes=oldest_of(wished, classes),
        wished=wished,
        extras=extras,
        lean_least=recipe.lean_least,
        lean_most=recipe.lean_most,
        minutes_per_kg=recipe.minutes_per_kg,
    )


def oldest_of(
    wished: Iterable[tuple[str, int]], classes: Sequence[FreeClass]
) -> tuple[Portion, ...]:
    """Of each cut the oldest pieces for so many grams, or all of them where there are fewer."""
    rows = {row.cut.key: row for row in classes}
    found: list[Portion] = []
    for cut, grams in wished:
        row = rows.get(cut)
        most = min(grams, row.usable_g) if row else 0
        if row and most:
            found += take_oldest(row.pieces, most)
    return tuple(found)


def _cut_of(portion: Portion, pieces: Mapping[str, FreePiece]) -> str:
    row = pieces.get(portion.piece)
    return row.cut.key if row else ""
