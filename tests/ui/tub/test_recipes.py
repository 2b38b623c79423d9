"""Recipes, lean targets and legal limits at the Tub."""

from __future__ import annotations

from dataclasses import replace

from gambrel.services.books import Book
from gambrel.services.tub import recipes
from gambrel.ui.theme import Meaning
from gambrel.ui.tub.blend_view import LAW, RECIPES, TARGET
from gambrel.ui.tub.place import TubPlace
from gambrel.ui.tub.view import BLEND
from tests.ui.tub.hands import said, take, tap


def test_a_recipe_is_laid_out_for_a_batch(place: TubPlace) -> None:
    tap(place, place.view.blend.acts[RECIPES])
    panel = place.view.recipes
    tap(place, panel.list.row("R-1"))
    for digit in "10":
        tap(place, panel.entry.keypad.keys[digit])
    tap(place, panel.entry.act)
    assert place.view.panel == BLEND
    assert place.view.blend.title.text() == "Everyday mince"
    assert place.view.blend.kilos.value == "10.000"
    # (7 × 70 + 3 × 90) / 10 = 76, within 75 to 78.
    assert place.view.blend.lean.accessibleName().endswith("fine")


def test_a_recipe_is_one_tap_from_an_empty_blend(place: TubPlace) -> None:
    blend = place.view.blend
    assert blend.ready.isVisible()
    made = blend.ready.row("R-2").accessibleName()
    blend.ready.row("R-2").click()
    assert not blend.ready.isVisible()
    assert "Thick sausages" in blend.title.text()
    assert place._context.formats.kg(place._draft.weight_g, 2) in made
    assert blend.start.isEnabled()
    blend.clear.click()
    assert blend.ready.isVisible()


def test_a_recipe_that_lacks_trim_says_what_it_lacks(place: TubPlace) -> None:
    rest = tuple(row for row in place.shelf.stock.trim if row.cut.key != "trim-90")
    stock = replace(place.shelf.stock, trim=rest)
    place._shelf = replace(place.shelf, stock=stock)
    place._show()
    place.view.blend.ready.row("R-1").click()
    assert place._draft.empty
    assert place.view.recipes.isVisible()


def test_a_recipe_is_saved_renamed_removed_and_all_of_it_undone(
    place: TubPlace, book: Book
) -> None:
    def names() -> list[str]:
        return [each.recipe.name for each in recipes(book)]

    take(place, "trim-90", "3")
    place.view.blend.acts[RECIPES].click()
    tap(place, place.view.recipes.save)
    assert "Choose first what the blend makes" in said(place)
    place.view.product.list.row("lean-mince").click()
    place.view.blend.acts[RECIPES].click()
    tap(place, place.view.recipes.save)
    place.view.save.fields[0].setText("Very lean")
    tap(place, place.view.save.act)
    assert names() == ["Everyday mince", "Thick sausages", "Very lean"]
    tap(place, place.view.banner.action)
    assert names() == ["Everyday mince", "Thick sausages"]
    place.view.blend.acts[RECIPES].click()
    place.view.recipes.list.row("R-1").click()
    place.view.recipes.name.setText("Sunday mince")
    tap(place, place.view.recipes.rename)
    assert names() == ["Sunday mince", "Thick sausages"]
    tap(place, place.view.banner.action)
    assert names() == ["Everyday mince", "Thick sausages"]
    tap(place, place.view.recipes.remove)
    assert names() == ["Thick sausages"]
    tap(place, place.view.banner.action)
    assert names() == ["Everyday mince", "Thick sausages"]
    assert [line.grams_per_kg for line in recipes(book)[0].lines] == [700, 300]


def test_a_lean_target_is_found_and_taken(place: TubPlace) -> None:
    tap(place, place.view.blend.acts[TARGET])
    panel = place.view.target
    for field, digits in ((None, "9"), ("least", "74"), ("most", "75")):
        if field:
            tap(place, panel.fields[field])
        for digit in digits:
            tap(place, panel.entry.keypad.keys[digit])
    assert panel.entry.act.text() == "Find the mix"
    tap(place, panel.entry.act)
    assert panel.answer.meaning is Meaning.FINE
    assert panel.answer.sentence.startswith("9.000 kg at 7")
    tap(place, panel.entry.act)
    assert place.view.panel == BLEND
    assert place.view.blend.kilos.value == "9.000"
    assert place.view.blend.lean.accessibleName().endswith("fine")


def test_a_target_out_of_reach_says_by_how_much(place: TubPlace) -> None:
    place.view.blend.acts[TARGET].click()
    panel = place.view.target
    panel.entry.keypad.set_text("9")
    panel.fields["least"].click()
    panel.entry.keypad.set_text("97")
    tap(place, panel.entry.act)
    assert panel.answer.meaning is Meaning.STOP
    assert "short of 97" in panel.answer.sentence
    assert place.view.blend.kilos.value == "0.000"


def test_the_law_is_information_with_its_source(place: TubPlace) -> None:
    tap(place, place.view.blend.acts[LAW])
    lines = [each.text() for each in place.view.law.lines.findChildren(type(place.view.summary))]
    assert any("not legal advice" in line for line in lines)
    assert any("1169/2011" in line for line in lines)
