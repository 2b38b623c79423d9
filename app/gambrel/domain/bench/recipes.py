"""Recipes: whether one can be, and scaled to a batch or to the trim that stands free. Pure."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from gambrel.domain.bench.lean import FINEST
from gambrel.domain.bench.trim import MINCED
from gambrel.domain.numbers.apportion import apportion
from gambrel.domain.numbers.mass import GRAMS_PER_KILO, HEAVIEST_G, kg_text
from gambrel.domain.numbers.money import extend, round_half_up
from gambrel.domain.refusals import Refusal, RowsRefused
from gambrel.domain.trade.around import Ingredient, Recipe, RecipeLine
from gambrel.domain.trade.catalogue import Cut

SLOWEST = Decimal(60)
"""Minutes of work per kilo that no blend passes (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Scaled:
    """A line of a recipe with the grams that a batch takes of it."""

    line: RecipeLine
    grams: int


def refuse_if_unfit(
    recipe: Recipe,
    lines: Sequence[RecipeLine],
    cuts: Mapping[str, Cut],
    ingredients: Collection[str],
) -> None:
    """Say no to a recipe that no batch can be made by.

    Raises:
        RowsRefused: All that is wrong with it, a sentence each.
    """
    said = [*_head_faults(recipe, cuts), *_line_faults(lines, cuts, ingredients)]
    if said:
        raise RowsRefused(said)


def _head_faults(recipe: Recipe, cuts: Mapping[str, Cut]) -> Iterable[str]:
    if not recipe.name.strip():
        yield "A recipe needs a name. Type one."
    product = cuts.get(recipe.product)
    if product is None or not product.kind.bears_cost:
        yield "A recipe makes a cut of the catalogue for the tray or the tub. Choose one."
    bounds = [x for x in (recipe.lean_least, recipe.lean_most) if x is not None]
    if any(not 0 <= bound <= 100 or bound % FINEST for bound in bounds):
        yield "Lean lies between 0 and 100 per cent, to a hundredth. Correct the bounds."
    elif bounds != sorted(bounds):
        yield "The least lean is above the most. Change one of them."
    if not 0 <= recipe.minutes_per_kg <= SLOWEST:
        yield f"Work takes 0 to {SLOWEST} minutes a kilo. Correct the minutes."


def _line_faults(
    lines: Sequence[RecipeLine], cuts: Mapping[str, Cut], ingredients: Collection[str]
) -> Iterable[str]:
    if not any(line.cut for line in lines):
        yield "A recipe takes trim. Add a line with a trim cut."
    names = [(line.cut, line.ingredient) for line in lines]
    for line in lines:
        if bool(line.cut) == bool(line.ingredient):
            yield "A line is either trim or an ingredient. Choose one."
        elif line.cut and (line.cut not in cuts or cuts[line.cut].kind not in MINCED):
            yield f"{line.cut!r} is no trim of the catalogue. Choose another for its line."
        elif line.ingredient and line.ingredient not in ingredients:
            yield f"There is no ingredient {line.ingredient!r}. Write it down first."
        elif names.count((line.cut, line.ingredient)) > 1:
            yield f"{line.cut or line.ingredient!r} stands in two lines. Put them together."
    total = sum(line.grams_per_kg for line in lines)
    if any(line.grams_per_kg <= 0 for line in lines):
        yield "A line weighs more than nothing. Take it out, or give it grams."
    elif total != GRAMS_PER_KILO:
        off = abs(GRAMS_PER_KILO - total)
        word = "missing" if total < GRAMS_PER_KILO else "too much"
        yield f"The lines make {total} g of a kilo of batch: {off} g {word}. Make them 1000 g."


def scale_to_batch(lines: Sequence[RecipeLine], batch_g: int) -> tuple[Scaled, ...]:
    """What a batch takes of each line, in whole grams that sum to the batch.

    Raises:
        Refusal: No batch, or one that no shop mixes.
    """
    if not 0 < batch_g <= HEAVIEST_G:
        raise Refusal(
            "A batch weighs more than nothing and no more than ten tonnes. Type it again."
        )
    parts = apportion(batch_g, [line.grams_per_kg for line in lines])
    return tuple(Scaled(line, grams) for line, grams in zip(lines, parts, strict=True))


def main_line(lines: Sequence[RecipeLine]) -> RecipeLine:
    """The trim that a recipe has most of; the first of equals."""
    return max((line for line in lines if line.cut), key=lambda line: line.grams_per_kg)


def scale_to_main(lines: Sequence[RecipeLine], free_g: int) -> tuple[Scaled, ...]:
    """What goes with so many grams of the main trim; the others half up to a gram.

    Raises:
        Refusal: Nothing of the main trim stands free.
    """
    main = main_line(lines)
    if free_g <= 0:
        raise Refusal("Nothing of the main trim stands free. Type a batch, or break a body first.")
    return tuple(
        Scaled(line, round_half_up(free_g * line.grams_per_kg, main.grams_per_kg))
        for line in lines
    )  # fmt: skip


def largest_batch(lines: Sequence[RecipeLine], free: Mapping[str, int]) -> int:
    """Grams of the largest batch for which there is enough of every trim; may be none."""
    return min(
        free.get(line.cut, 0) * GRAMS_PER_KILO // line.grams_per_kg for line in lines if line.cut
    )


def missing(
    scaled: Sequence[Scaled], free: Mapping[str, int], cuts: Mapping[str, Cut]
) -> list[str]:
    """What a batch wants more of than stands free, a sentence each."""
    return [
        f"{kg_text(row.grams)} kg of {cuts[row.line.cut].name} is wanted and "
        f"{kg_text(free.get(row.line.cut, 0))} kg stands free."
        for row in scaled
        if row.line.cut and row.grams > free.get(row.line.cut, 0)
    ]


def ingredient_cost(ingredient: Ingredient, grams: int) -> int:
    """What a weight of an ingredient costs, in whole minor units."""
    return extend(ingredient.price, grams)
