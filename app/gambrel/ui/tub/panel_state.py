"""What the tub's panels show: recipes, ingredients, products, legal limits. Pure: no Qt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from gambrel.domain.bench.legal import Information
from gambrel.domain.bench.recipes import Scaled
from gambrel.domain.numbers.apportion import apportion
from gambrel.domain.numbers.mass import GRAMS_PER_KILO
from gambrel.domain.trade.around import Ingredient, Recipe, RecipeLine
from gambrel.domain.trade.catalogue import Cut
from gambrel.domain.trade.formats import Formats
from gambrel.services.tub.recipes import Written, batch_of, most_of
from gambrel.ui.tub.draft import Draft, of_recipe
from gambrel.ui.tub.picking import typed_grams
from gambrel.ui.tub.shelf import Shelf
from gambrel.ui.tub.trim_state import RowText
from gambrel.ui.tub.words import percent


@dataclass(frozen=True, slots=True)
class ListText:
    """A list to choose from, and what a keypad and an act do with the chosen row."""

    rows: tuple[RowText, ...]
    chosen: str = ""
    typed: str = ""
    act: str = ""
    can_act: bool = False
    hint: str = ""


def recipes_text(
    shelf: Shelf, chosen: str, typed: str, scaled: Sequence[Scaled], wrong: str, formats: Formats
) -> ListText:
    """The recipes, and what the chosen one would take.

    Args:
        shelf: What stands free, and the recipes.
        chosen: The key of one, or nothing.
        typed: Kilos on the keypad; empty for all that stands free of the main trim.
        scaled: The lines of the chosen one in grams; empty where it cannot be scaled.
        wrong: Why it cannot be, or what there is not enough of.
        formats: How the shop writes its numbers.
    """
    rows = tuple(_recipe_row(each, chosen, shelf.cuts, formats) for each in shelf.recipes)
    if shelf.recipe(chosen) is None:
        return ListText(rows, act="Choose a recipe")
    total = sum(row.grams for row in scaled)
    how = "" if typed_grams(typed) else ", all the main trim"
    act = f"Lay out {formats.kg(total)} kg{how}" if total else "Type the kilos"
    hint = wrong or " · ".join(_scaled(row, shelf, formats) for row in scaled)
    return ListText(rows, chosen, typed, act, total > 0, hint)


def ready_rows(shelf: Shelf, formats: Formats) -> tuple[RowText, ...]:
    """Each recipe with what it would make and cost of what stands free now; those first that can.

    The kilos are the largest batch for which there is enough of every trim within its dates.
    """
    found = [(ready_grams(shelf, written), written) for written in shelf.recipes]
    found.sort(key=lambda each: not each[0])
    return tuple(_ready_row(shelf, written, grams, formats) for grams, written in found)


def ready_grams(shelf: Shelf, written: Written) -> int:
    """Grams of a recipe that can be made now; none where it has no trim or there is none of it."""
    return most_of(shelf.stock, written) if any(line.cut for line in written.lines) else 0


def ready_draft(shelf: Shelf, written: Written, grams: int) -> Draft:
    """The blend that a recipe makes of so many grams.

    Raises:
        Refusal: The batch cannot be.
    """
    known = {each.key: each for each in shelf.ingredients}
    batch = batch_of(shelf.stock, written, shelf.ingredients, grams)
    return of_recipe(written.recipe, batch.scaled, shelf.classes, known)


def _ready_row(shelf: Shelf, written: Written, grams: int, formats: Formats) -> RowText:
    recipe = written.recipe
    product = shelf.cuts.get(recipe.product)
    under = product.name if product else recipe.product
    if not grams:
        return RowText(recipe.key, recipe.name, "", under, "info", "not enough trim stands free")
    work = shelf.stock.trade.shop.work_per_hour
    cost = ready_draft(shelf, written, grams).cost_per_kilo(shelf.costs, work)
    words = f"{formats.per_kilo(cost)} a kilo"
    return RowText(recipe.key, recipe.name, formats.kg(grams, 2), f"{under} · {words}", "", "")


def _scaled(row: Scaled, shelf: Shelf, formats: Formats) -> str:
    line = row.line
    ingredient = shelf.ingredient(line.ingredient)
    cut = shelf.cuts.get(line.cut)
    name = cut.name if cut else ingredient.name if ingredient else line.ingredient
    return f"{name} {formats.kg(row.grams)}"


def _recipe_row(written: Written, chosen: str, cuts: dict[str, Cut], formats: Formats) -> RowText:
    recipe = written.recipe
    product = cuts.get(recipe.product)
    lines = len(written.lines)
    parts = [product.name if product else recipe.product, f"{lines} lines"]
    return RowText(
        recipe.key,
        recipe.name,
        "",
        " · ".join(parts),
        "",
        bounds_text(recipe.lean_least, recipe.lean_most, formats),
        chosen=recipe.key == chosen,
    )


def bounds_text(least: Decimal | None, most: Decimal | None, formats: Formats) -> str:
    """Two bounds of lean as words; nothing where there are none."""
    if least is not None and least == most:
        return f"{percent(least, formats, 2)} lean"
    parts = [f"from {percent(least, formats, 2)}"] if least is not None else []
    parts += [f"to {percent(most, formats, 2)}"] if most is not None else []
    return f"{' '.join(parts)} lean" if parts else ""


def recipe_of(draft: Draft, name: str, shelf: Shelf) -> tuple[Recipe, tuple[RecipeLine, ...]]:
    """The blend as a recipe: what was taken, or wished where nothing was, by the kilo."""
    meat = draft.grams_of(shelf.pieces) or dict(draft.wished)
    parts = [*meat.values(), *(extra.grams for extra in draft.extras)]
    shares = apportion(GRAMS_PER_KILO, parts) if any(parts) else []
    keys = [("", key) for key in meat] + [(extra.ingredient.key, "") for extra in draft.extras]
    lines = tuple(
        RecipeLine("", place, share, cut=cut, ingredient=ingredient)
        for place, ((ingredient, cut), share) in enumerate(zip(keys, shares, strict=True), start=1)
    )
    recipe = Recipe(
        "", name, draft.product, draft.lean_least, draft.lean_most, draft.minutes_per_kg
    )
    return recipe, lines


def ingredients_text(
    shelf: Shelf, draft: Draft, chosen: str, typed: str, formats: Formats
) -> ListText:
    """What is bought in, and the weight that would go into the blend."""
    inside = {extra.ingredient.key: extra.grams for extra in draft.extras}
    rows = tuple(
        _ingredient_row(each, inside.get(each.key, 0), chosen, formats)
        for each in shelf.ingredients
    )
    found = shelf.ingredient(chosen)
    if found is None:
        return ListText(rows, act="Choose an ingredient")
    grams = typed_grams(typed)
    if not grams:
        return ListText(rows, chosen, typed, "Type its kilos", hint="")
    return ListText(rows, chosen, typed, f"Add {formats.kg(grams)} kg of {found.name}", True)


def _ingredient_row(row: Ingredient, grams: int, chosen: str, formats: Formats) -> RowText:
    price = f"{formats.money(row.price)} a kilo"
    return RowText(
        row.key,
        row.name,
        formats.kg(grams) if grams else "",
        price,
        "",
        f"Contains {row.allergens}" if row.allergens else "no allergens noted",
        taken="in the blend" if grams else "",
        chosen=row.key == chosen,
    )


def products_text(shelf: Shelf, draft: Draft) -> ListText:
    """What a blend may make: the species of what is in it first."""
    inside = {shelf.pieces[p.piece].cut.species for p in draft.takes if p.piece in shelf.pieces}
    cuts = sorted(shelf.products, key=lambda cut: bool(inside) and cut.species not in inside)
    rows = tuple(
        RowText(cut.key, cut.name, "", cut.species, "", "", chosen=cut.key == draft.product)
        for cut in cuts
    )
    return ListText(rows)


def law_sentences(
    found: Information, formats: Formats, lean: Decimal | None = None
) -> tuple[str, ...]:
    """The limits on file with their sources, and how to take them; first the blend's own fat."""
    limits = tuple(
        f"{limit.sentence} Source: {limit.source}; act of {limit.dated}." for limit in found.limits
    )
    own = () if lean is None else (f"The meat in this blend has {_fat(lean, formats)} fat.",)
    first = f"On file for {found.country}. {found.sentence}" if limits else found.sentence
    return (first, *own, *limits)


def _fat(lean: Decimal, formats: Formats) -> str:
    return percent(100 - lean, formats, 2)


def lot_text(lot: str, use_by: date | None, formats: Formats) -> str:
    """A lot with its date, for a list."""
    return f"lot {lot}" + (f", use by {formats.short_day(use_by)}" if use_by else "")
