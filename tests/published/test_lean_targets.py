"""Published two-trim blends asked of the solver too, as bounds that only their answer meets."""

from __future__ import annotations

from decimal import Decimal

import pytest

from gambrel.domain.bench.lean import Prefer, Target, TrimSource, mix_by_square
from gambrel.services.tub.solver import best_mix
from tests.published.figures import kilos, prints_as


@pytest.mark.parametrize(
    ("total", "fat", "lean", "target", "fat_part", "source"),
    [
        ("18", "30", "12", "20", "8", "belly and beef, sausage forum post, SEEN"),
        ("1000", "25", "10", "20", "666.67",
         "extension slide deck slideplayer.com/7660647; inputs SEEN, outputs COMPUTED"),
        ("23.333", "100", "0", "40", "9.33", "kosherdosher.blogspot.com, SEEN"),
        ("22.857", "100", "0", "30", "6.857", "amazingribs forum; COMPUTED"),
        ("100", "50", "10", "20", "25", "COMPUTED"),
    ],
)  # fmt: skip
def test_the_square_and_the_solver_agree_with_the_printed_blend(
    total: str, fat: str, lean: str, target: str, fat_part: str, source: str
) -> None:
    grams = kilos(total)
    sources = (
        TrimSource("fat", "Fat trim", 100 - Decimal(fat), grams),
        TrimSource("lean", "Lean trim", 100 - Decimal(lean), grams),
    )
    wanted = 100 - Decimal(target)
    exact = mix_by_square(sources, Target(grams, wanted, wanted, 1))
    assert prints_as(Decimal(exact.grams[0]) / 1000, fat_part), source
    # To a hundredth of a per cent the solver has no other choice, give or take a few grams.
    hair = Decimal("0.01")
    found = best_mix(sources, Target(grams, wanted - hair, wanted + hair, 1)).mix
    gap = abs(Decimal(fat) - Decimal(lean))
    assert abs(found.grams[0] - exact.grams[0]) <= grams * hair / gap + 1, source


def test_the_cheapest_blend_is_the_printed_one() -> None:
    """Inputs SEEN (slideplayer.com/7660647): cow meat of 10 % fat at 0.99, trim of 25 % at 0.79.

    At most 20 % fat in 1,000 lb: the cheapest is at the limit, 666.67 of trim, 0.856667 a pound
    (COMPUTED). Pounds stand as kilos, money as hundredths of a cent.
    """
    sources = (
        TrimSource("cow", "Cow meat", Decimal(90), kilos("1000"), price=9900),
        TrimSource("trim", "Trim", Decimal(75), kilos("1000"), price=7900),
    )
    limit = Target(kilos("1000"), Decimal(80), Decimal(100), 10, Prefer.CHEAPEST)
    mix = best_mix(sources, limit).mix
    # In steps of ten grams: 666.66 and 333.34, a hair leaner than the limit.
    assert mix.grams == (333_340, 666_660)
    assert prints_as(mix.cost / 1000 / 10_000, "0.8567")
