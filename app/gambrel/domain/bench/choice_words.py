"""A choice told in a sentence or two: what it earns, from what, and how long it may take."""

from __future__ import annotations

from decimal import ROUND_FLOOR, Decimal

from gambrel.domain.bench.choice import Choice, Made
from gambrel.domain.trade.formats import MINUS, Formats, whole


def choice_sentence(choice: Choice, formats: Formats) -> str:
    """What the way earns against the other, and until how many minutes.

    Rates in it are what a kilo fetches before tax, its finishing paid.
    """
    return f"{_earning(choice, formats)}: {_sum(choice, formats)}. {_limit(choice, formats)}"


def parts_name(parts: tuple[Made, ...], formats: Formats) -> str:
    """What a way makes, for its name: the cut, or every cut with its share of the kilos."""
    if len(parts) == 1 and parts[0].share == 1:
        return parts[0].cut.name
    names = [f"{_percent(made.share, formats)} {made.cut.name}" for made in parts]
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)


def _percent(share: Decimal, formats: Formats) -> str:
    return formats.percent(share, 0 if share == round(share, 2) else 1)


def _earning(choice: Choice, formats: Formats) -> str:
    way, other, earns = choice.way.name, choice.other.name, choice.earns
    if not earns:
        return f"As {way} it earns as much as it would as {other}"
    how = "more" if earns > 0 else "less"
    return f"As {way} it earns {formats.money(abs(earns))} {how} than as {other}"


def _sum(choice: Choice, formats: Formats) -> str:
    """Figures that come to what is earned, also for somebody who works them out again."""
    one, two = whole(choice.rate), whole(choice.other_rate)
    if one == choice.rate and two == choice.other_rate:
        told = f"{formats.kg(choice.grams)} kg × ({_less(one, two, formats)})"
    else:  # rounded rates would not give these sums
        sums = _less(choice.worth, choice.other_worth, formats)
        told = f"{sums} for {formats.kg(choice.grams)} kg"
    minutes = choice.way.minutes - choice.other.minutes
    if not minutes or not choice.work_per_hour:
        return told
    work = f"{formats.minutes(abs(minutes))} of work ({formats.money(abs(choice.work))})"
    return f"{told}, less {work}" if minutes > 0 else f"{told}, and {work} saved"


def _less(one: int, two: int, formats: Formats) -> str:
    sign = "+" if two < 0 else MINUS
    return f"{formats.money(one)} {sign} {formats.money(abs(two))}"


def _limit(choice: Choice, formats: Formats) -> str:
    within, spare = choice.pays_within, choice.spare_minutes
    if spare is None:
        return "Minutes cost nothing here."
    if choice.earns > 0:
        return f"It stops paying after {_at_most(spare, formats, more=True)}."
    if within is None:
        return "It would not pay however quick it was."
    if not choice.earns:
        return "With any more work it would earn less."
    return f"It would pay within {_at_most(within, formats)}."


def _at_most(minutes: Decimal, formats: Formats, *, more: bool = False) -> str:
    """Minutes that are surely inside a limit: whole ones, rounded down."""
    number = int(minutes.to_integral_value(rounding=ROUND_FLOOR))
    if not number:
        return "less than one more minute" if more else "less than a minute"
    return f"another {formats.minutes(number)}" if more else formats.minutes(number)
