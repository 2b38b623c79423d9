"""The cheapest or the oldest mix that reaches a lean target, by mixed-integer programming.

The solver counts in floats, so it only proposes: its answer is rounded to whole steps and looked
at again in whole grams, and nothing of it is ever booked. It is loaded when first needed, since it
takes longer than a window to paint.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from fractions import Fraction
from threading import Lock
from typing import TYPE_CHECKING, NamedTuple

from gambrel.domain.bench.lean import (
    Mix,
    Prefer,
    Target,
    TrimSource,
    no_steps,
    refuse_if_out_of_reach,
)
from gambrel.domain.numbers.apportion import whole_weights
from gambrel.domain.refusals import Refusal

if TYPE_CHECKING:
    from highspy import Highs

SECONDS = 2.0
"""So long an aim is followed; a dozen trims take a small part of it, but for equal bounds."""
TOLERANCE = 1e-9
STDOUT = 1

_one_at_a_time = Lock()


class Best(NamedTuple):
    """A mix that reaches its target; ``proven`` unless time ran out before all were ruled out."""

    mix: Mix
    proven: bool


def best_mix(sources: Sequence[TrimSource], target: Target) -> Best:
    """The best mix that reaches a target; between equals the other preference decides.

    Raises:
        Refusal: No mix reaches it: by how much, and which limits hold it; or not in whole steps;
            or none was found in time.
    """
    refuse_if_out_of_reach(sources, target)
    model = _Model(tuple(sources), target)
    first, second = _aims(sources, target.prefer)
    found = model.best(first)
    if found is None:
        raise no_steps(target)
    if not found.proven:
        return found
    better = model.best(second, keeping=(first, found.mix))
    return found if better is None else better


def _aims(sources: Sequence[TrimSource], prefer: Prefer) -> tuple[list[int], list[int]]:
    """What a gram of each trim counts against a mix: money, or youth."""
    money = [source.price for source in sources]
    youth = [-source.hours for source in sources]
    return (money, youth) if prefer is Prefer.CHEAPEST else (youth, money)


@dataclass(frozen=True, slots=True)
class _Row:
    """A limit: the sum of coefficients times variables lies between two numbers, if given."""

    least: int | None
    most: int | None
    terms: list[tuple[int, int]] = field(default_factory=list)


class _Model:
    """Steps of each trim, and whether it is used up to its last gram.

    Trim ``i`` has two variables: ``i`` counts its steps, ``count + i`` adds what is left in the
    tub when all steps are taken.
    """

    def __init__(self, sources: tuple[TrimSource, ...], target: Target) -> None:
        self._sources = sources
        self._target = target
        self._steps = [source.most_g // target.step_g for source in sources]
        self._rest = [source.most_g % target.step_g for source in sources]

    def best(self, aim: Sequence[int], keeping: tuple[list[int], Mix] | None = None) -> Best | None:
        """The mix with the least sum of ``aim`` per gram; None where there is none.

        ``keeping`` is a former aim and the mix that was best by it: no worse one is taken.
        """
        rows = self._rows()
        if keeping is not None:
            before, mix = keeping
            worth = sum(g * each for g, each in zip(mix.grams, before, strict=True))
            rows.append(_Row(None, worth, self._by_gram(before)))
        with _one_at_a_time:
            solver = _quiet_solver()
            self._fill(solver, rows, aim)
            solver.run()
            answer = self._read(solver)
        if answer is None or not answer.mix.reaches(self._target):
            return None
        return answer

    def _rows(self) -> list[_Row]:
        target, count = self._target, len(self._sources)
        total = self._by_gram([1] * count)
        rows = [_Row(target.grams, target.grams + target.step_g - 1, total)]
        over = [Fraction(s.lean) - Fraction(target.lean_least) for s in self._sources]
        under = [Fraction(target.lean_most) - Fraction(s.lean) for s in self._sources]
        rows += [_Row(0, None, self._by_gram(whole_weights(each))) for each in (over, under)]
        for index, source in enumerate(self._sources):
            one = [int(index == other) for other in range(count)]
            rows.append(_Row(source.least_g, None, self._by_gram(one)))
            if self._rest[index]:
                used_up = [(index, 1), (count + index, -self._steps[index])]
                rows.append(_Row(0, None, used_up))
        return rows

    def _by_gram(self, weights: Sequence[int]) -> list[tuple[int, int]]:
        count, step = len(self._sources), self._target.step_g
        terms = [(index, weight * step) for index, weight in enumerate(weights)]
        terms += [(count + i, weight * self._rest[i]) for i, weight in enumerate(weights)]
        return [(index, weight) for index, weight in terms if weight]

    def _fill(self, solver: Highs, rows: Sequence[_Row], aim: Sequence[int]) -> None:
        from highspy import HighsVarType, kHighsInf

        for most in (*self._steps, *(int(rest > 0) for rest in self._rest)):
            solver.addVar(0, most)
        for index in range(2 * len(self._sources)):
            solver.changeColIntegrality(index, HighsVarType.kInteger)
        for index, cost in self._by_gram(aim):
            solver.changeColCost(index, float(cost))
        for row in rows:
            low = -kHighsInf if row.least is None else float(row.least)
            high = kHighsInf if row.most is None else float(row.most)
            indices = [index for index, _ in row.terms]
            values = [float(weight) for _, weight in row.terms]
            solver.addRow(low, high, len(indices), indices, values)

    def _read(self, solver: Highs) -> Best | None:
        from highspy import HighsModelStatus, SolutionStatus

        status = solver.getModelStatus()
        if status in (HighsModelStatus.kInfeasible, HighsModelStatus.kUnboundedOrInfeasible):
            return None
        proven = status == HighsModelStatus.kOptimal
        solved = solver.getInfo().primal_solution_status == SolutionStatus.kSolutionStatusFeasible
        if not (proven or solved):
            raise Refusal(
                "These trims take too long to work out. Make the steps larger, the bounds wider, "
                "or choose fewer."
            )
        values = [round(value) for value in solver.getSolution().col_value]
        count, step = len(self._sources), self._target.step_g
        grams = [values[i] * step + values[count + i] * self._rest[i] for i in range(count)]
        return Best(Mix(self._sources, tuple(grams)), proven)


def _quiet_solver() -> Highs:
    """A solver that writes nothing; one greets on standard output before it can be told."""
    from highspy import Highs

    with _no_standard_output():
        solver = Highs()  # type: ignore[no-untyped-call]  # its own stub leaves it bare
    solver.silent()
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("time_limit", SECONDS)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("mip_feasibility_tolerance", TOLERANCE)
    solver.setOptionValue("primal_feasibility_tolerance", TOLERANCE)
    return solver


@contextmanager
def _no_standard_output() -> Iterator[None]:
    """Point the process's standard output nowhere for a moment; where it has none, do nothing."""
    try:
        kept = os.dup(STDOUT)
    except OSError:
        yield
        return
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, STDOUT)
        yield
    finally:
        os.dup2(kept, STDOUT)
        os.close(nowhere)
        os.close(kept)
