"""The tub's texts and its blend in hand, without Qt."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.bench.lean import Prefer
from gambrel.domain.bench.legal import information
from gambrel.domain.bench.trim import FreeClass, Portion
from gambrel.domain.refusals import Refusal
from gambrel.services.books import Book, open_book
from gambrel.services.tub import batch_of, lean_stock, plan_lean
from gambrel.services.words import formats_for
from gambrel.ui.tub.aiming import plan_for
from gambrel.ui.tub.blend_state import Beside, BlendState, describe_blend
from gambrel.ui.tub.draft import Draft, Extra, of_recipe, oldest_of
from gambrel.ui.tub.kept import draft_text, read_draft
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
from gambrel.ui.tub.picking import Pad, Picking, typed_grams, typed_percent
from gambrel.ui.tub.shelf import Shelf, read_shelf
from gambrel.ui.tub.target_state import KILOS, LEAST, MOST, Aim, describe_target, target_of
from gambrel.ui.tub.trim_state import describe_trim, unsold
from tests import tub_shop
from tests.trades import a_shop
from tests.tub_shop import INGREDIENTS, NOW

FORMATS = formats_for(a_shop())


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    with open_book(str(Path(tmp_path_factory.mktemp("tub")) / "tub.gambrel")) as opened:
        tub_shop.fill(opened)
        yield opened


@pytest.fixture(scope="module")
def shelf(book: Book) -> Shelf:
    return read_shelf(book, NOW)


def blend(draft: Draft, shelf: Shelf, before: str = "beef") -> BlendState:
    beside = Beside(shelf.costs, shelf.cuts, 3750, before)
    return describe_blend(draft, shelf.classes, beside, FORMATS)


# --- What stands free ---


def test_classes_stand_oldest_first_and_say_how_near_their_last_day_they_are(shelf: Shelf) -> None:
    state = describe_trim(shelf.stock.trim, Picking(), FORMATS)
    assert [row.key for row in state.rows] == ["trim-70", "trim-90", "trim-50", "lamb-trim"]
    by_key = {row.key: row for row in state.rows}
    # 4 200 g of trim 70 less the 4 000 g that the old blend took are four days old.
    assert by_key["trim-70"].kilos == "12.57"
    assert (by_key["trim-70"].mark, by_key["trim-70"].word) == ("stop", "0.20 kg past the limit")
    assert (by_key["trim-50"].mark, by_key["trim-50"].word) == ("watch", "blend by tomorrow")
    assert (by_key["lamb-trim"].mark, by_key["lamb-trim"].word) == ("fine", "blend by 23 Nov")
    assert (
        by_key["trim-70"].under
        == "70\N{NARROW NO-BREAK SPACE}% lean, by class · 4 days old, 3 pieces"
    )
    assert state.summary == "29.5 kg stands free · 26.8 kg near its last day · 3.4 kg past it"


def test_trays_are_told_by_their_dates_alone(shelf: Shelf) -> None:
    state = describe_trim(shelf.stock.trays, Picking(cut="mince"), FORMATS)
    rows = {row.key: row for row in state.rows}
    assert (rows["rump"].under, rows["rump"].word) == ("4 days old", "use by tomorrow")
    assert rows["mince"].word == "1.90 kg past its use-by"
    assert state.opened is not None
    assert [row.mark for row in state.opened.rows] == ["stop", "watch"]
    assert state.opened.aside == "Work back to trim"
    assert "tap it to read what to do" in state.opened.hint


def test_trays_long_past_their_day_are_left_out_for_the_book_knows_no_sales(shelf: Shelf) -> None:
    assert [row.cut.key for row in unsold(shelf.stock.trays)] == ["mince", "rump"]
    later = read_shelf_at(shelf, 2)
    # P-10 may be used until 20 November; on the 23rd it is three days past, P-11 only one.
    (mince,) = [row for row in unsold(later) if row.cut.key == "mince"]
    assert [piece.piece.key for piece in mince.pieces] == ["P-11"]
    assert describe_trim(later, Picking(), FORMATS).summary.startswith("The book is not told")


def read_shelf_at(shelf: Shelf, days: int) -> tuple[FreeClass, ...]:
    """The trays as they stand some days later."""
    return tuple(
        replace(
            row,
            pieces=tuple(
                replace(piece, today=piece.today + timedelta(days=days)) for piece in row.pieces
            ),
        )
        for row in shelf.stock.trays
    )


@pytest.mark.parametrize(
    ("picking", "act", "can_act"),
    [
        (Picking("trim-70"), "Take all, 12.370 kg", True),
        (Picking("trim-70", typed="6.5"), "Take 6.500 kg, oldest first", True),
        (Picking("trim-70", typed="12.371"), "Take 12.371 kg, oldest first", False),
        (Picking("trim-70", frozenset({"P-5"})), "Take 1 piece, 7.350 kg", True),
        (Picking("trim-70", frozenset({"P-5", "P-6"})), "Take 2 pieces, 12.370 kg", True),
        (Picking("trim-70", frozenset({"P-5"}), "2"), "Take 2.000 kg of 1 piece", True),
        (Picking("trim-70", pad=Pad.LEAN), "Type the lean", False),
        (Picking("trim-70", typed="101", pad=Pad.LEAN), "Type the lean", False),
        (
            Picking("trim-70", typed="68.5", pad=Pad.LEAN),
            "Keep 68.50\N{NARROW NO-BREAK SPACE}% as the class of all of Beef trim 70",
            True,
        ),
        (
            Picking("trim-70", frozenset({"P-5"}), "68", Pad.LEAN),
            "Keep 68\N{NARROW NO-BREAK SPACE}% as measured of 1 chosen",
            True,
        ),
    ],
)
def test_the_act_says_what_it_would_take(
    shelf: Shelf, picking: Picking, act: str, can_act: bool
) -> None:
    opened = describe_trim(shelf.stock.trim, picking, FORMATS).opened
    assert opened is not None
    assert (opened.act, opened.can_act) == (act, can_act)


def test_more_than_stands_free_says_by_how_much(shelf: Shelf) -> None:
    opened = describe_trim(shelf.stock.trim, Picking("trim-50", typed="8.5"), FORMATS).opened
    assert opened is not None
    assert opened.hint == "0.500 kg more than stands free within its dates."


@pytest.mark.parametrize("typed", ["", ".", "0.", "x", "1.2345"])
def test_what_is_no_weight_is_none(typed: str) -> None:
    assert typed_grams(typed) == 0


def test_a_percentage_lies_between_nought_and_a_hundred() -> None:
    assert typed_percent("78.") == 78
    assert typed_percent("100") == 100
    assert typed_percent("100.01") is None
    assert typed_percent("") is None


# --- The blend in hand ---


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


# --- Recipes, ingredients, products ---


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


# --- Lean targets ---


def aim(kilos: str, least: str, most: str = "", *cuts: str, keep: bool = False) -> Aim:
    typed = ((KILOS, kilos), (LEAST, least), (MOST, most))
    return Aim(typed, cuts=frozenset(cuts), keep=keep)


def test_two_trims_and_one_lean_go_by_the_square(shelf: Shelf) -> None:
    plan = plan_for(shelf.stock, aim("10", "78", "", "trim-70", "trim-90"), {})
    # (78 − 70) : (90 − 78) = 2 : 3
    assert sorted(zip((s.key for s in plan.mix.sources), plan.mix.grams, strict=True)) == [
        ("trim-70", 6_000),
        ("trim-90", 4_000),
    ]


def test_more_trims_go_by_the_solver_within_a_point(shelf: Shelf) -> None:
    asked = aim("12", "72", "", "trim-50", "trim-70", "trim-90")
    plan = plan_for(shelf.stock, asked, {})
    assert 72 <= plan.mix.lean_percent <= 73
    text = describe_target(asked, shelf.stock.trim, plan, "", FORMATS)
    assert (text.solved, text.meaning, text.can_act) == (True, "fine", True)
    assert text.answer.startswith(f"{FORMATS.kg(plan.mix.total_g)} kg at ")


def test_what_is_in_the_blend_may_be_kept(shelf: Shelf) -> None:
    asked = aim("12", "60", "75", "trim-50", "trim-70", "trim-90", keep=True)
    plan = plan_for(shelf.stock, asked, {"trim-90": 2_000})
    grams = dict(zip((s.key for s in plan.mix.sources), plan.mix.grams, strict=True))
    assert grams["trim-90"] >= 2_000


def test_a_target_out_of_reach_says_so_in_place(shelf: Shelf) -> None:
    with pytest.raises(Refusal, match="short of 95"):
        plan_for(shelf.stock, aim("10", "95", "", "trim-70", "trim-90"), {})
    with pytest.raises(Refusal, match="No trim is chosen"):
        plan_for(shelf.stock, aim("10", "80"), {})
    text = describe_target(aim("10", "95"), shelf.stock.trim, None, "Too lean.", FORMATS)
    assert (text.answer, text.meaning, text.act) == ("Too lean.", "stop", "Find the mix")


def test_a_target_wants_kilos_and_lean() -> None:
    assert not aim("", "80").ready
    assert not aim("10", "").ready
    with pytest.raises(Refusal, match="Type the kilos"):
        target_of(aim("", "80"), 2, 10)
    assert target_of(aim("10", "99.5"), 3, 10).lean_most == 100
    assert target_of(aim("10", "80"), 2, 10).lean_most == 80


def test_the_emptied_tubs_are_named(shelf: Shelf) -> None:
    sources = lean_stock(shelf.stock, {"trim-70", "trim-90"})
    target = target_of(aim("18.77", "76", "78"), 3, 10)
    plan = plan_lean(sources, target)
    text = describe_target(aim("18.77", "76", "78"), shelf.stock.trim, plan, "", FORMATS)
    assert "It takes all of Beef trim 70 and Beef trim 90." in text.answer
    assert Aim().prefer is Prefer.CHEAPEST
