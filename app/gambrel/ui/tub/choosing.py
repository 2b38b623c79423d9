"""What people do at the panels of recipes, ingredients, products and the law."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from gambrel.domain.bench.legal import information
from gambrel.domain.bench.recipes import Scaled
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import Ingredient
from gambrel.domain.trade.clock import business_day
from gambrel.services.tub import Written, batch_of, drop_recipe, save_ingredient, save_recipe
from gambrel.ui.context import Context
from gambrel.ui.theme import Meaning
from gambrel.ui.tub.blend_state import CUT, INGREDIENT
from gambrel.ui.tub.blend_view import EXTRAS, LAW, PRODUCT, RECIPES, SAVE
from gambrel.ui.tub.draft import Draft, Extra, of_recipe
from gambrel.ui.tub.panel_state import (
    ingredients_text,
    law_sentences,
    products_text,
    ready_draft,
    ready_grams,
    recipe_of,
    recipes_text,
)
from gambrel.ui.tub.panels import next_day
from gambrel.ui.tub.picking import typed_grams
from gambrel.ui.tub.taking import Taking
from gambrel.ui.tub.trim_view import TRAYS, TRIM
from gambrel.ui.tub.view import BLEND, NEW


class Choosing(Taking):
    """Fills the blend from what is written down."""

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self._recipe = ""
        self._batch = ""
        self._extra = ""
        self._extra_typed = ""
        self._extra_day: date | None = None
        view = self.view
        view.blend.panel_wanted.connect(self._open_panel)
        view.blend.line_tapped.connect(self._tap_line)
        view.blend.recipe_tapped.connect(self._lay_out_now)
        view.blend.clear_wanted.connect(lambda: self._change(Draft()))
        for panel in (view.recipes, view.extras, view.law, view.product, view.save):
            panel.closed.connect(lambda: self._open_panel(BLEND))
        view.new.closed.connect(lambda: self._open_panel(EXTRAS))
        view.recipes.tapped.connect(self._choose_recipe)
        view.recipes.typed.connect(self._type_batch)
        view.recipes.acted.connect(self._lay_out)
        view.recipes.rename_wanted.connect(self._rename)
        view.recipes.remove_wanted.connect(self._remove)
        view.recipes.save_wanted.connect(lambda: self._open_panel(SAVE))
        view.extras.tapped.connect(self._choose_extra)
        view.extras.typed.connect(self._type_extra)
        view.extras.day_stepped.connect(self._step_day)
        view.extras.acted.connect(self._add_extra)
        view.extras.remove_wanted.connect(self._take_extra_out)
        view.extras.new_wanted.connect(lambda: self._open_panel(NEW))
        view.new.acted.connect(self._write_ingredient)
        view.product.tapped.connect(self._choose_product)
        view.save.acted.connect(lambda texts: self._save(texts[0]))

    def _open_panel(self, key: str) -> None:
        if key == SAVE:
            product = self.shelf.cuts.get(self._draft.product)
            if product is None:
                self._say(Meaning.INFO, self.tr("Choose first what the blend makes."))
                key = PRODUCT
            else:
                more = self.tr("It makes {0}; its lines are scaled to a kilo.")
                self.view.save.open([self._draft.name], more.format(product.name))
        if key == NEW:
            more = self.tr("Allergens as on the pack. Other countries' lists differ.")
            self.view.new.open(["", "", ""], more)
        super()._open_panel(key)

    def _show_panel(self) -> None:
        formats, shelf = self._context.formats, self.shelf
        if self._panel == RECIPES:
            written = shelf.recipe(self._recipe)
            scaled, wrong = self._scaled(written)
            text = recipes_text(shelf, self._recipe, self._batch, scaled, wrong, formats)
            name = written.recipe.name if written else ""
            can_save = bool(self._draft.takes or self._draft.wished)
            self.view.recipes.show_recipes(text, name, can_save=can_save)
        elif self._panel == EXTRAS:
            self._show_extras()
        elif self._panel == PRODUCT:
            self.view.product.show_list(products_text(shelf, self._draft))
        elif self._panel == LAW:
            species = {shelf.pieces[portion.piece].cut.species for portion in self._draft.takes}
            found = information(shelf.stock.limits.country, species)
            lean = self._draft.lean(shelf.pieces)
            self.view.law.lines.show_sentences(law_sentences(found, formats, lean))

    def _tap_line(self, line: str) -> None:
        kind, _, key = line.partition(":")
        if f"{kind}:" == INGREDIENT:
            self._open_panel(EXTRAS)
            self._choose_extra(key)
        elif f"{kind}:" == CUT:
            trays = any(row.cut.key == key for row in self.shelf.stock.trays)
            self._shelf_shown = TRAYS if trays else TRIM
            self.open_class(key)

    # --- Recipes ---

    def _scaled(self, written: Written | None) -> tuple[Sequence[Scaled], str]:
        """The chosen recipe's lines in grams; and why not, or what there is not enough of."""
        if written is None:
            return (), ""
        grams = typed_grams(self._batch) or None
        try:
            batch = batch_of(self.shelf.stock, written, self.shelf.ingredients, grams)
        except Refusal as refusal:
            return (), str(refusal)
        return batch.scaled, " ".join(batch.missing)

    def _choose_recipe(self, key: str) -> None:
        self._recipe, self._batch = key, ""
        self._show()

    def _type_batch(self, text: str) -> None:
        if text != self._batch:
            self._batch = text
            self._show()

    def _lay_out(self) -> None:
        shelf = self.shelf
        written = shelf.recipe(self._recipe)
        scaled, _ = self._scaled(written)
        if written is None or not scaled:
            return
        known = {each.key: each for each in shelf.ingredients}
        self._panel = BLEND
        self.view.show_panel(BLEND)
        self._quiet()
        self._change(of_recipe(written.recipe, scaled, shelf.classes, known))

    def _lay_out_now(self, key: str) -> None:
        """Lay out as much of a recipe as can be made now; else show what it lacks."""
        written = self.shelf.recipe(key)
        if written is None:
            return
        grams = ready_grams(self.shelf, written)
        if not grams:
            self._open_panel(RECIPES)
            self._choose_recipe(key)
            return
        self._quiet()
        self._change(ready_draft(self.shelf, written, grams))

    def _save(self, name: str) -> None:
        recipe, lines = recipe_of(self._draft, name, self.shelf)
        try:
            written = save_recipe(self._book, recipe, lines, self._act())
        except Refusal as refusal:
            self._failed(refusal)
            return
        key = written.recipe.key
        done = self.tr("{0} is kept among the recipes.").format(written.recipe.name)
        self._say(Meaning.FINE, done, lambda: self._drop(key))
        self._hold(replace(self._draft, recipe=key, name=written.recipe.name))
        self._open_panel(BLEND)
        self._context.changes.tell("recipes")

    def _rename(self, name: str) -> None:
        written = self.shelf.recipe(self._recipe)
        if written is not None and self._write(written, name):
            done = self.tr("The recipe is called {0} now.").format(name)
            self._say(Meaning.FINE, done, lambda: self._restore(written))

    def _remove(self) -> None:
        written = self.shelf.recipe(self._recipe)
        if written is not None and self._try(lambda: self._drop(written.recipe.key)):
            done = self.tr("{0} is no recipe any more.").format(written.recipe.name)
            self._say(Meaning.FINE, done, lambda: self._restore(written))

    def _write(self, written: Written, name: str) -> bool:
        recipe = replace(written.recipe, name=name)

        def deed() -> None:
            save_recipe(self._book, recipe, written.lines, self._act())
            self._context.changes.tell("recipes")

        return self._try(deed)

    def _restore(self, written: Written) -> None:
        save_recipe(self._book, written.recipe, written.lines, self._act())
        self._context.changes.tell("recipes")

    def _drop(self, key: str) -> None:
        drop_recipe(self._book, key)
        self._context.changes.tell("recipes")

    # --- Ingredients and product ---

    def _in_blend(self, key: str) -> Extra | None:
        return next((each for each in self._draft.extras if each.ingredient.key == key), None)

    def _show_extras(self) -> None:
        formats, found = self._context.formats, self._in_blend(self._extra)
        text = ingredients_text(self.shelf, self._draft, self._extra, self._extra_typed, formats)
        day = formats.day(self._extra_day) if self._extra_day else ""
        lot = found.lot if found else ""
        self.view.extras.show_ingredients(text, lot, day, inside=found is not None)

    def _choose_extra(self, key: str) -> None:
        found = self._in_blend(key)
        self._extra = key
        self._extra_typed = f"{found.grams / 1000:.3f}" if found else ""
        self._extra_day = found.use_by if found else None
        self._show()

    def _type_extra(self, text: str) -> None:
        if text != self._extra_typed:
            self._extra_typed = text
            self._show()

    def _step_day(self, step: int) -> None:
        today = business_day(self._context.clock(), self.shelf.stock.trade.shop)
        self._extra_day = next_day(self._extra_day, step, today)
        self._show()

    def _add_extra(self) -> None:
        ingredient = self.shelf.ingredient(self._extra)
        grams = typed_grams(self._extra_typed)
        if ingredient is None or not grams:
            return
        lot = " ".join(self.view.extras.lot.text().split())
        if self._extra_day is not None and not lot:
            self._say(Meaning.WATCH, self.tr("A date belongs to a lot. Type the lot on the pack."))
            return
        self._quiet()
        self._change(self._draft.adding(Extra(ingredient, grams, lot, self._extra_day)))
        self._open_panel(BLEND)

    def _take_extra_out(self) -> None:
        self._change(self._draft.without_extra(self._extra))

    def _write_ingredient(self, texts: list[str]) -> None:
        name, price, allergens = texts
        try:
            # Both marks are decimal marks here, as on every keypad.
            minor = self._context.formats.currency.parse(price.strip().replace(",", ".") or "0")
            kept = save_ingredient(self._book, Ingredient("", name, minor, allergens))
        except (Refusal, ValueError) as error:
            self._say(Meaning.STOP, str(error))
            return
        self._say(Meaning.FINE, self.tr("{0} is written down.").format(kept.name))
        self._extra, self._extra_typed = kept.key, ""
        self._open_panel(EXTRAS)
        self._context.changes.tell("ingredients")

    def _choose_product(self, key: str) -> None:
        self._change(replace(self._draft, product=key))
        self._open_panel(BLEND)
