"""The published warning: a cut that loses by weight may still pay its way.

Source, SEEN: wizedu.com question 284821, one pig of 200 lb for 300, classroom case. By weight the
feet lose 7.50; without them bacon "loses" 2 and the pig earns 180 instead of 195.
"""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

from gambrel.domain.costing.costing import Costing
from gambrel.domain.costing.lines import cut_lines
from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.numbers.money import extend
from gambrel.domain.prices.dropping import if_dropped
from gambrel.domain.trade.catalogue import CutKind
from tests.published.figures import Part, broken, plain, prints_as
from tests.published.joint_costs import problem
from tests.trades import START

PIG = problem("PIG-200LB", Method.WEIGHT)


def pig(method: Method, *, sell_feet: bool) -> Costing:
    parts = PIG.parts()
    if not sell_feet:
        parts = [
            Part(part.name, part.grams, kind=CutKind.WASTE) if part.name == "Feet" else part
            for part in parts
        ]
    return roll_up(broken(parts, PIG.joint).trade(), method)


def profits(costing: Costing) -> dict[str, Decimal]:
    return {
        cost.piece.cut: plain(extend(cost.price, cost.piece.net_g) - cost.cost)
        for cost in costing.pieces
        if cost.price is not None
    }


def test_by_weight_the_feet_seem_to_lose() -> None:
    costing = pig(Method.WEIGHT, sell_feet=True)
    earned = profits(costing)
    for line in PIG.lines:
        assert prints_as(earned[line["product"]], line["gross_margin"])
    assert sum(earned.values()) == 195
    losing = [line.cut.key for line in cut_lines(costing) if line.margin and line.margin < 0]
    assert losing == ["Feet"]


def test_by_sales_value_no_cut_of_it_loses() -> None:
    lines = cut_lines(pig(Method.SALES_VALUE, sell_feet=True))
    margins = [line.margin for line in lines if line.margin is not None]
    assert len(margins) == 5
    # 195 / 495 on every cut, COMPUTED.
    assert all(prints_as(margin, "0.3939") for margin in margins)


def test_dropping_the_feet_makes_the_pig_earn_less() -> None:
    costing = pig(Method.WEIGHT, sell_feet=False)
    shares = {cost.piece.cut: plain(cost.share) for cost in costing.pieces}
    printed = {"Pork chops": "49", "Ham": "81", "Bacon": "162", "Hide": "8"}
    for cut, expected in printed.items():
        assert prints_as(shares[cut], expected), cut
    assert shares["Feet"] == 0
    earned = profits(costing)
    assert prints_as(earned["Bacon"], "-2")
    assert sum(earned.values()) == 180


def test_the_warning_says_what_the_source_works_out() -> None:
    trade = broken(PIG.parts(), PIG.joint).trade()
    said = if_dropped(trade, "Feet", START + timedelta(days=7))
    assert prints_as(plain(said.loss), "7.50")
    assert prints_as(plain(said.takings), "15")
    assert prints_as(plain(said.worse), "15"), "195 less 180"
    assert prints_as(plain(said.share), "22.50")
    loads = {load.cut.key: load for load in said.others}
    # 49 - 45, 81 - 75, 162 - 150, 8 - 7.50: printed costs in whole units.
    more = {"Pork chops": "4", "Ham": "6", "Bacon": "12", "Hide": "1"}
    for cut, expected in more.items():
        assert prints_as(plain(loads[cut].more), expected, within="0.5"), cut
    assert sum(load.more for load in said.others) == said.share
    assert [load.cut.key for load in said.others if load.turns] == ["Bacon"]
