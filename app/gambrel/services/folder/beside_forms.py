"""The files beside the trade: people, recipes, labels, the shop's limits. None bears on a cost.

A dump writes only those that have rows, so a book that was filled from the trade's files alone is
written as those alone. PINs and what was printed stay in the book.
"""

from __future__ import annotations

from decimal import Decimal

from gambrel.domain.trade.around import (
    CutLabel,
    CutLean,
    Ingredient,
    IngredientLot,
    Origin,
    OriginOf,
    Person,
    PieceLean,
    Recipe,
    RecipeLine,
    Setting,
)
from gambrel.services.folder.cells import (
    DAY,
    KEY,
    MOMENT,
    MONEY,
    NUMBER,
    SETTING,
    WHOLE,
    WORDS,
    choice,
)
from gambrel.services.folder.forms import FILES, Column, Form, form_of

_PEOPLE = Form(
    "people", (Column("name", KEY),), lambda values: Person(*values), lambda row: (row.name,)
)

_SETTINGS = form_of(
    "settings", Setting, ("name", Column("name", KEY)), ("value", Column("value", SETTING, ""))
)

_INGREDIENTS = form_of(
    "ingredients",
    Ingredient,
    ("key", Column("ingredient", KEY)),
    ("name", Column("name", WORDS)),
    ("price", Column("price_per_kg", MONEY)),
    ("allergens", Column("allergens", WORDS, "")),
)

_LOTS = form_of(
    "ingredient_lots",
    IngredientLot,
    ("stage", Column("stage", KEY)),
    ("key", Column("ingredient", KEY)),
    ("lot", Column("lot", KEY)),
    ("use_by", Column("use_by", DAY, None)),
)

_CUT_LEANS = form_of(
    "lean_classes",
    CutLean,
    ("cut", Column("cut", KEY)),
    ("percent", Column("lean_percent", NUMBER)),
)

_PIECE_LEANS = form_of(
    "measured_lean",
    PieceLean,
    ("piece", Column("piece", KEY)),
    ("at", Column("measured_at", MOMENT)),
    ("percent", Column("lean_percent", NUMBER)),
    ("person", Column("person", WORDS, "")),
)

_RECIPES = form_of(
    "recipes",
    Recipe,
    ("key", Column("recipe", KEY)),
    ("name", Column("name", WORDS)),
    ("product", Column("product", KEY)),
    ("lean_least", Column("lean_least_percent", NUMBER, None)),
    ("lean_most", Column("lean_most_percent", NUMBER, None)),
    ("minutes_per_kg", Column("minutes_per_kg", NUMBER, Decimal(0))),
    ("note", Column("note", WORDS, "")),
)

_RECIPE_LINES = form_of(
    "recipe_lines",
    RecipeLine,
    ("recipe", Column("recipe", KEY)),
    ("position", Column("position", WHOLE)),
    ("cut", Column("cut", KEY, "")),
    ("ingredient", Column("ingredient", KEY, "")),
    ("grams_per_kg", Column("grams_per_kg", WHOLE)),
)

_LABELS = form_of(
    "labels",
    CutLabel,
    ("cut", Column("cut", KEY)),
    ("ingredients", Column("ingredients", WORDS, "")),
    ("allergens", Column("allergens", WORDS, "")),
    ("storage", Column("storage", WORDS, "")),
    ("cooking", Column("cooking", WORDS, "")),
)

_ORIGINS = form_of(
    "origins",
    Origin,
    ("kind", Column("of", choice(OriginOf))),
    ("key", Column("key", KEY)),
    ("born", Column("born", WORDS, "")),
    ("reared", Column("reared", WORDS, "")),
    ("slaughtered", Column("slaughtered", WORDS, "")),
    ("abattoir", Column("abattoir", WORDS, "")),
    ("cut_in", Column("cut_in", WORDS, "")),
    ("plant", Column("plant", WORDS, "")),
)

BESIDE: dict[type, Form] = {
    Person: _PEOPLE,
    Ingredient: _INGREDIENTS,
    CutLean: _CUT_LEANS,
    PieceLean: _PIECE_LEANS,
    IngredientLot: _LOTS,
    Recipe: _RECIPES,
    RecipeLine: _RECIPE_LINES,
    CutLabel: _LABELS,
    Origin: _ORIGINS,
    Setting: _SETTINGS,
}
"""Every file beside the trade by its record, what is referred to first."""

ALL_FILES = (*FILES, *(form.file for form in BESIDE.values()))
"""Every file of the plain-file form, in the order in which they are refused."""
