"""Published fat and lean blends: by the square, by mixing, and costed as a blend of trim."""

from __future__ import annotations

from decimal import Decimal

import numpy as np
import pytest

from gambrel.domain.bench.blends import Square, mixed_percent, square
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.trade.catalogue import Cut, CutKind
from gambrel.domain.trade.records import Source, StageKind
from tests.published.figures import FINE, fine, kilos, plain, prints_as
from tests.trades import Bench, a_shop

NO_FAT, ALL_FAT = "0", "100"


@pytest.mark.parametrize(
    ("total", "fat", "lean", "target", "fat_part", "lean_part", "source"),
    [
        ("18", "30", "12", "20", "8", "10", "belly and beef, sausage forum post, SEEN"),
        ("1000", "25", "10", "20", "666.67", "333.33",
         "extension slide deck slideplayer.com/7660647; inputs SEEN, outputs COMPUTED"),
        ("23.333", ALL_FAT, NO_FAT, "40", "9.33", "14.00", "kosherdosher.blogspot.com, SEEN"),
        ("22.857", ALL_FAT, NO_FAT, "30", "6.9", "16.0", "amazingribs forum, SEEN"),
        ("22.857", ALL_FAT, NO_FAT, "30", "6.857", "16.000", "the same, COMPUTED"),
        ("100", "50", "10", "20", "25", "75", "COMPUTED"),
    ],
)  # fmt: skip
def test_the_square(
    total: str, fat: str, lean: str, target: str, fat_part: str, lean_part: str, source: str
) -> None:
    made = square(kilos(total), Decimal(fat), Decimal(lean), Decimal(target))
    assert made.fat_g + made.lean_g == kilos(total)
    assert prints_as(Decimal(made.fat_g) / 1000, fat_part), source
    assert prints_as(Decimal(made.lean_g) / 1000, lean_part), source
    # A second source: two equations, the weights and the fat in them.
    rates = np.array([[1.0, 1.0], [float(fat), float(lean)]])
    answer = np.linalg.solve(rates, kilos(total) * np.array([1.0, float(target)]))
    assert np.allclose([made.fat_g, made.lean_g], answer, atol=1)


@pytest.mark.parametrize(
    ("parts", "printed", "source"),
    [
        ([("10", NO_FAT), ("3", ALL_FAT)], "23",
         "10 lb and 3 lb of fat, not 30 %: kosherdosher.blogspot.com, amazingribs forum, SEEN"),
        ([("12.5", NO_FAT), ("12.5", "30")], "15", "half game, half butt, video2dn.com, SEEN"),
        ([("333.33", "10"), ("666.67", "25")], "20", "slideplayer.com/7660647, COMPUTED"),
    ],
)  # fmt: skip
def test_the_fat_of_a_mix(parts: list[tuple[str, str]], printed: str, source: str) -> None:
    found = mixed_percent([(kilos(weight), Decimal(fat)) for weight, fat in parts])
    assert prints_as(found, printed), source


def test_what_the_blend_costs() -> None:
    """Inputs SEEN (slideplayer.com/7660647), output COMPUTED: 0.99 and 0.79 give 0.856667 a lb.

    Pounds stand as kilos: 1,000 of them at 20 % fat, weighed out of two cartons of trim.
    """
    made = square(kilos("1000"), Decimal(25), Decimal(10), Decimal(20))
    assert made == Square(fat_g=666_667, lean_g=333_333)
    mince = Cut("mince", "Mince", "beef", CutKind.TRAY, fine("2.00"))
    bench = Bench(a_shop(currency=FINE), (mince,))
    trim = bench.body(kilos("1000"), fine("0.79"))
    cow = bench.body(kilos("1000"), fine("0.99"))
    takes = ((Source.BODY, trim, made.fat_g), (Source.BODY, cow, made.lean_g))
    bench.piece(bench.stage(*takes, kind=StageKind.BLEND), "mince", kilos("1000"))
    costing = roll_up(bench.trade())
    assert prints_as(plain(costing.pieces[0].cost_per_kilo), "0.856667")
    left = [body.left_g for body in costing.bodies]
    assert left == [333_333, 666_667]
    assert costing.totals.difference == 0
