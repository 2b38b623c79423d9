from __future__ import annotations

import pytest

from gambrel.domain.bench.allergens import (
    GROUPS,
    WORDS,
    allergen_words,
    checked_allergens,
    group_of,
    together,
)
from gambrel.domain.refusals import Refusal


def test_every_word_belongs_to_one_group() -> None:
    assert len(set(WORDS)) == len(WORDS)
    assert {group_of(word) for word in WORDS} == set(GROUPS)
    assert group_of("Wheat") == group_of("rye") == "gluten"
    assert group_of("buckwheat") is None


def test_a_slip_is_refused_and_a_word_of_the_shop_is_kept() -> None:
    assert (
        checked_allergens(" wheat,milk, wheat ,buckwheat flour,") == "wheat, milk, buckwheat flour"
    )
    assert checked_allergens("") == ""
    for slip, meant in [("musterd", "mustard"), ("wheet", "wheat"), ("sulphits", "sulphites")]:
        with pytest.raises(Refusal, match=f"Did you mean '{meant}'"):
            checked_allergens(f"milk, {slip}")


def test_allergens_of_several_ingredients_stand_once() -> None:
    assert together(["wheat, milk", "", "milk, soy"]) == ("wheat", "milk", "soy")
    assert allergen_words(" , ") == ()
