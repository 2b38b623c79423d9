"""Lean targets, as texts, without Qt."""

from __future__ import annotations

import pytest

from gambrel.domain.bench.lean import Prefer
from gambrel.domain.refusals import Refusal
from gambrel.services.tub import lean_stock, plan_lean
from gambrel.ui.tub.aiming import plan_for
from gambrel.ui.tub.shelf import Shelf
from gambrel.ui.tub.target_state import KILOS, LEAST, MOST, Aim, describe_target, target_of
from tests.ui.tub.state_shop import FORMATS


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
