"""The solver's mixes against every mix there is, and against the corners of the relaxed problem."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from decimal import Decimal
from itertools import combinations, product

import numpy as np
import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st

from gambrel.domain.bench.lean import Mix, Prefer, Target, TrimSource
from gambrel.domain.refusals import Refusal
from gambrel.services.tub import solver
from gambrel.services.tub.solver import best_mix

LEANS = st.decimals(40, 100, places=1)


@st.composite
def problems(draw: st.DrawFn) -> tuple[tuple[TrimSource, ...], Target]:
    """Up to four trims of a few steps, with odd grams left over and amounts that must go in."""
    step = draw(st.sampled_from([7, 10, 100]))
    sources = []
    for number in range(draw(st.integers(1, 4))):
        most = draw(st.integers(0, 5 * step))
        least = draw(st.sampled_from([0, 0, most // 2, most]))
        price, hours = draw(st.integers(0, 2000)), draw(st.integers(0, 90))
        name = f"t{number}"
        sources.append(TrimSource(name, name, draw(LEANS), most, least, price, hours))
    some = Mix(tuple(sources), tuple(draw(st.integers(s.least_g, s.most_g)) for s in sources))
    grams = max(some.total_g, 1)
    near = round(some.lean_percent, 1) if some.total_g else draw(LEANS)
    low = max(near - draw(st.integers(0, 50)) / Decimal(10), Decimal(0))
    high = min(near + draw(st.integers(0, 50)) / Decimal(10), Decimal(100))
    prefer = draw(st.sampled_from(list(Prefer)))
    return tuple(sources), Target(grams, low, high, step, prefer)


def every_mix(sources: tuple[TrimSource, ...], target: Target) -> list[Mix]:
    ways = product(*(sorted({*range(0, s.most_g + 1, target.step_g), s.most_g}) for s in sources))
    return [mix for way in ways if (mix := Mix(sources, way)).reaches(target)]


def youth(mix: Mix) -> int:
    return -sum(g * s.hours for g, s in zip(mix.grams, mix.sources, strict=True))


def worth(mix: Mix, prefer: Prefer) -> tuple[Decimal | int, Decimal | int]:
    return (mix.cost, youth(mix)) if prefer is Prefer.CHEAPEST else (youth(mix), mix.cost)


@settings(deadline=None, max_examples=150)
@given(problems())
def test_no_mix_at_all_is_better(problem: tuple[tuple[TrimSource, ...], Target]) -> None:
    sources, target = problem
    there_are = every_mix(sources, target)
    event("reached" if there_are else "out of reach")
    if not there_are:
        with pytest.raises(Refusal):
            best_mix(sources, target)
        return
    found, proven = best_mix(sources, target)
    assert found.reaches(target)
    assert proven
    assert worth(found, target.prefer) == min(worth(mix, target.prefer) for mix in there_are)


def cheapest_corner(sources: tuple[TrimSource, ...], target: Target) -> float | None:
    """The least cost of the problem without steps: some corner of its polytope has it.

    An independent way: every set of so many limits as there are trims is made to hold exactly.
    """
    count = len(sources)
    leans = np.array([float(s.lean) for s in sources])
    limits = [(row, s.least_g) for row, s in zip(np.eye(count), sources, strict=True)]
    limits += [(-row, -s.most_g) for row, s in zip(np.eye(count), sources, strict=True)]
    limits += [(leans - float(target.lean_least), 0), (float(target.lean_most) - leans, 0)]
    whole = (np.ones(count), target.grams)
    best = None
    for chosen in combinations(limits, count - 1):
        rows = np.array([whole[0], *(row for row, _ in chosen)])
        values = np.array([whole[1], *(value for _, value in chosen)], dtype=float)
        if abs(np.linalg.det(rows)) < 1e-9:
            continue
        point = np.linalg.solve(rows, values)
        if all(row @ point >= value - 1e-6 for row, value in limits):
            cost = sum(g * s.price for g, s in zip(point, sources, strict=True)) / 1000
            best = cost if best is None else min(best, cost)
    return best


def big(number: int, rng: np.random.Generator) -> tuple[tuple[TrimSource, ...], Target]:
    sources = tuple(
        TrimSource(
            f"t{i}", f"t{i}", Decimal(int(rng.integers(500, 980))) / 10,
            int(rng.integers(2000, 12_000)), 0, int(rng.integers(500, 2000)),
        )
        for i in range(number)
    )  # fmt: skip
    middle = round(sum((s.lean for s in sources), Decimal(0)) / number, 1)
    return sources, Target(9000, middle - 2, middle + 2, 10)


@pytest.mark.parametrize("seed", range(12))
def test_steps_cost_little_more_than_the_corner_without_steps(seed: int) -> None:
    """A step of 10 g in 9 kg moves each trim by at most a step or so from the relaxed optimum."""
    sources, target = big(3 + seed % 4, np.random.default_rng(seed))
    corner = cheapest_corner(sources, target)
    assert corner is not None
    found = float(best_mix(sources, target).mix.cost)
    dearest = max(s.price for s in sources)
    assert corner - 1e-6 <= found <= corner + len(sources) * target.step_g * dearest / 1000


def test_twenty_trims_are_found_in_time() -> None:
    sources, target = big(20, np.random.default_rng(7))
    assert best_mix(sources, target).mix.reaches(target)


def test_when_time_runs_out_what_was_found_is_shown_as_such(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """One lean to the hundredth in odd steps over a dozen trims: to rule all out takes minutes."""
    monkeypatch.setattr(solver, "SECONDS", 0.5)
    sources, target = big(12, np.random.default_rng(21))
    sources = tuple(replace(s, lean=s.lean + Decimal("0.01") * n) for n, s in enumerate(sources))
    one = replace(target, lean_least=target.lean_most)
    try:
        found, _ = best_mix(sources, one)
    except Refusal as refusal:
        assert "too long" in str(refusal)  # noqa: PT017 - either answer is honest
    else:
        assert found.reaches(one)


def test_bounds_that_fall_between_the_steps_are_said() -> None:
    sources = (
        TrimSource("a", "Trim 90", Decimal(90), 10_000),
        TrimSource("b", "Trim 70", Decimal(70), 10_000),
    )
    target = Target(1000, Decimal("75.1"), Decimal("75.9"), 100)
    with pytest.raises(Refusal, match=r"steps of 100 g lands between 75\.1 % and 75\.9 %"):
        best_mix(sources, target)


def test_nothing_is_written_on_standard_output() -> None:
    program = (
        "from decimal import Decimal\n"
        "from gambrel.domain.bench.lean import Target, TrimSource\n"
        "from gambrel.services.tub.solver import best_mix\n"
        "trims = [TrimSource(n, n, Decimal(l), 9000) for n, l in (('a', 90), ('b', 70))]\n"
        "for _ in range(2):\n"
        "    assert best_mix(trims, Target(5000, Decimal(78), Decimal(82))).mix.total_g == 5000\n"
        "print('done')\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], check=False, capture_output=True, text=True
    )
    assert (done.returncode, done.stdout, done.stderr) == (0, "done\n", "")
