"""What a word names: each kind by itself, several at once, forgiving."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from gambrel.domain.review.trace_keys import Known, Subject, cuts_named, subjects_named
from gambrel.domain.trade.around import Ingredient, IngredientLot
from gambrel.domain.trade.catalogue import Supplier
from gambrel.domain.trade.records import Source, Trade
from tests.trades import CUTS, Bench

KILLED = date(2026, 11, 13)


def a_trade() -> Trade:
    bench = Bench()
    one, two = bench.body(80_000, 900), bench.body(70_000, 900)
    first = bench.stage((Source.BODY, one, None))
    bench.piece(first, "rump", 5_000)
    trim = bench.piece(first, "mince-trim", 9_000)
    blend = bench.stage((Source.PIECE, trim, None))
    bench.ingredient(blend, "rusk", 200, 40)
    bench.piece(blend, "mince", 9_000)
    trade = bench.trade()
    bodies = (
        replace(trade.bodies[0], supplier_ref="NF-22", killed_on=KILLED),
        replace(trade.bodies[1], supplier="mill", supplier_ref="NF-22", killed_on=KILLED),
    )
    assert [body.key for body in bodies] == [one, two]
    suppliers = (Supplier("farm", "North Farm"), Supplier("mill", "Mill"))
    return replace(trade, bodies=bodies, suppliers=suppliers)


KNOWN = Known(
    lots=(IngredientLot("S2", "rusk", "R-7", date(2027, 1, 31)),),
    ingredients=(Ingredient("rusk", "Rusk, fine", 320),),
    abattoirs={"B1": "DEMO-1"},
    numbers={"2200101012345": ("P1", "P3")},
)


def named(word: str, trade: Trade | None = None, known: Known = KNOWN) -> list[Subject]:
    return subjects_named(word, a_trade() if trade is None else trade, known)


def told(word: str) -> list[tuple[str, str, str]]:
    return [(each.kind.value, each.name, each.of) for each in named(word)]


@pytest.mark.parametrize(
    ("word", "kind", "name"),
    [
        ("B1", "body", "B1"),
        ("P2", "piece", "P2"),
        ("S2", "stage", "S2"),
        ("DEMO-1", "abattoir", "DEMO-1"),
        ("farm", "supplier", "farm"),
        ("North Farm", "supplier", "farm"),
        ("  b1 ", "body", "B1"),
        ("north   FARM", "supplier", "farm"),
        ("demo-1", "abattoir", "DEMO-1"),
    ],
)
def test_each_kind_is_found(word: str, kind: str, name: str) -> None:
    assert told(word) == [(kind, name, "")]


def test_a_docket_is_one_supplier_s_own() -> None:
    assert [(each.kind.value, each.of, each.bodies) for each in named("nf-22")] == [
        ("supplier_ref", "farm", ("B1",)),
        ("supplier_ref", "mill", ("B2",)),
    ]


def test_a_day_is_that_of_slaughter_and_that_of_receipt() -> None:
    assert [(each.kind.value, each.bodies) for each in named("2026-11-13")] == [
        ("killed_on", ("B1", "B2"))
    ]
    assert [(each.kind.value, each.bodies) for each in named("2026-11-16")] == [
        ("received_on", ("B1", "B2"))
    ]
    assert named("2026-11-12") == []


def test_goods_are_found_by_lot_and_by_name() -> None:
    assert told("r-7") == [("ingredient_lot", "R-7", "rusk")]
    assert named("R-7")[0].added == (("S2", "rusk"),)
    assert told("rusk") == told("Rusk, fine") == [("ingredient", "rusk", "")]
    assert named("rusk")[0].added == (("S2", "rusk"),)


def test_a_lot_is_parted_by_the_goods_that_bear_it() -> None:
    lots = (IngredientLot("S2", "rusk", "7"), IngredientLot("S2", "salt", "7"))
    found = named("7", known=Known(lots=lots))
    assert [(each.of, each.added) for each in found] == [
        ("rusk", (("S2", "rusk"),)),
        ("salt", (("S2", "salt"),)),
    ]


def test_the_number_of_a_label_names_each_piece_by_itself() -> None:
    assert [(each.kind.value, each.pieces) for each in named("2200101012345")] == [
        ("label_number", ("P1",)),
        ("label_number", ("P3",)),
    ]


def test_one_word_may_name_several_things() -> None:
    known = replace(KNOWN, lots=(IngredientLot("S2", "rusk", "B1"),))
    assert [each.kind.value for each in named("B1", known=known)] == ["body", "ingredient_lot"]


def test_what_is_written_exactly_so_comes_alone_else_all_that_are_near() -> None:
    trade = a_trade()
    twin = replace(trade.bodies[0], key="b1", supplier_ref="")
    both = replace(trade, bodies=(*trade.bodies, twin))
    assert [each.name for each in named("b1", both)] == ["b1"]
    assert [each.name for each in named("B1 ", both)] == ["B1"]
    near = replace(trade, bodies=(replace(twin, key="Bb"), replace(twin, key="bB")))
    assert [each.name for each in named("BB", replace(near, stages=(), inputs=()))] == ["Bb", "bB"]


def test_an_empty_docket_is_nobody_s_name() -> None:
    bare = replace(a_trade(), bodies=tuple(replace(b, supplier_ref="") for b in a_trade().bodies))
    assert named("", bare) == named("   ", bare) == named("NF-22", bare) == []


def test_a_cut_is_no_lot_but_is_known_for_one() -> None:
    assert named("rump") == []
    for word in ("rump", "RUMP ", "101"):
        assert [cut.key for cut in cuts_named(word, CUTS)] == ["rump"]
    assert cuts_named("", CUTS) == []
