from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from itertools import product

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from gambrel.domain.bench.lean import (
    Mix,
    Target,
    TrimSource,
    extreme,
    mix_by_square,
    refuse_if_out_of_reach,
)
from gambrel.domain.refusals import Refusal

LEAN_TRIM = TrimSource("t90", "Trim 90", Decimal(90), 10_000, price=1300)
FAT_TRIM = TrimSource("t70", "Trim 70", Decimal(70), 20_000, price=900)


def at(lean: str, grams: int = 10_000, step: int = 10) -> Target:
    return Target(grams, Decimal(lean), Decimal(lean), step)


def test_a_mix_tells_its_weight_lean_and_cost() -> None:
    mix = Mix((LEAN_TRIM, FAT_TRIM), (5000, 15_000))
    assert (mix.total_g, mix.lean_percent, mix.cost) == (20_000, Decimal(75), Decimal(20_000))
    assert mix.reaches(Target(20_000, Decimal(75), Decimal(75)))


@pytest.mark.parametrize(
    ("grams", "target"),
    [
        ((5000, 15_000), at("75.01", 20_000)),
        ((5000, 15_000), Target(20_000, Decimal(70), Decimal("74.99"))),
        ((5000, 15_000), Target(20_010, Decimal(70), Decimal(80))),
        ((5000, 15_000), Target(19_990, Decimal(70), Decimal(80))),
        ((5005, 14_995), Target(20_000, Decimal(70), Decimal(80))),
        ((10_010, 9990), Target(20_000, Decimal(70), Decimal(90))),
    ],
)
def test_a_mix_misses_by_any_limit(grams: tuple[int, int], target: Target) -> None:
    assert not Mix((LEAN_TRIM, FAT_TRIM), grams).reaches(target)


def test_a_tub_may_be_emptied_to_its_last_gram() -> None:
    odd = replace(LEAN_TRIM, most_g=5003)
    target = Target(20_000, Decimal(70), Decimal(80))
    assert Mix((odd, FAT_TRIM), (5003, 15_000)).reaches(target)
    assert not Mix((odd, FAT_TRIM), (5001, 15_000)).reaches(target)


def test_the_square_over_two_trims() -> None:
    assert mix_by_square([LEAN_TRIM, FAT_TRIM], at("75")).grams == (2500, 7500)
    assert mix_by_square([FAT_TRIM, LEAN_TRIM], at("75")).grams == (7500, 2500)
    with pytest.raises(Refusal, match=r"wants 20\.000 kg of Trim 90, but at most 10\.000"):
        mix_by_square([LEAN_TRIM, FAT_TRIM], at("90", 20_000))
    with pytest.raises(Refusal, match=r"wants 0\.000 kg of Trim 70, but at least 0\.500"):
        mix_by_square([LEAN_TRIM, replace(FAT_TRIM, least_g=500)], at("90"))
    with pytest.raises(Refusal, match="two trims and one lean"):
        mix_by_square([LEAN_TRIM], at("75"))
    with pytest.raises(Refusal, match="cannot be made"):
        mix_by_square([LEAN_TRIM, FAT_TRIM], at("95"))


@pytest.mark.parametrize(
    ("sources", "target", "said"),
    [
        ([], at("75"), "No trim is chosen"),
        ([LEAN_TRIM], at("90", 0), "more than nothing"),
        ([LEAN_TRIM], at("90", 10_000, 0), "more than nothing"),
        ([LEAN_TRIM], Target(1000, Decimal(80), Decimal(70)), "between 0 and 100"),
        ([LEAN_TRIM], at("101"), "between 0 and 100"),
        ([LEAN_TRIM], at("75.005"), r"75\.005 % lean is too fine"),
        ([replace(LEAN_TRIM, lean=Decimal(120))], at("90"), "cannot be 120 % lean"),
        ([replace(LEAN_TRIM, least_g=10_001)], at("90"), "cannot both hold"),
        ([LEAN_TRIM, FAT_TRIM], at("75", 31_000), r"give 30\.000 kg at most\. 1\.000 kg is"),
        (
            [replace(LEAN_TRIM, least_g=9000), replace(FAT_TRIM, least_g=2000)],
            at("85"),
            r"11\.000 kg already, 1\.000 kg more",
        ),
        (
            [LEAN_TRIM, FAT_TRIM],
            at("85", 20_000),
            r"20\.000 kg has 80 % lean, 5\.00 short of 85 %\. All 10\.000 kg of Trim 90 is in it",
        ),
        (
            [LEAN_TRIM, replace(FAT_TRIM, least_g=4000)],
            at("85"),
            r"82 % lean, 3\.00 short of 85 %\. 4\.000 kg of Trim 70 must go in",
        ),
        (
            [replace(LEAN_TRIM, least_g=8000), FAT_TRIM],
            at("75"),
            r"86 % lean, 11\.00 above 75 %\. 8\.000 kg of Trim 90 must go in",
        ),
        (
            [LEAN_TRIM, replace(FAT_TRIM, most_g=2000)],
            at("75"),
            r"86 % lean, 11\.00 above 75 %\. All 2\.000 kg of Trim 70 is in it",
        ),
    ],
)
def test_what_is_out_of_reach_is_said_with_the_limit_that_holds(
    sources: list[TrimSource], target: Target, said: str
) -> None:
    with pytest.raises(Refusal, match=said):
        refuse_if_out_of_reach(sources, target)


@st.composite
def small_sources(draw: st.DrawFn) -> list[TrimSource]:
    found = []
    for number in range(draw(st.integers(1, 3))):
        most = draw(st.integers(0, 8))
        lean, price = draw(st.integers(0, 100)), draw(st.integers(0, 20))
        least = draw(st.integers(0, most))
        found.append(TrimSource(f"t{number}", f"Trim {number}", Decimal(lean), most, least, price))
    return found


@given(small_sources(), st.integers(1, 20))
def test_no_mix_is_leaner_or_fatter_than_the_extremes(
    sources: list[TrimSource], grams: int
) -> None:
    ways = product(*(range(s.least_g, s.most_g + 1) for s in sources))
    leans = [Mix(tuple(sources), way).lean_percent for way in ways if sum(way) == grams]
    assume(leans)
    for leanest, wanted in ((True, max(leans)), (False, min(leans))):
        mix = extreme(sources, grams, leanest=leanest)
        assert mix.total_g == grams
        assert all(s.least_g <= g <= s.most_g for s, g in zip(sources, mix.grams, strict=True))
        assert mix.lean_percent == wanted


@given(
    small_sources(),
    st.integers(1, 20),
    st.integers(0, 100),
    st.integers(0, 100),
    st.sampled_from([1, 3, 9]),
)
def test_a_refusal_is_never_wrong(
    sources: list[TrimSource], grams: int, one: int, other: int, step: int
) -> None:
    low, high = sorted((one, other))
    target = Target(grams, Decimal(low), Decimal(high), step)
    ways = product(*(range(s.least_g, s.most_g + 1) for s in sources))
    if any(Mix(tuple(sources), way).reaches(target) for way in ways):
        refuse_if_out_of_reach(sources, target)
