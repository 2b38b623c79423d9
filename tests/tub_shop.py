"""A small invented shop with trim of several classes and ages, for tests of the tub."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal

from gambrel.domain.bench.shop_limits import TRIM_AGE
from gambrel.domain.trade.around import CutLean, Ingredient, Recipe, RecipeLine
from gambrel.domain.trade.catalogue import Cut, CutKind, Supplier
from gambrel.domain.trade.records import Body, Input, Piece, Source, Stage, StageKind
from gambrel.services.shop_limits import set_country, set_limit
from gambrel.storage.book import Book
from tests.trades import a_shop

NOW = datetime(2026, 11, 20, 23, 20, tzinfo=UTC)
"""10:20 on Saturday 21 November at the shop."""

DAY = timedelta(days=1)

CUTS = (
    Cut("rump", "Rump", "beef", CutKind.TRAY, 2799, 30, shelf_life_days=5),
    Cut("mince", "Beef mince", "beef", CutKind.TRAY, 1499, 50, shelf_life_days=2),
    Cut("lean-mince", "Lean beef mince", "beef", CutKind.TRAY, 1899, 50, shelf_life_days=2),
    Cut("sausages", "Beef sausages", "beef", CutKind.TRAY, 1499, 55, shelf_life_days=3),
    Cut("lamb-mince", "Lamb mince", "lamb", CutKind.TRAY, 1999, 50, shelf_life_days=2),
    Cut("trim-90", "Beef trim 90", "beef", CutKind.TRIM, 1300, shelf_life_days=5),
    Cut("trim-70", "Beef trim 70", "beef", CutKind.TRIM, 900, shelf_life_days=5),
    Cut("trim-50", "Beef trim 50", "beef", CutKind.TRIM, 500, shelf_life_days=5),
    Cut("lamb-trim", "Lamb trim 80", "lamb", CutKind.TRIM, 1100, shelf_life_days=5),
    Cut("bone", "Beef bone", "beef", CutKind.BYPRODUCT, credit=10),
)

INGREDIENTS = (
    Ingredient("seasoning", "Sausage seasoning", 1600, "mustard, celery"),
    Ingredient("crumb", "Crumb", 320, "wheat"),
    Ingredient("salt", "Salt", 90),
)

RECIPES = (
    (
        Recipe("R-1", "Everyday mince", "mince", Decimal(75), Decimal(78), Decimal("1.5")),
        (RecipeLine("R-1", 1, 700, "trim-70"), RecipeLine("R-1", 2, 300, "trim-90")),
    ),
    (
        Recipe("R-2", "Thick sausages", "sausages", None, Decimal(80), Decimal(3)),
        (
            RecipeLine("R-2", 1, 890, "trim-70"),
            RecipeLine("R-2", 2, 40, ingredient="seasoning"),
            RecipeLine("R-2", 3, 60, ingredient="crumb"),
            RecipeLine("R-2", 4, 10, ingredient="salt"),
        ),
    ),
)

BODIES = (
    Body("HQ-1", "beef", "hindquarter", "longbarn", NOW - 8 * DAY, 80_000, 1005),
    Body("FQ-2", "beef", "forequarter", "longbarn", NOW - 8 * DAY, 70_000, 795),
    Body("LAMB-3", "lamb", "whole", "longbarn", NOW - 6 * DAY, 24_000, 1060),
)

_PIECES = (
    # key, stage, cut, grams, days ago
    ("P-1", "S-1", "trim-70", 4_200, 4),
    ("P-2", "S-1", "trim-90", 3_150, 4),
    ("P-3", "S-1", "rump", 6_000, 4),
    ("P-4", "S-1", "bone", 20_000, 4),
    ("P-5", "S-2", "trim-70", 7_350, 2),
    ("P-6", "S-2", "trim-70", 5_020, 2),
    ("P-7", "S-2", "trim-90", 6_400, 2),
    ("P-8", "S-2", "trim-50", 8_000, 2),
    ("P-9", "S-3", "lamb-trim", 2_760, 1),
    ("P-10", "S-4", "mince", 1_900, 3),
    ("P-11", "S-4", "mince", 2_000, 1),
)

STAGES = (
    ("S-1", StageKind.BREAK, 4, ("HQ-1", Source.BODY, None)),
    ("S-2", StageKind.BREAK, 2, ("FQ-2", Source.BODY, None)),
    ("S-3", StageKind.BREAK, 1, ("LAMB-3", Source.BODY, None)),
    ("S-4", StageKind.BLEND, 3, ("P-1", Source.PIECE, 4_000)),
)


def fill(book: Book, *, trim: bool = True) -> None:
    """Give a new book this shop; without ``trim`` nothing has been broken yet."""
    with book.transaction() as work:
        work.set_shop(a_shop(name="Tub test butchers"))
        work.add([Supplier("longbarn", "Longbarn Cattle"), *CUTS, *BODIES])
        for ingredient in INGREDIENTS:
            work.put(ingredient)
        for cut, percent in (("trim-90", 90), ("trim-70", 70), ("trim-50", 50), ("lamb-trim", 80)):
            work.put(CutLean(cut, Decimal(percent)))
        for recipe, lines in RECIPES:
            work.put_recipe(recipe, lines)
        if trim:
            work.add([*_stages(), *_inputs(), *_pieces()])
    set_limit(book, TRIM_AGE, "3")
    set_country(book, "IE")


def _stages() -> list[Stage]:
    return [
        Stage(key, kind, NOW - ago * DAY - DAY / 12, NOW - ago * DAY + DAY / 12, "Ana", Decimal(30))
        for key, kind, ago, _ in STAGES
    ]


def _inputs() -> list[Input]:
    return [Input(key, source, taken, grams) for key, _, _, (taken, source, grams) in STAGES]


def _pieces() -> list[Piece]:
    rows = [
        Piece(key, stage, cut, grams, 0, NOW - ago * DAY, "Ana", "1")
        for key, stage, cut, grams, ago in _PIECES
    ]
    return [row if row.key != "P-11" else row._replace(weighed_at=NOW - DAY) for row in rows]


def with_long_names(book: Book) -> None:
    """Give the catalogue names and weights that hardly fit."""
    long = "Trim of the forequarter, sorted by hand to ninety parts lean"
    with book.transaction() as work:
        for recipe, lines in RECIPES:
            work.put_recipe(
                replace(recipe, name=f"{recipe.name} the way grandmother made it"), lines
            )
        work.add([Cut("long", long, "beef", CutKind.TRIM, 123_456, shelf_life_days=5)])
        work.add([Body("BIG", "beef", "carton", "longbarn", NOW - 3 * DAY, 9_000_000, 99_999)])
        work.add(
            [
                Stage("S-9", StageKind.BREAK, NOW - DAY, NOW, "Ana", Decimal(30)),
                Input("S-9", Source.BODY, "BIG"),
                Piece("P-90", "S-9", "long", 490_000, 0, NOW - DAY / 2, "Ana", "1"),
            ]
        )
