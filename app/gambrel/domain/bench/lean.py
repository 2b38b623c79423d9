"""Lean targets over several trims: what is asked, what can be reached, and how near a mix comes.

Lean and fat are per cent of the weight and sum to a hundred. The mix itself is found by a solver
behind the tub's service; here everything is exact, and what it found is looked at again. Pure.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from gambrel.domain.bench.blends import square
from gambrel.domain.numbers.mass import GRAMS_PER_KILO, kg_text
from gambrel.domain.refusals import Refusal

STEP_G = 10
"""Grams to which a mix is rounded unless the shop sets its own."""
STEP_SETTING = "blend-step-g"
"""The name under which a shop keeps its own."""
FINEST = Decimal("0.01")
"""Lean is given to a hundredth of a per cent: nobody measures finer, and a solver needs it so."""


class Prefer(StrEnum):
    """What decides between mixes that reach the target; the other decides between equals."""

    CHEAPEST = "cheapest"
    OLDEST = "oldest"


@dataclass(frozen=True, slots=True)
class TrimSource:
    """A trim that may go into a mix: its lean in per cent, and how much of it at least and at most.

    ``price`` is what it costs (minor units per kilogram), ``hours`` its age. A fixed amount has
    the same least and most.
    """

    key: str
    name: str
    lean: Decimal
    most_g: int
    least_g: int = 0
    price: int = 0
    hours: int = 0


@dataclass(frozen=True, slots=True)
class Target:
    """So many grams of a lean between two bounds, every trim in whole steps or to its last gram.

    Trims that are used up may make the mix heavier than ``grams``, by less than a step.
    """

    grams: int
    lean_least: Decimal
    lean_most: Decimal
    step_g: int = STEP_G
    prefer: Prefer = Prefer.CHEAPEST


@dataclass(frozen=True, slots=True)
class Mix:
    """Grams of each trim, in the order of the sources."""

    sources: tuple[TrimSource, ...]
    grams: tuple[int, ...]

    @property
    def total_g(self) -> int:
        """What it weighs."""
        return sum(self.grams)

    @property
    def lean_percent(self) -> Decimal:
        """Its lean in per cent, not rounded.

        Raises:
            ZeroDivisionError: An empty mix has none.
        """
        return self._of("lean") / self.total_g

    @property
    def cost(self) -> Decimal:
        """What it costs in minor units, not rounded: a guide to choose by, never booked."""
        return self._of("price") / GRAMS_PER_KILO

    def _of(self, field: str) -> Decimal:
        rows = zip(self.sources, self.grams, strict=True)
        return sum((grams * getattr(source, field) for source, grams in rows), Decimal(0))

    def reaches(self, target: Target) -> bool:
        """Whether every limit holds, in whole grams and exactly."""
        lean = self._of("lean")
        return (
            0 <= self.total_g - target.grams < target.step_g
            and target.lean_least * self.total_g <= lean <= target.lean_most * self.total_g
            and all(
                source.least_g <= grams <= source.most_g
                and (grams % target.step_g == 0 or grams == source.most_g)
                for source, grams in zip(self.sources, self.grams, strict=True)
            )
        )


def extreme(sources: Sequence[TrimSource], grams: int, *, leanest: bool) -> Mix:
    """The leanest or the fattest mix of a weight that the sources' bounds allow, steps aside.

    First what each must give, then the rest from one end of the lean to the other.

    Args:
        sources: Their least grams sum to ``grams`` or less, their most to ``grams`` or more.
        grams: What the mix weighs.
        leanest: Which end to fill from.
    """
    order = sorted(range(len(sources)), key=lambda i: sources[i].lean, reverse=leanest)
    taken = [source.least_g for source in sources]
    left = grams - sum(taken)
    for index in order:
        more = min(left, sources[index].most_g - taken[index])
        taken[index] += more
        left -= more
    return Mix(tuple(sources), tuple(taken))


def furthest(sources: Sequence[TrimSource], target: Target, *, leanest: bool) -> Mix:
    """The leanest or the fattest mix of any weight that a target allows, steps aside.

    More weight moves the lean one way until a trim is used up and then maybe the other; so only the
    ends and the weights at which a trim is used up can be the furthest.
    """
    least = max(target.grams, sum(source.least_g for source in sources))
    most = min(target.grams + target.step_g - 1, sum(source.most_g for source in sources))
    weight = sum(source.least_g for source in sources)
    weights = {least, most}
    for source in sorted(sources, key=lambda source: source.lean, reverse=leanest):
        weight += source.most_g - source.least_g
        if least < weight < most:
            weights.add(weight)
    mixes = [extreme(sources, grams, leanest=leanest) for grams in sorted(weights)]
    return (max if leanest else min)(mixes, key=lambda mix: mix.lean_percent)


def refuse_if_out_of_reach(sources: Sequence[TrimSource], target: Target) -> None:
    """Say no to a target that no mix reaches.

    Raises:
        Refusal: By how much it is out of reach, and which limits hold it there.
    """
    _refuse_if_absurd(sources, target)
    most, least = sum(s.most_g for s in sources), sum(s.least_g for s in sources)
    if most < target.grams:
        raise Refusal(
            f"{kg_text(target.grams)} kg is asked for, but these trims give {kg_text(most)} kg at "
            f"most. {kg_text(target.grams - most)} kg is missing: ask for less, or add trim."
        )
    if least >= target.grams + target.step_g:
        raise Refusal(
            f"What must go in weighs {kg_text(least)} kg already, "
            f"{kg_text(least - target.grams)} kg more than the {kg_text(target.grams)} kg asked "
            "for. Ask for more, or lower what must go in."
        )
    asked = max(target.grams, least)  # what is said is of this weight, not of a few grams more
    if furthest(sources, target, leanest=True).lean_percent < target.lean_least:
        leanest = extreme(sources, asked, leanest=True)
        raise Refusal(
            f"The leanest mix of {kg_text(leanest.total_g)} kg has "
            f"{_percent(leanest.lean_percent)} lean, "
            f"{_points(target.lean_least - leanest.lean_percent)} short of "
            f"{_percent(target.lean_least)}. "
            f"{_held(leanest, leaner=True)}Ask for less, or add leaner trim."
        )
    if furthest(sources, target, leanest=False).lean_percent > target.lean_most:
        fattest = extreme(sources, asked, leanest=False)
        raise Refusal(
            f"The fattest mix of {kg_text(fattest.total_g)} kg has "
            f"{_percent(fattest.lean_percent)} lean, "
            f"{_points(fattest.lean_percent - target.lean_most)} above "
            f"{_percent(target.lean_most)}. "
            f"{_held(fattest, leaner=False)}Ask for less, or add fatter trim."
        )


def mix_by_square(sources: Sequence[TrimSource], target: Target) -> Mix:
    """Two trims to one lean exactly, to a gram, by the square.

    Raises:
        Refusal: There are not two trims, the lean does not lie between theirs, or the bounds of
            one do not allow its part.
    """
    if len(sources) != 2 or target.lean_least != target.lean_most:
        raise Refusal("The square takes two trims and one lean. Choose two, or give two bounds.")
    _refuse_if_absurd(sources, target)
    fat, lean = sorted(sources, key=lambda source: source.lean)
    found = square(target.grams, 100 - fat.lean, 100 - lean.lean, 100 - target.lean_least)
    parts = {fat.key: found.fat_g, lean.key: found.lean_g}
    for source in sources:
        grams = parts[source.key]
        if not source.least_g <= grams <= source.most_g:
            bound = source.most_g if grams > source.most_g else source.least_g
            word = "at most" if grams > source.most_g else "at least"
            raise Refusal(
                f"The square wants {kg_text(grams)} kg of {source.name}, but {word} "
                f"{kg_text(bound)} kg may go in. Change the batch, or add another trim."
            )
    return Mix(tuple(sources), tuple(parts[source.key] for source in sources))


def no_steps(target: Target) -> Refusal:
    """What to say where the bounds can be reached, but not in whole steps."""
    return Refusal(
        f"No mix in steps of {target.step_g} g lands between {_percent(target.lean_least)} and "
        f"{_percent(target.lean_most)} lean. Make the steps smaller or the bounds wider."
    )


def _refuse_if_absurd(sources: Sequence[TrimSource], target: Target) -> None:
    if not sources:
        raise Refusal("No trim is chosen. Choose what may go into the blend.")
    if target.grams <= 0 or target.step_g <= 0:
        raise Refusal("A blend and its steps weigh more than nothing. Type the kilos again.")
    if not 0 <= target.lean_least <= target.lean_most <= 100:
        raise Refusal("Lean lies between 0 and 100 per cent, the least not above the most.")
    for percent in (target.lean_least, target.lean_most, *(source.lean for source in sources)):
        if percent % FINEST:
            raise Refusal(f"{percent} % lean is too fine. Give it to a hundredth of a per cent.")
    for source in sources:
        if not 0 <= source.lean <= 100:
            raise Refusal(f"{source.name} cannot be {_percent(source.lean)} lean. Correct it.")
        if not 0 <= source.least_g <= source.most_g:
            raise Refusal(
                f"At least {kg_text(source.least_g)} kg and at most {kg_text(source.most_g)} kg of "
                f"{source.name} cannot both hold. Change one."
            )


def _held(mix: Mix, *, leaner: bool) -> str:
    """Which bounds keep a mix from going further: trims used up, and trims that must go in."""
    lean, said = mix.lean_percent, []
    for source, grams in zip(mix.sources, mix.grams, strict=True):
        wanted = source.lean > lean if leaner else source.lean < lean
        if wanted and grams == source.most_g:
            said.append(f"All {kg_text(grams)} kg of {source.name} is in it. ")
        elif not wanted and source.least_g and grams == source.least_g and source.lean != lean:
            said.append(f"{kg_text(grams)} kg of {source.name} must go in. ")
    return "".join(said)


def _percent(number: Decimal) -> str:
    return f"{number:.2f}".rstrip("0").rstrip(".") + " %"


def _points(number: Decimal) -> str:
    return f"{number:.2f}" if number >= Decimal("0.005") else "a hair"
