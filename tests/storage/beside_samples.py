"""Records beside the trade: some by hand (invented), any that the domain allows, and bad rows."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

from hypothesis import strategies as st

from gambrel.domain.trade.around import (
    CutLabel,
    CutLean,
    Ingredient,
    IngredientLot,
    Origin,
    OriginOf,
    Person,
    PieceLean,
    PriceWithdrawn,
    PrintedItem,
    PrintEvent,
    PrintJob,
    PrintKind,
    PrintStep,
    Recipe,
    RecipeLine,
    WriteOffWithdrawn,
)
from gambrel.storage.beside import Done, Kept
from gambrel.storage.work import Work
from tests.storage.samples import TRADE, at, exact, grams, keys, moments, prices, texts

KEPT: tuple[Kept, ...] = (
    Person("Ana", "scrypt$x", active=False),
    CutLabel("rump", "Beef", "", "Keep below 5 °C", "Cook through"),
    Origin(OriginOf.BODY, "B1", "A", "B", "C", "12", "D", "34"),
    Ingredient("salt", "Salt", 120, "celery"),
    CutLean("rump", Decimal("92.5")),
)
RECIPE = Recipe("grind", "Plain grind", "rump", Decimal(80), None, Decimal("0.5"), "coarse")
LINES = (RecipeLine("grind", 1, 980, cut="rump"), RecipeLine("grind", 2, 20, ingredient="salt"))
DONE: tuple[Done, ...] = (
    IngredientLot("S10", "salt", "L-4", date(2027, 1, 31)),
    PieceLean("P1", at(20), Decimal("88.25"), "Ana"),
    PriceWithdrawn("rump", TRADE.prices[1].since, at(25), "Ana", "changed my mind"),
    WriteOffWithdrawn("P2", TRADE.writeoffs[0].at, TRADE.writeoffs[0].reason, at(95), "Ana"),
    PrintJob("J1", PrintKind.LABEL, "Labels", "label-58x40", "", 1, at(30), "Ana", "block-1"),
    PrintEvent("J1", 1, PrintStep.PRINTED, at(31), "a file"),
    PrintedItem("J1", 1, "rump", 2699, "P1", 500, 1350, "B1", date(2026, 11, 21), "2900001013504"),
)


def fill(work: Work) -> None:
    """Put all of them into a book that holds `TRADE`."""
    for record in KEPT:
        work.put(record)
    work.put_recipe(RECIPE, LINES)
    work.note(DONE)


_percent = st.decimals(0, 100, places=6)
_days = st.none() | st.dates()
_maybe = st.none() | _percent
KINDS: dict[str, st.SearchStrategy[Any]] = {
    "Person": st.builds(Person, keys, texts, st.booleans()),
    "CutLabel": st.builds(CutLabel, st.just("bone"), texts, texts, texts, texts),
    "Origin": st.builds(Origin, st.sampled_from(OriginOf), keys, *[texts] * 6),
    "Ingredient": st.builds(Ingredient, keys, texts, prices, texts),
    "IngredientLot": st.builds(IngredientLot, st.just("S1"), keys, keys, _days),
    "CutLean": st.builds(CutLean, st.just("bone"), _percent),
    "PieceLean": st.builds(PieceLean, st.just("P2"), moments, _percent, texts),
    "Recipe": st.builds(Recipe, keys, keys, st.just("rump"), _maybe, _maybe, exact, texts),
    "RecipeLine": st.builds(
        RecipeLine, st.just("grind"), st.integers(3, 10**6), st.integers(1, 1000), st.just("bone")
    ),
    "PriceWithdrawn": st.builds(
        PriceWithdrawn,
        st.just("rump"),
        st.just(TRADE.prices[0].since),
        st.just(at(1)),
        texts,
        texts,
    ),
    "WriteOffWithdrawn": st.builds(
        WriteOffWithdrawn,
        st.just(TRADE.writeoffs[1].piece),
        st.just(TRADE.writeoffs[1].at),
        st.just(TRADE.writeoffs[1].reason),
        moments,
        texts,
    ),
    "PrintJob": st.builds(
        PrintJob,
        keys,
        st.sampled_from(PrintKind),
        texts,
        texts,
        texts,
        st.integers(1, 1000),
        moments,
        texts,
        texts,
    ),
    "PrintEvent": st.builds(
        PrintEvent,
        st.just("J1"),
        st.integers(2, 10**6),
        st.sampled_from(PrintStep),
        moments,
        texts,
    ),
    "PrintedItem": st.builds(
        PrintedItem,
        st.just("J1"),
        st.integers(2, 10**6),
        st.just("rump"),
        st.none() | prices,
        st.sampled_from(["", "P1"]),
        st.none() | grams,
        st.none() | prices,
        texts,
        _days,
        texts,
    ),
}

MOMENT = "'2026-11-20T10:42:00.000000Z'"
DAY = "'2026-11-20'"
GOOD = {
    "person": {"name": "'a'", "pin": "''", "active": "1"},
    "cut_label": {
        "cut": "'bone'",
        "ingredients": "''",
        "allergens": "''",
        "storage": "''",
        "cooking": "''",
    },
    "origin": {
        "kind": "'supplier'",
        "key": "'farm'",
        "born": "''",
        "reared": "''",
        "slaughtered": "''",
        "abattoir": "''",
        "cut_in": "''",
        "plant": "''",
    },
    "ingredient": {"key": "'a'", "name": "''", "price": "0", "allergens": "''"},
    "ingredient_lot": {"stage": "'S1'", "key": "'a'", "lot": "'b'", "use_by": DAY},
    "cut_lean": {"cut": "'bone'", "percent": "1"},
    "piece_lean": {"piece": "'P1'", "at": MOMENT, "percent": "0", "person": "''"},
    "recipe": {
        "key": "'a'",
        "name": "'a'",
        "product": "'rump'",
        "lean_least": "1",
        "lean_most": "1",
        "minutes_per_kg": "0",
        "note": "''",
    },
    "recipe_line": {
        "recipe": "'grind'",
        "position": "9",
        "grams_per_kg": "1",
        "cut": "'rump'",
        "ingredient": "NULL",
    },
    "price_withdrawn": {
        "cut": "'rump'",
        "since": "'2026-11-16T06:20:00.000000Z'",
        "at": "'2026-11-01T06:20:00.000000Z'",
        "person": "''",
        "reason": "''",
    },
    "writeoff_withdrawn": {
        "piece": "'P2'",
        "written_off_at": "'2026-11-16T07:00:00.000000Z'",
        "why": "'trimmed'",
        "at": MOMENT,
        "person": "''",
    },
    "print_job": {
        "key": "'a'",
        "kind": "'ticket'",
        "title": "''",
        "paper": "''",
        "printer": "''",
        "copies": "1",
        "at": MOMENT,
        "person": "''",
        "station": "''",
    },
    "print_event": {
        "job": "'J1'",
        "number": "9",
        "kind": "'failed'",
        "at": MOMENT,
        "reason": "''",
    },
    "printed_item": {
        "job": "'J1'",
        "position": "9",
        "cut": "'rump'",
        "price": "0",
        "piece": "NULL",
        "grams": "1",
        "amount": "0",
        "lot": "''",
        "use_by": DAY,
        "number": "''",
    },
}
BAD = [
    ("stage_event", {"kind": "'relisted'"}, "list_of_relisted"),
    ("person", {"name": "''"}, "name_given"),
    ("person", {"active": "2"}, "active_yes_or_no"),
    ("origin", {"kind": "'cut'"}, "kind_known"),
    ("origin", {"key": "''"}, "key_given"),
    ("ingredient", {"key": "''"}, "key_given"),
    ("ingredient", {"price": "-1"}, "price_sane"),
    ("ingredient_lot", {"key": "''"}, "key_given"),
    ("ingredient_lot", {"lot": "''"}, "lot_given"),
    ("ingredient_lot", {"use_by": "'soon'"}, "use_by_written"),
    ("cut_lean", {"percent": "100000001"}, "percent_sane"),
    ("piece_lean", {"percent": "-1"}, "percent_sane"),
    ("piece_lean", {"at": "''"}, "at_written"),
    ("recipe", {"key": "''"}, "key_given"),
    ("recipe", {"name": "''"}, "name_given"),
    ("recipe", {"lean_least": "-1"}, "lean_least_sane"),
    ("recipe", {"lean_most": "100000001"}, "lean_most_sane"),
    ("recipe", {"minutes_per_kg": "-1"}, "minutes_per_kg_sane"),
    ("recipe_line", {"position": "-1"}, "position_sane"),
    ("recipe_line", {"grams_per_kg": "1001"}, "grams_per_kg_sane"),
    ("recipe_line", {"cut": "NULL"}, "one_of_both"),
    ("price_withdrawn", {"at": "'2026-12-01T06:20:00.000000Z'"}, "before_it_came"),
    ("price_withdrawn", {"at": "''"}, "at_written"),
    ("price_withdrawn", {"since": "'x'"}, "since_written"),
    ("writeoff_withdrawn", {"at": "''"}, "at_written"),
    ("writeoff_withdrawn", {"written_off_at": "'x'"}, "written_off_at_written"),
    ("print_job", {"key": "''"}, "key_given"),
    ("print_job", {"kind": "'poem'"}, "kind_known"),
    ("print_job", {"copies": "0"}, "copies_sane"),
    ("print_job", {"at": "''"}, "at_written"),
    ("print_event", {"number": "0"}, "number_sane"),
    ("print_event", {"kind": "'lost'"}, "kind_known"),
    ("print_event", {"at": "''"}, "at_written"),
    ("printed_item", {"position": "-1"}, "position_sane"),
    ("printed_item", {"price": "-1"}, "price_sane"),
    ("printed_item", {"amount": "-1"}, "amount_sane"),
    ("printed_item", {"grams": "0"}, "grams_sane"),
    ("printed_item", {"use_by": "'soon'"}, "use_by_written"),
]
