"""The blend in hand, as texts and figures, without Qt."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.bench.trim import Portion
from gambrel.ui.tub.draft import Draft, Extra, oldest_of
from gambrel.ui.tub.kept import draft_text, read_draft
from gambrel.ui.tub.shelf import Shelf
from tests.tub_shop import INGREDIENTS
from tests.ui.tub.state_shop import FORMATS, blend


def test_a_blend_knows_its_weight_its_lean_and_its_cost_to_the_cent(shelf: Shelf) -> None:
    draft = Draft(takes=(Portion("P-5", 3_000), Portion("P-7", 1_000)))
    state = blend(draft, shelf)
    assert state.kilos == "4.000"
    # (3 × 70 + 1 × 90) / 4
    assert state.lean == "75\N{NARROW NO-BREAK SPACE}%"
    cost = (shelf.costs["P-5"] * 3 + shelf.costs["P-7"]) / 4
    assert state.cost == FORMATS.per_kilo(cost)
    assert state.can_start
    assert state.cautions.startswith("Keep it cold")


def test_ingredients_and_work_raise_the_cost_and_not_the_lean(shelf: Shelf) -> None:
    takes = (Portion("P-5", 3_000),)
    seasoning = Extra(INGREDIENTS[0], 500, "L-44", date(2026, 12, 1))
    plain = Draft(takes=takes)
    draft = Draft(takes=takes, extras=(seasoning,), minutes_per_kg=Decimal(2))
    pieces = shelf.pieces
    assert draft.lean(pieces) == plain.lean(pieces) == 70
    # 3 kg of meat, 0.5 kg at 16.00 and 7 minutes at 37.50 an hour, over 3.5 kg.
    money = shelf.costs["P-5"] * 3 + 800 + Decimal(7) * 3750 / 60
    assert draft.cost_per_kilo(shelf.costs, 3750) == money / Decimal("3.5")
    state = blend(draft, shelf)
    assert state.allergens == "mustard, celery"
    assert "Clean down after it: mustard and celery." in state.cautions
    assert state.lines[-1].strong == "mustard, celery"
    assert state.lines[-1].under == "lot L-44 · use by 1 Dec · $8.00"


def test_a_lean_that_is_not_known_is_not_guessed(shelf: Shelf) -> None:
    draft = Draft(takes=(Portion("P-5", 1_000), Portion("P-3", 1_000)), lean_least=Decimal(80))
    state = blend(draft, shelf)
    assert state.lean == "—"
    assert state.lean_mark == "info"


@pytest.mark.parametrize(
    ("least", "most", "mark"),
    [
        (69, 71, "fine"),
        (71, None, "watch"),
        (None, 69, "watch"),
        (None, None, ""),
        (70, 70, "fine"),
    ],
)
def test_the_lean_is_marked_against_its_target(
    shelf: Shelf, least: int | None, most: int | None, mark: str
) -> None:
    bounds = [None if bound is None else Decimal(bound) for bound in (least, most)]
    draft = Draft(takes=(Portion("P-5", 1_000),), lean_least=bounds[0], lean_most=bounds[1])
    assert blend(draft, shelf).lean_mark == mark


def test_another_species_wants_washing_first(shelf: Shelf) -> None:
    lamb = Draft(takes=(Portion("P-9", 1_000),))
    assert blend(lamb, shelf).cautions.startswith("Lamb after beef: wash mincer, tubs and hands")
    assert "wash" not in blend(lamb, shelf, before="lamb").cautions
    assert blend(Draft(), shelf).cautions == ""


def test_taking_of_a_class_replaces_what_was_taken_of_it(shelf: Shelf) -> None:
    row = shelf.stock.of_cut("trim-70")
    assert row is not None
    draft = Draft(takes=(Portion("P-7", 500), Portion("P-5", 1_000)))
    draft = draft.taking(row, [Portion("P-6", 200)])
    assert draft.by_piece == {"P-7": 500, "P-6": 200}
    assert draft.without("trim-70", shelf.pieces).by_piece == {"P-7": 500}


def test_what_another_station_took_is_no_longer_in_the_blend(shelf: Shelf) -> None:
    draft = Draft(takes=(Portion("P-8", 9_000), Portion("gone", 100), Portion("P-2", 50)))
    # P-8 has 8 000 g left, "gone" does not stand, and P-2 is past the shop's limit.
    assert draft.standing(shelf.pieces).by_piece == {"P-8": 8_000}


@given(grams=st.integers(1, 40_000))
def test_the_oldest_are_taken_first_and_never_more_than_there_is(shelf: Shelf, grams: int) -> None:
    found = dict(oldest_of([("trim-70", grams)], shelf.classes))
    assert sum(found.values()) == min(grams, 12_370)
    assert "P-1" not in found
    assert "P-6" not in found or found["P-5"] == 7_350


def test_a_blend_is_kept_and_read_back_whole() -> None:
    draft = Draft(
        recipe="R-1",
        name="Café “Éclair”",
        product="mince",
        takes=(Portion("P-5", 3_000),),
        wished=(("trim-70", 3_100),),
        extras=(
            Extra(INGREDIENTS[0], 500, "L-44", date(2026, 12, 1)),
            Extra(INGREDIENTS[2], 10),
        ),
        lean_least=Decimal("74.5"),
        minutes_per_kg=Decimal("1.5"),
    )
    known = {each.key: each for each in INGREDIENTS}
    assert read_draft(draft_text(draft), known) == draft
    gone = read_draft(draft_text(draft), {"salt": INGREDIENTS[2]})
    assert [extra.ingredient.key for extra in gone.extras] == ["salt"]
    assert draft_text(Draft()) == ""


@pytest.mark.parametrize(
    "text",
    ["", "{", "[]", "null", "1", '{"recipe": ""}', draft_text(Draft(name="x")).replace("0", "?")],
)
def test_what_cannot_be_read_back_is_an_empty_blend(text: str) -> None:
    assert read_draft(text, {}) == Draft()
