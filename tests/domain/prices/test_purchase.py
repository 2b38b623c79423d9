"""What a body may be bought for: found by trying, checked by trying every price."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gambrel.domain.costing.costing import Costing
from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.prices.proposal import for_sale
from gambrel.domain.prices.purchase import purchase_that_meets
from gambrel.domain.trade.records import (
    Body,
    Input,
    Piece,
    PricedOn,
    Source,
    Stage,
    StageKind,
    Trade,
)
from tests.trades import CUTS, START, a_shop


def trade(price: int, other: int = 0, minutes: int = 0) -> Trade:
    """Two bodies, each broken; the trim of both goes into one blend."""
    later = START + timedelta(hours=1)
    breaks = [Stage(key, StageKind.BREAK, START, later, minutes=Decimal(minutes))
              for key in ("S1", "S2")]  # fmt: skip
    return Trade(
        shop=a_shop(work_per_hour=3000),
        cuts=CUTS,
        bodies=(
            Body("A", "beef", "hindquarter", "F", START, 20_000, price, other_cost=other),
            Body("B", "beef", "hindquarter", "F", START, 10_000, 900, PricedOn.DOCKET, 10_300),
        ),
        stages=(*breaks, Stage("S3", StageKind.BLEND, later, later + timedelta(hours=1))),
        inputs=(
            Input("S1", Source.BODY, "A"), Input("S2", Source.BODY, "B"),
            Input("S3", Source.PIECE, "P2"), Input("S3", Source.PIECE, "P4"),
        ),
        pieces=(
            Piece("P1", "S1", "rump", 11_000, 0, START),
            Piece("P2", "S1", "mince-trim", 7_000, 0, START),
            Piece("P3", "S2", "shin", 6_000, 0, START),
            Piece("P4", "S2", "mince-trim", 3_000, 0, START),
            Piece("P5", "S3", "mince", 9_900, 0, later + timedelta(minutes=1)),
        ),
    )  # fmt: skip


def of_a(costing: Costing) -> int:
    return sum(line.cost for line in for_sale(costing, "A"))


def cost_if(bought: Trade, lowered: int, method: Method) -> int:
    first, second = bought.bodies
    cheaper = replace(bought, bodies=(replace(first, price=max(first.price - lowered, 0)), second))
    return of_a(roll_up(cheaper, method))


@settings(max_examples=40, deadline=None)
@given(
    st.integers(1, 60), st.integers(0, 3000), st.integers(0, 60), st.integers(-2000, 14_000),
    st.sampled_from(list(Method)),
)  # fmt: skip
def test_no_smaller_cut_of_the_purchase_price_would_do(
    price: int, other: int, minutes: int, affordable: int, method: Method
) -> None:
    bought = trade(price, other, minutes)
    found = purchase_that_meets(bought, {"A"}, of_a, affordable, method)
    enough = [n for n in range(price + 1) if cost_if(bought, n, method) <= affordable]
    if not enough:
        assert found is None, "not even a gift"
    else:
        assert found is not None
        assert found.lowered == min(enough)
        assert found.today == price
        assert found.price == price - min(enough)


def test_several_bodies_are_told_by_their_mean_as_it_was_paid() -> None:
    bought = trade(1000)

    def of_all(costing: Costing) -> int:
        return costing.totals.end_cost

    whole = of_all(roll_up(bought, Method.WEIGHT))
    found = purchase_that_meets(bought, {"A", "B"}, of_all, whole - 3_030, Method.WEIGHT)
    assert found is not None
    # 20 kg at 10.00 by weight received and 10.3 kg at 9.00 by the docket: 292.70 over 30.3 kg.
    assert found.today == Decimal(29_270_000) / 30_300
    assert found.lowered == 100


@pytest.mark.parametrize("bodies", [set(), {"nobody"}])
def test_without_a_body_there_is_no_purchase(bodies: set[str]) -> None:
    assert purchase_that_meets(trade(1000), bodies, of_a, 1, Method.NRV) is None


def test_what_is_met_already_needs_nothing() -> None:
    found = purchase_that_meets(trade(1000), {"A"}, of_a, 10**9, Method.NRV)
    assert found is not None
    assert found.lowered == 0
