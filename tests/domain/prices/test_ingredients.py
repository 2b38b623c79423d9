"""Allergens stand out in bold, and none is lost."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.prices.ingredients import ingredient_runs


def bold(runs: tuple[tuple[str, bool], ...]) -> list[str]:
    return [words for words, is_bold in runs if is_bold]


def plain(runs: tuple[tuple[str, bool], ...]) -> str:
    return "".join(words for words, _ in runs)


def test_allergens_are_bold_where_they_stand() -> None:
    runs = ingredient_runs("Pork (85 %), Wheat crumb, salt, buckwheat, MUSTARD", "wheat, mustard")
    assert bold(runs) == ["Wheat", "MUSTARD"]
    assert plain(runs) == "Ingredients: Pork (85 %), Wheat crumb, salt, buckwheat, MUSTARD."


def test_an_allergen_that_is_not_in_the_list_is_named_behind_it() -> None:
    runs = ingredient_runs("Pork, rusk", "sulphites, wheat")
    assert plain(runs) == "Ingredients: Pork, rusk. Contains sulphites, wheat."
    assert bold(runs) == ["sulphites", "wheat"]


@pytest.mark.parametrize(
    ("ingredients", "allergens", "said"),
    [
        ("", "", ""),
        ("  ", " , ", ""),
        ("", "milk", "Contains milk."),
        ("Beef.", "", "Ingredients: Beef."),
        ("Milk powder, milk", "milk powder, milk", "Ingredients: Milk powder, milk."),
    ],
)
def test_what_is_said(ingredients: str, allergens: str, said: str) -> None:
    assert plain(ingredient_runs(ingredients, allergens)) == said


words = st.text("abcdefgh ", min_size=1, max_size=12)


@given(words=words, named=st.lists(words, max_size=4))
def test_no_word_and_no_allergen_is_lost(words: str, named: list[str]) -> None:
    runs = ingredient_runs(words, ",".join(named))
    if words.strip():
        assert words.strip() in plain(runs)
    for word in named:
        if word.strip():
            # Two that overlap share their letters; each is bold in whole or within a longer one.
            assert any(
                re.search(rf"(?<!\w){re.escape(word.strip())}(?!\w)", each, re.IGNORECASE)
                for each in bold(runs)
            ) or _overlapped(word.strip(), named, plain(runs))


def _overlapped(word: str, named: list[str], said: str) -> bool:
    return word in said and any(word != each.strip() and each.strip() in said for each in named)
