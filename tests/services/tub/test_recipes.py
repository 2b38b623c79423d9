from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from gambrel.domain.refusals import Refusal, RowsRefused
from gambrel.domain.trade.around import Recipe, RecipeLine
from gambrel.services import bench, tub
from gambrel.services.tub import Portion, Written
from gambrel.storage.book import Book
from tests.blend_shop import Pieces, weigh
from tests.block_shop import Hand

SAUSAGE = Recipe("", "Plain sausages", "diced", Decimal(70), Decimal(80), Decimal("1.5"))
LINES = (
    RecipeLine("", 0, 600, cut="trim-70"),
    RecipeLine("", 0, 200, cut="trim-90"),
    RecipeLine("", 0, 150, ingredient="Rusk"),
    RecipeLine("", 0, 50, ingredient="Ice"),
)


@pytest.fixture
def written(book: Book, hand: Hand, pieces: Pieces) -> Written:
    return tub.save_recipe(book, SAUSAGE, LINES, hand.act())


def test_a_recipe_is_kept_changed_and_forgotten(book: Book, hand: Hand, written: Written) -> None:
    assert tub.recipes(book) == [written]
    assert [line.position for line in written.lines] == [1, 2, 3, 4]
    changed = replace(written.recipe, name="Breakfast sausages", lean_most=None)
    lines = [replace(LINES[0], grams_per_kg=850), written.lines[2]]
    kept = tub.save_recipe(book, changed, lines, hand.act())
    assert tub.recipes(book) == [kept]
    assert [line.recipe for line in kept.lines] == [written.recipe.key] * 2
    other = tub.save_recipe(book, replace(SAUSAGE, name="Another"), LINES, hand.act())
    assert [each.recipe.name for each in tub.recipes(book)] == ["Another", "Breakfast sausages"]
    tub.drop_recipe(book, other.recipe.key)
    assert tub.recipes(book) == [kept]
    with pytest.raises(Refusal, match="no such recipe"):
        tub.drop_recipe(book, other.recipe.key)


def test_a_recipe_that_cannot_be_is_refused_whole(book: Book, hand: Hand, written: Written) -> None:
    wrong = (*LINES[:3], RecipeLine("", 0, 40, ingredient="salt"))
    with pytest.raises(RowsRefused) as refused:
        tub.save_recipe(book, replace(SAUSAGE, name="", product="wing"), wrong, hand.act())
    assert len(refused.value.sentences) == 4
    with pytest.raises(Refusal, match="'PLAIN sausages' already"):
        tub.save_recipe(book, replace(SAUSAGE, name="PLAIN  sausages"), LINES, hand.act())
    assert tub.recipes(book) == [written]


def test_a_batch_takes_the_oldest_trim_and_whole_money(
    book: Book, hand: Hand, pieces: Pieces, written: Written
) -> None:
    stock = tub.standing_trim(book, hand.now)
    batch = tub.batch_of(stock, written, tub.ingredients(book), 15_000)
    assert batch.portions == (
        Portion(pieces.old_70, 8000),
        Portion(pieces.new_70, 1000),
        Portion(pieces.lean_90, 3000),
    )
    assert [(row.key, row.grams, row.cost) for row in batch.added] == [
        ("Rusk", 2250, 720),
        ("Ice", 750, 75),
    ]
    assert (batch.total_g, batch.meat_g) == (15_000, 12_000)
    assert (batch.lean, batch.fits) == (Decimal(75), True)
    assert (batch.allergens, batch.minutes) == (("wheat",), Decimal("22.5"))
    stage = tub.start_blend(book, batch.portions, batch.added, hand.act())
    assert bench.look(book, stage.key).on_block.input_g == 15_000
    weigh(book, hand, stage.key, "diced", 14_800)


def test_a_batch_of_all_of_the_main_trim(book: Book, hand: Hand, written: Written) -> None:
    stock = tub.standing_trim(book, hand.now)
    batch = tub.batch_of(stock, written, tub.ingredients(book))
    assert [row.grams for row in batch.scaled] == [14_000, 4667, 3500, 1167]
    assert not batch.missing
    assert tub.most_of(stock, written) == 23_333  # 14 000 / 0.6


def test_what_is_missing_is_said_and_nothing_is_taken_half(
    book: Book, hand: Hand, written: Written
) -> None:
    stock = tub.standing_trim(book, hand.now)
    batch = tub.batch_of(stock, written, tub.ingredients(book), 30_000)
    assert batch.missing == (
        "18.000 kg of Beef trim 70 is wanted and 14.000 kg stands free.",
        "6.000 kg of Beef trim 90 is wanted and 5.003 kg stands free.",
    )
    assert (batch.portions, batch.lean, batch.fits) == ((), None, None)


def test_a_batch_outside_the_recipes_lean_says_so(
    book: Book, hand: Hand, pieces: Pieces, written: Written
) -> None:
    for piece in (pieces.old_70, pieces.new_70):
        tub.measure_lean(book, piece, Decimal(60), hand.act())
    stock = tub.standing_trim(book, hand.now)
    batch = tub.batch_of(stock, written, tub.ingredients(book), 10_000)
    assert (batch.lean, batch.fits) == (Decimal("67.5"), False)
    free = Written(replace(written.recipe, lean_least=None, lean_most=None), written.lines)
    assert tub.batch_of(stock, free, tub.ingredients(book), 10_000).fits is None
