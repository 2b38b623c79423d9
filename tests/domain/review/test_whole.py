from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.review.whole import Refused, review
from gambrel.domain.trade.catalogue import ListLine, Supplier
from gambrel.domain.trade.records import Input, PriceChange, PricedOn, Reweigh, Source, Trade, Void
from gambrel.domain.trade.records import WriteOff as Thrown
from tests.trades import CUTS, HOUR, START, Bench, random_trades

DAY = timedelta(days=1)


def sound() -> Trade:
    """Body B1 -> S1 -> P1, P2, P3 (void); P2 -> S2 -> P4."""
    bench = Bench()
    body = bench.body(80_000, 980)
    bench.reweigh(body, 79_000)
    first = bench.stage((Source.BODY, body, None))
    bench.piece(first, "rump", 4_000, 120)
    trim = bench.piece(first, "mince-trim", 9_000)
    bench.void(bench.piece(first, "bone", 3_000))
    second = bench.stage((Source.PIECE, trim, 5_000))
    bench.ingredient(second, "salt", 100, 50)
    bench.piece(second, "mince", 5_000)
    return with_farm(bench.trade())


def with_farm(trade: Trade) -> Trade:
    lines = (
        ListLine("Hind", "beef", "hindquarter", 1, "rump", Decimal(8)),
        ListLine("Hind", "beef", "hindquarter", 2, "shin", Decimal(4)),
    )
    return replace(trade, suppliers=(Supplier("farm", "Farm"),), lists=lines)


def test_a_sound_trade_has_no_problem() -> None:
    assert review(sound()) == []


def with_table(trade: Trade, table: str, rows: tuple[Any, ...]) -> Trade:
    fields: dict[str, Any] = {table: rows}
    return replace(trade, **fields)


def changed(table: str, index: int, **fields: object) -> Callable[[Trade], Trade]:
    def change(trade: Trade) -> Trade:
        rows = list(getattr(trade, table))
        row = rows[index]
        rows[index] = row._replace(**fields) if hasattr(row, "_replace") else replace(row, **fields)
        return with_table(trade, table, tuple(rows))

    return change


def with_row(table: str, row: object) -> Callable[[Trade], Trade]:
    return lambda trade: with_table(trade, table, (*getattr(trade, table), row))


LATE = START + 30 * HOUR

ONE_WRONG = [
    (changed("pieces", 0, gross_g=100), "pieces", "tare_kg", "tare"),
    (changed("pieces", 0, tare_g=-1), "pieces", "tare_kg", "zero or more"),
    (changed("pieces", 0, gross_g=0, tare_g=0), "pieces", "gross_kg", "more than zero"),
    (changed("pieces", 0, gross_g=10_000_001), "pieces", "gross_kg", "at most 10000"),
    (changed("pieces", 0, stage="S9"), "pieces", "stage", "no stage 'S9'"),
    (changed("pieces", 0, cut="rmp"), "pieces", "cut", "did you mean 'rump'?"),
    (changed("pieces", 0, weighed_at=START - 3 * DAY), "pieces", "weighed_at", "had not started"),
    (changed("bodies", 0, received_g=0), "bodies", "received_kg", "more than zero"),
    (changed("bodies", 0, supplier="frm"), "bodies", "supplier", "did you mean 'farm'?"),
    (changed("bodies", 0, price=-1), "bodies", "price_per_kg", "negative"),
    (changed("bodies", 0, other_cost=-99_999_999), "bodies", "other_cost", "zero or more"),
    (changed("bodies", 0, priced_on=PricedOn.DOCKET), "bodies", "docket_kg", "docket's weight"),
    (
        changed("bodies", 0, killed_on=(START + 2 * DAY).date()),
        "bodies", "killed_on", "after the body came",
    ),
    (changed("bodies", 0, received_at=LATE), "reweighs", "weighed_at", "not been received"),
    (changed("reweighs", 0, body="B9"), "reweighs", "body", "no body 'B9'"),
    (changed("reweighs", 0, grams=-5), "reweighs", "kg", "more than zero"),
    (with_row("reweighs", Reweigh("B1", LATE, 500)), "reweighs", "kg", "nothing of B1"),
    (changed("stages", 0, finished_at=START), "stages", "finished_at", "before it started"),
    (changed("stages", 0, minutes=Decimal(-1)), "stages", "minutes", "negative"),
    (changed("stages", 0, list="Hand"), "stages", "list", "did you mean 'Hind'?"),
    (changed("inputs", 0, stage="S9"), "inputs", "stage", "no stage"),
    (changed("inputs", 0, key="B9"), "inputs", "body", "no body"),
    (changed("inputs", 1, key="P9"), "inputs", "piece", "no piece"),
    (changed("inputs", 1, key="P3"), "inputs", "piece", "taken back"),
    (changed("inputs", 1, grams=9_001), "inputs", "kg", "only 9.000 kg is left"),
    (changed("inputs", 1, grams=0), "inputs", "kg", "more than zero"),
    (changed("inputs", 1, cost=5), "inputs", "cost", "ingredients only"),
    (changed("inputs", 2, grams=None), "inputs", "kg", "what the ingredient weighs"),
    (changed("inputs", 2, cost=-5), "inputs", "cost", "negative"),
    (with_row("inputs", Input("S1", Source.PIECE, "P1")), "inputs", "piece", "its own piece"),
    (with_row("voids", Void("P9", LATE)), "voids", "piece", "no piece 'P9'"),
    (with_row("voids", Void("P2", LATE)), "inputs", "piece", "taken back"),
    (with_row("voids", Void("P1", START - 2 * DAY)), "voids", "voided_at", "later day"),
    (with_row("writeoffs", Thrown("P1", 4_001, LATE)), "writeoffs", "kg", "only 4.000 kg"),
    (with_row("writeoffs", Thrown("P3", 10, LATE)), "writeoffs", "piece", "taken back"),
    (with_row("writeoffs", Thrown("P9", 10, LATE)), "writeoffs", "piece", "no piece"),
    (with_row("prices", PriceChange("rum", 1, LATE)), "prices", "cut", "no cut 'rum'"),
    (with_row("prices", PriceChange("rump", -1, LATE)), "prices", "price_per_kg", "negative"),
    (changed("cuts", 0, price=-1), "cuts", "price_per_kg", "negative"),
    (changed("cuts", 0, shelf_life_days=-1), "cuts", "shelf_life_days", "0 to 36500 days"),
    (changed("cuts", 0, shelf_life_days=36_501), "cuts", "shelf_life_days", "0 to 36500 days"),
    (changed("cuts", 0, finish=-1), "cuts", "finish_per_kg", "negative"),
    (changed("cuts", 1, plu="101"), "cuts", "plu", "also the number of 'rump'"),
    (changed("lists", 1, position=1), "cutting_lists", "position", "already the place of 'rump'"),
    (changed("lists", 1, cut="rump"), "cutting_lists", "cut", "there twice"),
    (changed("lists", 1, cut="rumb"), "cutting_lists", "cut", "no cut"),
    (changed("lists", 1, norm_percent=Decimal(93)), "cutting_lists", "norm_percent", "add up to"),
    (changed("lists", 1, norm_percent=Decimal(-1)), "cutting_lists", "norm_percent", "a yield"),
    (changed("pieces", 1, key="P1"), "pieces", "piece", "twice"),
]  # fmt: skip


