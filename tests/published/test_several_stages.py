"""Published problems with separable costs, worked as later stages instead of finishing costs.

Each product that the source processes further leaves the break as an unpriced piece, and a stage
of its own turns it into what is sold, for the source's separable cost in work. Value must run
back so that the split-off is shared exactly as by net realisable value.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.trade.catalogue import Cut, CutKind
from gambrel.domain.trade.records import Source, StageKind, Trade
from tests.published.figures import FINE, Part, broken, fine, kilos, plain, prints_as
from tests.published.joint_costs import PROBLEMS, Problem
from tests.trades import Bench, a_shop

BY_NRV = [problem for problem in PROBLEMS if problem.method is Method.NRV]
MINUTE = fine("60")
"""An hour at 60 is a minute at 1: a separable cost of 900 is 900 minutes."""


def in_stages(problem: Problem) -> Trade:
    shop = a_shop(currency=FINE, work_per_hour=MINUTE)
    made = {part.name: part.cut() for part in problem.parts()}
    raw = {name: Cut(f"raw {name}", name, "any", CutKind.TRIM) for name in made}
    bench = Bench(shop, (*raw.values(), *(_unfinished(cut) for cut in made.values())))
    grams = {part.name: part.grams for part in problem.parts()}
    body = bench.body(sum(grams.values()), 0, fine(problem.joint))
    split = bench.stage((Source.BODY, body, None))
    for line in problem.lines:
        name = line["product"]
        cut = raw[name].key if line["separable"] != "0" else name
        bench.piece(split, cut, grams[name])
    for number, line in enumerate(problem.lines, start=1):
        if line["separable"] != "0":
            minutes = int(line["separable"])
            take = (Source.PIECE, f"P{number}", None)
            stage = bench.stage(take, kind=StageKind.TRIMOUT, minutes=minutes)
            bench.piece(stage, line["product"], grams[line["product"]])
    return bench.trade()


def _unfinished(cut: Cut) -> Cut:
    return Cut(cut.key, cut.name, cut.species, cut.kind, cut.price)


def test_there_are_such_problems() -> None:
    further = [line for problem in BY_NRV for line in problem.lines if line["separable"] != "0"]
    assert len(BY_NRV) == 8
    assert len(further) == 13


@pytest.mark.parametrize("problem", BY_NRV, ids=lambda problem: problem.name)
def test_value_runs_back_to_the_split_off(problem: Problem) -> None:
    costing = roll_up(in_stages(problem))
    at_once = roll_up(broken(problem.parts(), problem.joint).trade())
    split = costing.pieces[: len(problem.lines)]
    for row, piece, same in zip(problem.lines, split, at_once.pieces, strict=True):
        assert prints_as(plain(piece.share), row["expected"]), row
        # A unit of rounding where a finishing cost per kilo is not whole.
        assert abs(piece.share - same.share) <= 2 + piece.piece.net_g // 1000
    assert costing.totals.difference == 0


@pytest.mark.parametrize("problem", BY_NRV, ids=lambda problem: problem.name)
def test_money_runs_forward_with_the_work(problem: Problem) -> None:
    costing = roll_up(in_stages(problem))
    ends = {cost.piece.cut: cost for cost in costing.pieces if not cost.consumed_g}
    for row in problem.lines:
        whole = Decimal(row["expected"]) + Decimal(row["separable"])
        assert prints_as(plain(ends[row["product"]].cost), str(whole)), row


def test_milk_by_its_printed_figures() -> None:
    """MEMORY, re-checked: Cost Accounting 14e ch. 16, exhibits 16-5 and 16-6.

    Buttercream is 20,000 gallons out of 25,000 of cream, condensed milk 50,000 out of 75,000 of
    skim, so that the later stages also lose weight: net realisable values 220,000 and 580,000.
    """
    bench = Bench(
        a_shop(currency=FINE, work_per_hour=MINUTE),
        (
            Cut("cream", "Cream", "any", CutKind.TRIM),
            Cut("skim", "Liquid skim", "any", CutKind.TRIM),
            Part("buttercream", kilos("20000"), "500000").cut(),
            Part("condensed", kilos("50000"), "1100000").cut(),
        ),
    )
    split = bench.stage((Source.BODY, bench.body(kilos("110000"), 0, fine("400000")), None))
    cream = bench.piece(split, "cream", kilos("25000"))
    skim = bench.piece(split, "skim", kilos("75000"))
    churn = bench.stage((Source.PIECE, cream, None), kind=StageKind.TRIMOUT, minutes=280_000)
    bench.piece(churn, "buttercream", kilos("20000"))
    boil = bench.stage((Source.PIECE, skim, None), kind=StageKind.TRIMOUT, minutes=520_000)
    bench.piece(boil, "condensed", kilos("50000"))
    costing = roll_up(bench.trade())
    assert [plain(piece.share) for piece in costing.pieces[:2]] == [110_000, 290_000]
    assert [plain(piece.cost) for piece in costing.pieces[2:]] == [390_000, 810_000]
    assert [stage.unexplained_g for stage in costing.stages[1:]] == [5_000_000, 25_000_000]
