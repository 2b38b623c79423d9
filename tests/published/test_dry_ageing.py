"""Published drying and trimming losses: what they do to the cost per kilo.

Yields, SEEN: Dry aging of beef; Review, J. Anim. Sci. Technol. 2016 58:20, Table 1, in per cent of
the weight bought (``data/dry-ageing.csv``; the table's short loin has no saleable yield and is
left out). Costs: 20.00 a kilo on 100 kg, COMPUTED.
"""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

import pytest

from gambrel.domain.costing.costing import Costing
from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.trade.catalogue import Cut, CutKind
from gambrel.domain.trade.records import Source
from tests.published.figures import Row, kilos, prints_as, rows
from tests.trades import Bench

TABLE = rows("dry-ageing")
CUTS = (
    Cut("steak", "Steak", "beef", CutKind.TRAY, 6000),
    Cut("crust", "Crust", "beef", CutKind.WASTE),
)


def aged(row: Row) -> Costing:
    bench = Bench(cuts=CUTS)
    body = bench.body(100_000, 2000)
    if row["shrink_percent"]:
        bench.reweigh(body, 100_000 - kilos(row["shrink_percent"]))
    stage = bench.stage((Source.BODY, body, None))
    bench.piece(stage, "steak", kilos(row["saleable_percent"]))
    if row["waste_percent"]:
        bench.piece(stage, "crust", kilos(row["waste_percent"]))
    return roll_up(bench.trade())


def find(cut: str, days: str, how: str) -> Row:
    (row,) = [r for r in TABLE if (r["cut"], r["days"], r["aged"]) == (cut, days, how)]
    return row


def test_nothing_is_missing_from_the_table() -> None:
    assert len(TABLE) == 3 * 4 * 2


@pytest.mark.parametrize(("how", "per_kilo"), [("dry", "28.86"), ("wet", "22.62")])
def test_ribeye_at_21_days(how: str, per_kilo: str) -> None:
    steak = aged(find("Ribeye", "21", how)).pieces[0]
    assert prints_as(steak.cost_per_kilo / 100, per_kilo)


@pytest.mark.parametrize("row", TABLE, ids=lambda r: f"{r['cut']}-{r['days']}-{r['aged']}")
def test_drying_and_trimming_raise_the_cost_and_lose_no_cent(row: Row) -> None:
    costing = aged(row)
    body, steak = costing.bodies[0], costing.pieces[0]
    assert body.hang_loss_g == kilos(row["shrink_percent"] or "0")
    assert body.saleable_g == kilos(row["saleable_percent"])
    assert body.unexplained_g >= 0, "the table's columns leave purge and fat trim over"
    expected = (Decimal(200_000) / Decimal(row["saleable_percent"])).quantize(
        Decimal("0.01"), ROUND_HALF_UP
    )
    assert prints_as(steak.cost_per_kilo, str(expected))
    assert costing.totals.difference == 0


@pytest.mark.parametrize("cut", ["Ribeye", "Strip loin", "Top sirloin"])
@pytest.mark.parametrize("days", ["14", "21", "28", "35"])
def test_dry_is_dearer_than_wet(cut: str, days: str) -> None:
    dry, wet = (aged(find(cut, days, how)).pieces[0].cost_per_kilo for how in ("dry", "wet"))
    assert dry > wet


def test_overnight_shrink_and_cutting_loss() -> None:
    """SEEN: J. Food Protection 49(3) 1986, 211-215: 2.19 % and 0.27 %, 2.46 % together."""
    bench = Bench(cuts=CUTS)
    body = bench.body(100_000, 600)
    bench.reweigh(body, 97_810)
    bench.piece(bench.stage((Source.BODY, body, None)), "steak", 97_540)
    found = roll_up(bench.trade(), Method.WEIGHT).bodies[0]
    assert (found.hang_loss_g, found.unexplained_g) == (2190, 270)
    assert found.hang_loss_g + found.unexplained_g == 2460