@pytest.mark.parametrize(("change", "table", "column", "says"), ONE_WRONG)
def test_what_cannot_be_is_named_by_table_and_column(
    change: Callable[[Trade], Trade], table: str, column: str, says: str
) -> None:
    found = [
        (problem.table, problem.column, problem.message) for problem in review(change(sound()))
    ]
    assert any(t == table and c == column and says in m for t, c, m in found), found


def test_a_body_cannot_be_broken_before_it_came() -> None:
    trade = replace(sound(), reweighs=())
    problems = review(changed("bodies", 0, received_at=LATE)(trade))
    assert [problem.table for problem in problems] == ["inputs"]
    assert "had not been received" in problems[0].message


def test_a_circle_names_its_stages_and_not_what_hangs_on_it() -> None:
    bench = Bench()
    body = bench.body(50_000, 900)
    one = bench.stage((Source.BODY, body, None))
    first = bench.piece(one, "rump", 4_000)
    two = bench.stage((Source.PIECE, first, 1_000))
    second = bench.piece(two, "shin", 1_000)
    third = bench.stage((Source.PIECE, second, 500))
    bench.piece(third, "mince", 500)
    bench.inputs.append(Input(one, Source.PIECE, second, 100))
    problems = review(with_farm(bench.trade()))
    assert {problem.row for problem in problems} == {("S2", "piece", "P1"), ("S1", "piece", "P2")}
    assert all("S1, S2 take each other's pieces in a circle" in p.message for p in problems)


@given(random_trades())
def test_whatever_could_happen_is_sound_and_can_be_costed(trade: Trade) -> None:
    trade = with_farm(trade)
    assert review(trade) == []
    assert roll_up(trade, Method.WEIGHT).totals.difference == 0


@given(random_trades(), st.data())
def test_one_wrong_weight_is_told_once(trade: Trade, data: st.DataObject) -> None:
    trade = with_farm(trade)
    if not trade.pieces:
        return
    at = data.draw(st.integers(0, len(trade.pieces) - 1))
    piece = trade.pieces[at]
    problems = review(changed("pieces", at, tare_g=piece.gross_g)(trade))
    assert [(p.table, p.row, p.column) for p in problems] == [("pieces", (piece.key,), "tare_kg")]


@given(random_trades())
def test_a_missing_cut_is_told_by_each_piece_that_names_it(trade: Trade) -> None:
    trade = replace(with_farm(trade), cuts=CUTS[1:], lists=())
    named = [(p.row, p.column) for p in review(trade)]
    assert named == [((piece.key,), "cut") for piece in trade.pieces if piece.cut == "rump"]


def test_what_was_refused_before_is_not_held_against_those_that_name_it() -> None:
    trade = replace(sound(), bodies=(), reweighs=())
    assert {problem.column for problem in review(trade)} == {"body"}
    assert review(trade, Refused({"bodies": {"B1"}})) == []
    assert review(trade, Refused(tables={"bodies"})) == []
