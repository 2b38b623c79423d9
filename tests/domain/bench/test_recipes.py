from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.bench.recipes import (
    ingredient_cost,
    largest_batch,
    main_line,
    missing,
    refuse_if_unfit,
    scale_to_batch,
    scale_to_main,
)
from gambrel.domain.refusals import Refusal, RowsRefused
from gambrel.domain.trade.around import Ingredient, Recipe, RecipeLine
from tests.trades import CUTS

BY_KEY = {cut.key: cut for cut in CUTS} | {"trim-90": replace(CUTS[2], key="trim-90", name="Lean")}
SAUSAGE = Recipe("r1", "Plain sausages", "mince", Decimal(70), Decimal(80), Decimal("1.5"))
LINES = (
    RecipeLine("r1", 1, 620, cut="mince-trim"),
    RecipeLine("r1", 2, 200, cut="trim-90"),
    RecipeLine("r1", 3, 100, ingredient="crumb"),
    RecipeLine("r1", 4, 80, ingredient="ice"),
)


def faults(recipe: Recipe = SAUSAGE, lines: tuple[RecipeLine, ...] = LINES) -> str:
    with pytest.raises(RowsRefused) as refused:
        refuse_if_unfit(recipe, lines, BY_KEY, {"crumb", "ice"})
    return " ".join(refused.value.sentences)


def test_a_sound_recipe_passes() -> None:
    refuse_if_unfit(SAUSAGE, LINES, BY_KEY, {"crumb", "ice"})


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"name": " "}, "needs a name"),
        ({"product": "wing"}, "makes a cut of the catalogue"),
        ({"product": "bone"}, "makes a cut of the catalogue"),
        ({"lean_least": Decimal(81)}, "least lean is above the most"),
        ({"lean_most": Decimal(101)}, "between 0 and 100"),
        ({"lean_most": Decimal("75.001"), "lean_least": None}, "to a hundredth"),
        ({"minutes_per_kg": Decimal(-1)}, "0 to 60 minutes"),
    ],
)
def test_a_head_that_cannot_be_is_said(change: dict[str, object], said: str) -> None:
    assert said in faults(replace(SAUSAGE, **change))  # type: ignore[arg-type]  # named by hand


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        (LINES[2:], "takes trim"),
        (LINES[:3], "920 g of a kilo of batch: 80 g missing"),
        ((*LINES, RecipeLine("r1", 5, 1, cut="rump")), "1001 g of a kilo of batch: 1 g too much"),
        ((*LINES, RecipeLine("r1", 5, 1, cut="rump")), "'rump' is no trim"),
        ((*LINES, RecipeLine("r1", 5, 1, ingredient="salt")), "no ingredient 'salt'"),
        ((*LINES, RecipeLine("r1", 5, 1, "trim-90", "ice")), "either trim or an ingredient"),
        ((*LINES, RecipeLine("r1", 5, 1)), "either trim or an ingredient"),
        ((*LINES, RecipeLine("r1", 5, 1, "trim-90")), "stands in two lines"),
        ((*LINES, RecipeLine("r1", 5, 0, "trim-90")), "weighs more than nothing"),
    ],
)
def test_lines_that_cannot_be_are_said(lines: tuple[RecipeLine, ...], said: str) -> None:
    assert said in faults(lines=lines)


def test_a_recipe_scaled_to_a_batch_and_to_its_main_trim() -> None:
    assert [row.grams for row in scale_to_batch(LINES, 12_345)] == [7654, 2469, 1234, 988]
    assert main_line(LINES) is LINES[0]
    # 5 kg of 620: 200/620, 100/620 and 80/620 of it are 1612.9, 806.45 and 645.16 g.
    assert [row.grams for row in scale_to_main(LINES, 5000)] == [5000, 1613, 806, 645]
    for batch in (0, -1, 10_000_001):
        with pytest.raises(Refusal, match="batch weighs"):
            scale_to_batch(LINES, batch)
    with pytest.raises(Refusal, match="main trim stands free"):
        scale_to_main(LINES, 0)


def test_what_is_missing_is_named() -> None:
    scaled = scale_to_batch(LINES, 10_000)
    assert missing(scaled, {"mince-trim": 6200, "trim-90": 1500}, BY_KEY) == [
        "2.000 kg of Lean is wanted and 1.500 kg stands free."
    ]
    assert missing(scaled, {"mince-trim": 6200, "trim-90": 2000}, BY_KEY) == []


def test_an_ingredient_costs_whole_minor_units() -> None:
    assert ingredient_cost(Ingredient("crumb", "Crumb", 319), 1250) == 399  # 3.9875


@st.composite
def kilos_of_lines(draw: st.DrawFn) -> tuple[RecipeLine, ...]:
    marks = sorted(draw(st.sets(st.integers(1, 999), min_size=1, max_size=5)))
    parts = [b - a for a, b in zip([0, *marks], [*marks, 1000], strict=True)]
    trims = draw(st.integers(1, len(parts)))
    return tuple(
        RecipeLine("r", n, grams, *((f"t{n}", "") if n < trims else ("", f"i{n}")))
        for n, grams in enumerate(parts)
    )


@given(kilos_of_lines(), st.integers(1, 10_000_000))
def test_a_batch_sums_to_a_gram_and_each_line_is_within_a_gram(
    lines: tuple[RecipeLine, ...], batch: int
) -> None:
    scaled = scale_to_batch(lines, batch)
    assert sum(row.grams for row in scaled) == batch
    for row in scaled:
        assert abs(row.grams - Fraction(batch * row.line.grams_per_kg, 1000)) < 1


@given(kilos_of_lines(), st.data())
def test_the_largest_batch_can_be_made_and_a_kilo_more_cannot(
    lines: tuple[RecipeLine, ...], data: st.DataObject
) -> None:
    free = {line.cut: data.draw(st.integers(0, 9000)) for line in lines if line.cut}
    cuts = {key: replace(CUTS[2], key=key) for key in free}
    batch = largest_batch(lines, free)
    if batch:
        assert missing(scale_to_batch(lines, batch), free, cuts) == []
    # A kilo more takes a gram more of the line that holds it.
    assert missing(scale_to_batch(lines, batch + 1001), free, cuts)
