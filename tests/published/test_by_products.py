"""Published by-product credits: they lower the joint cost before it is shared."""

from __future__ import annotations

from decimal import Decimal

import pytest

from gambrel.domain.costing.costing import Costing
from gambrel.domain.costing.lines import cut_lines, piece_margin
from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.numbers.margins import margin
from gambrel.domain.trade.tax import TaxScale
from tests.published.figures import Part, broken, fine, kilos, plain, prints_as
from tests.published.joint_costs import problem

TEXTBOOK = "Cost-accounting textbook 2018 p. 678-679 and exhibit 16-9 (solutioninn.com 5758633)"


def test_pineapple() -> None:
    """SEEN: Management and Cost Accounting 5e Instructor's Manual, Pearson 2012, ininet.org 57828.

    The by-product brings 0.10 x 27,000 - 700 = 2,000, so 60,000 leaves 58,000.
    """
    asked = problem("PINEAPPLE-58000", Method.NRV)
    parts = [*asked.parts(), Part("by-product", 1_000_000, credit="2000")]
    costing = roll_up(broken(parts, "60000").trade())
    assert (costing.stages[0].credit, costing.stages[0].joint) == (fine("2000"), fine("58000"))
    earned = Decimal(0)
    for row, piece in zip(asked.lines, costing.pieces, strict=False):
        assert prints_as(plain(piece.share), row["expected"])
        gross = plain(fine(row["value"]) - piece.cost)
        assert prints_as(gross, row["gross_margin"])
        earned += gross
    assert earned == 62000
    assert costing.pieces[3].share == 0


def test_units_after_a_credit() -> None:
    """SEEN: acowtancy.com, ACCA MA / CIMA P1 notes: (800,000 - 30,000) / 220,000 = 3.50 each."""
    asked = problem("BYPROD-770000", Method.WEIGHT)
    parts = [*asked.parts(), Part("C", kilos("20000"), credit="30000")]
    costing = roll_up(broken(parts, "800000").trade(), Method.WEIGHT)
    for row, piece in zip(asked.lines, costing.pieces, strict=False):
        assert prints_as(plain(piece.share), row["expected"])
        assert plain(piece.cost_per_kilo) == Decimal("3.5")


@pytest.mark.parametrize("method", Method)
def test_a_by_product_as_a_cost_reduction(method: Method) -> None:
    """SEEN: coursehero.com file 5696730, solution 9.38: cost 71,550, margin 68,450.

    Its other treatment, by-product income beside the cost, is not the program's.
    """
    parts = [Part("main", 1_000_000, "140000"), Part("by-product", 1_000_000, credit="450")]
    costing = roll_up(broken(parts, "72000").trade(), method)
    main = costing.pieces[0]
    assert main.cost == fine("71550")
    assert fine("140000") - main.cost == fine("68450")


def timber(chips: str) -> Costing:
    """50,000 board feet for 250,000, 40,000 sold at 6; 4,000 cubic feet of chips, 1,200 sold."""
    each = Decimal(chips)
    parts = [
        Part("timber", kilos("40000"), "240000"),
        Part("timber", kilos("10000"), "60000"),
        Part("chips", kilos("1200"), credit=str(1200 * each)),
        Part("chips", kilos("2800"), credit=str(2800 * each)),
    ]
    return roll_up(broken(parts, "250000").trade())


def test_timber_by_the_production_method() -> None:
    """SEEN (TEXTBOOK): net cost 246,000, sold 196,800, stock 49,200, margin 18.00 %."""
    costing = timber("1")
    sold, stock, chips_sold, chips_left = costing.pieces
    assert costing.stages[0].joint == fine("246000"), TEXTBOOK
    assert (sold.cost, stock.cost) == (fine("196800"), fine("49200"))
    assert (chips_sold.credit, chips_left.credit) == (fine("1200"), fine("2800"))
    assert fine("240000") - sold.cost == fine("43200")
    share = piece_margin(sold, TaxScale(1, 1))
    assert share is not None
    assert prints_as(100 * share, "18.00")
    assert cut_lines(costing)[0].margin == share


def test_timber_without_a_credit() -> None:
    """SEEN (TEXTBOOK), sales method: sold 200,000, stock 50,000, margin 41,200 or 17.08 %.

    The program never counts a by-product's sale as income; a credit of nothing leaves the same
    cost, and the 1,200 is added here.
    """
    sold, stock, *_ = timber("0").pieces
    assert (sold.cost, stock.cost) == (fine("200000"), fine("50000"))
    revenue = Decimal(240000 + 1200)
    assert revenue - plain(sold.cost) == 41200
    earned = margin(revenue, plain(sold.cost))
    assert earned is not None
    assert prints_as(100 * earned, "17.08")


def test_timber_with_a_normal_profit_left_in_the_chips() -> None:
    """SEEN (TEXTBOOK): stock at its value less 20 % is 2,240; selling it later earns 560."""
    left = timber("0.80").pieces[3]
    assert left.credit == fine("2240")
    assert fine("2800") - left.credit == fine("560")
