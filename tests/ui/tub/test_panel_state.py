"""Recipes, ingredients and products, as texts, without Qt."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

from gambrel.domain.bench.legal import information
from gambrel.domain.bench.trim import Portion
from gambrel.services.tub import batch_of
from gambrel.ui.tub.draft import Draft, Extra, of_recipe
from gambrel.ui.tub.panel_state import (
    bounds_text,
    ingredients_text,
    law_sentences,
    products_text,
    ready_draft,
    ready_grams,
    ready_rows,
    recipe_of,
    recipes_text,
)
from gambrel.ui.tub.panels import next_day
from gambrel.ui.tub.shelf import Shelf
from tests.tub_shop import INGREDIENTS
from tests.ui.tub.state_shop import FORMATS, blend


def test_a_recipe_is_laid_out_as_far_as_it_stands_free(shelf: Shelf) -> None:
    written = shelf.recipe("R-1")
    assert written is not None
    batch = batch_of(shelf.stock, written, shelf.ingredients, 30_000)
    draft = of_recipe(written.recipe, batch.scaled, shelf.classes, {})
    state = blend(draft, shelf)
    rows = {row.key: row for row in state.lines}
    assert rows["cut:trim-70"].word == "8.630 kg short"
    assert rows["cut:trim-90"].kilos == "6.400"
    assert rows["cut:trim-90"].word == "2.600 kg short"
    assert (state.title, state.product) == ("Everyday mince", "Beef mince")


def test_a_blend_saved_as_a_recipe_gives_the_same_blend_again(shelf: Shelf) -> None:
    draft = Draft(
        product="mince",
        takes=(Portion("P-5", 6_000), Portion("P-7", 3_000)),
        extras=(Extra(INGREDIENTS[2], 1_000),),
    )
    recipe, lines = recipe_of(draft, "Ours", shelf)
    assert [(line.cut, line.ingredient, line.grams_per_kg) for line in lines] == [
        ("trim-70", "", 600),
        ("trim-90", "", 300),
        ("", "salt", 100),
    ]
    assert (recipe.name, recipe.product) == ("Ours", "mince")


def test_recipes_say_what_they_would_take(shelf: Shelf) -> None:
    written = shelf.recipe("R-2")
    assert written is not None
    batch = batch_of(shelf.stock, written, shelf.ingredients, 10_000)
    text = recipes_text(shelf, "R-2", "10", batch.scaled, "", FORMATS)
    assert text.act == "Lay out 10.000 kg"
    assert text.hint.startswith("Beef trim 70 8.900 · Sausage seasoning 0.400")
    assert [row.chosen for row in text.rows] == [False, True]
    assert not recipes_text(shelf, "", "", (), "", FORMATS).can_act


def test_recipes_that_can_be_made_now_stand_first_with_kilos_and_cost(shelf: Shelf) -> None:
    usable = {row.cut.key: row.usable_g for row in shelf.stock.trim}
    for written, row in zip(shelf.recipes, ready_rows(shelf, FORMATS), strict=True):
        grams = ready_grams(shelf, written)
        draft = ready_draft(shelf, written, grams)
        # As much as the scarcest trim allows, to a gram of rounding, and never more of any.
        least = min(usable[li.cut] * 1000 // li.grams_per_kg for li in written.lines if li.cut)
        assert grams == least > 0
        assert all(g <= usable[cut] for cut, g in draft.grams_of(shelf.pieces).items())
        assert draft.weight_g == grams
        assert row.name == written.recipe.name
        assert row.kilos == FORMATS.kg(grams, 2)
        cost = draft.cost_per_kilo(shelf.costs, shelf.stock.trade.shop.work_per_hour)
        assert row.under.endswith(f"{FORMATS.per_kilo(cost)} a kilo")


def test_a_recipe_without_its_trim_stands_last_and_says_why(shelf: Shelf) -> None:
    first, second = shelf.recipes
    lines = tuple(replace(li, cut="trim-none" if li.cut else "") for li in first.lines)
    without = replace(shelf, recipes=(replace(first, lines=lines), second))
    rows = ready_rows(without, FORMATS)
    assert [row.name for row in rows] == [second.recipe.name, first.recipe.name]
    assert (rows[1].kilos, rows[1].word) == ("", "not enough trim stands free")


def test_bounds_of_lean_in_words() -> None:
    gap = "\N{NARROW NO-BREAK SPACE}"
    assert bounds_text(Decimal(75), Decimal(78), FORMATS) == f"from 75{gap}% to 78{gap}% lean"
    assert bounds_text(Decimal(75), Decimal(75), FORMATS) == f"75{gap}% lean"
    assert bounds_text(None, None, FORMATS) == ""


def test_ingredients_name_their_allergens(shelf: Shelf) -> None:
    draft = Draft(extras=(Extra(INGREDIENTS[0], 500),))
    text = ingredients_text(shelf, draft, "crumb", "0.25", FORMATS)
    words = {row.key: (row.word, row.taken) for row in text.rows}
    assert words["seasoning"] == ("Contains mustard, celery", "in the blend")
    assert words["salt"] == ("no allergens noted", "")
    assert (text.act, text.can_act) == ("Add 0.250 kg of Crumb", True)
    assert not ingredients_text(shelf, draft, "crumb", "", FORMATS).can_act


def test_what_blends_made_before_stands_first_and_other_species_last(shelf: Shelf) -> None:
    lamb = Draft(takes=(Portion("P-9", 1_000),))
    assert products_text(shelf, Draft()).rows[0].key == "mince"
    assert products_text(shelf, lamb).rows[0].key == "lamb-mince"


def test_limits_come_with_their_source_and_are_no_advice() -> None:
    first, own, *limits = law_sentences(information("IE", {"beef"}), FORMATS, Decimal(76))
    assert first.startswith("On file for IE. Information, not legal advice")
    assert own == "The meat in this blend has 24\N{NARROW NO-BREAK SPACE}% fat."
    assert any("fat at most 20 %" in limit and "1169/2011" in limit for limit in limits)
    assert law_sentences(information("ZZ"), FORMATS) == (information("ZZ").sentence,)


def test_a_use_by_steps_from_today_and_never_before() -> None:
    today = date(2026, 11, 21)
    assert next_day(None, 0, today) is None
    assert next_day(None, 1, today) == today
    assert next_day(today, 1, today) == today + timedelta(days=1)
    assert next_day(today, -1, today) == today
