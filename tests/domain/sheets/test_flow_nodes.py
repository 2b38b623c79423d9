"""A flow as nodes: every unit in one of them, few enough to draw, put together by name."""

from __future__ import annotations

from datetime import timedelta

from hypothesis import given
from hypothesis import strategies as st

from gambrel.domain.costing.ledger import Ledger, Period
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.sheets.flow_nodes import LEVELS, flow_columns
from gambrel.domain.sheets.money_flow import MoneyFlow, Spot, SpotKind, Way
from gambrel.domain.sheets.money_walk import money_flow
from gambrel.domain.trade.records import Trade
from tests.trades import START, random_trades

DAY = timedelta(days=400)


@given(trade=random_trades(), most=st.integers(1, 12))
def test_nodes_and_links_hold_all_the_money(trade: Trade, most: int) -> None:
    flow = money_flow(Ledger(trade, roll_up(trade)), Period(START - DAY, START + DAY))
    found = flow_columns(flow, most)
    for side, (level, column) in enumerate(zip(LEVELS, found.columns, strict=True)):
        assert sum(node.money for node in column) == flow.total
        spots = [spot for node in column for spot in node.spots]
        assert sorted(spots) == sorted(flow.amounts(level))
        for number, node in enumerate(column):
            out = sum(n.amount for n in found.links if (n.column, n.start) == (side, number))
            into = sum(n.amount for n in found.links if (n.column + 1, n.end) == (side, number))
            assert out == (node.money if side < 2 else 0)
            assert into == (node.money if side else 0)


def of_cuts(count: int) -> MoneyFlow:
    tray, body = Spot(SpotKind.TRAY), Spot(SpotKind.BODY, "beef side")
    cuts = {f"c{n}": 100 * (n + 1) for n in range(count)}
    return MoneyFlow(
        ways={Way(body, Spot(SpotKind.CUT, key), tray): money for key, money in cuts.items()},
        names={Spot(SpotKind.CUT, key): key.upper() for key in cuts},
        cut_kinds=dict.fromkeys(cuts, "tray"),
        items={},
    )


def test_small_cuts_become_others_and_the_large_ones_stay() -> None:
    _, cuts, ends = flow_columns(of_cuts(12), 4).columns
    assert [node.name for node in cuts] == ["C11", "C10", "C9", "9 other cuts"]
    assert [node.name for node in ends] == ["Trays"]
    assert cuts[-1].money == 100 * sum(range(1, 10))
    assert {node.colour for node in cuts} == {"tray"}


def test_where_none_stands_alone_there_are_no_others() -> None:
    _, cuts, _ = flow_columns(of_cuts(12), 1).columns
    assert [node.name for node in cuts] == ["12 cuts"]


def test_what_fits_stays_apart() -> None:
    _, cuts, _ = flow_columns(of_cuts(4), 4).columns
    assert [node.name for node in cuts] == ["C3", "C2", "C1", "C0"]


def of_ends(*ends: SpotKind) -> MoneyFlow:
    body = Spot(SpotKind.BODY, "beef side")
    ways = {Way(body, Spot(kind), Spot(kind)): 10 * (n + 1) for n, kind in enumerate(ends)}
    return MoneyFlow(ways, {}, {}, {})


def test_few_ends_stand_for_what_is_alike() -> None:
    ends = (
        SpotKind.TRAY, SpotKind.TRIM, SpotKind.CREDIT, SpotKind.BLOCK, SpotKind.THROWN,
        SpotKind.LOSS,
    )  # fmt: skip
    few = flow_columns(of_ends(*ends), 4).columns[2]
    assert [node.name for node in few] == [
        "Trays", "Still standing", "By-product credits", "Lost or thrown away",
    ]  # fmt: skip
    assert [node.money for node in few] == [10, 20 + 40, 30, 50 + 60]
    many = flow_columns(of_ends(*ends), 6).columns[2]
    assert [node.name for node in many] == [
        "Trays", "Trim standing", "By-product credits", "Still on the block", "Thrown away",
        "Unexplained loss",
    ]  # fmt: skip


def test_what_was_never_cut_passes_the_middle_as_one() -> None:
    found = flow_columns(of_ends(SpotKind.BLOCK, SpotKind.LOSS, SpotKind.WORK), 9)
    assert sorted(node.name for node in found.columns[1]) == ["Lost or not cut yet", "Work"]
