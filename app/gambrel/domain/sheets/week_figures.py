"""One trade week in figures, and what is usual: the middle of the weeks before."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import TypeVar

from gambrel.domain.bench.hanging import Hanging, hanging_at
from gambrel.domain.costing.ledger import Ledger
from gambrel.domain.numbers.money import round_half_up
from gambrel.domain.sheets.happenings import Arrival, ThrownAway, arrivals, thrown_away
from gambrel.domain.sheets.sections import Section, sections
from gambrel.domain.sheets.summary import Summary, summarise
from gambrel.domain.trade.clock import TradeWeek

T = TypeVar("T")

USUAL_WEEKS = 8
"""Over so many weeks before something is usual: two months of a trade that changes with the
season (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Figures:
    """One week in figures. Weights are grams, money minor units.

    ``dried_g`` is what the air took: hung before + bought − taken to the block − hangs after.
    """

    bought_count: int
    bought_g: int
    bought: int
    summary: Summary
    hanging: tuple[Hanging, ...]
    dried_g: int
    written_off: int

    @property
    def hanging_g(self) -> int:
        """What hangs at the end of the week."""
        return sum(row.left_g for row in self.hanging)

    @property
    def hanging_cost(self) -> int:
        """The money in what hangs at the end of the week."""
        return sum(row.left_cost for row in self.hanging)


@dataclass(frozen=True, slots=True)
class Usual:
    """The medians of the weeks before that were not quiet; ``weeks`` says of how many.

    Weights are grams, money minor units, a half rounded up; None where no week had the figure.
    """

    weeks: int
    bought: int | None
    taken_g: int | None
    taken_cost: int | None
    saleable_g: int | None
    margin: int | None
    margin_share: Decimal | None
    unexplained: int | None


@dataclass(frozen=True, slots=True)
class WeekWork:
    """A week with the stages, bodies and losses that its figures are made of."""

    week: TradeWeek
    sections: tuple[Section, ...]
    summary: Summary
    arrivals: tuple[Arrival, ...]
    thrown_away: tuple[ThrownAway, ...]

    @property
    def bought(self) -> int:
        """What the bodies cost that came in, minor units."""
        return sum(row.body.bought for row in self.arrivals)

    @property
    def is_quiet(self) -> bool:
        """Whether the shop neither bought nor worked: such a week says nothing of the usual."""
        return not (self.arrivals or self.sections)


def week_work(ledger: Ledger, week: TradeWeek) -> WeekWork:
    """Gather what happened in a trade week."""
    period = ledger.week(week)
    found = tuple(sections(ledger, period))
    came, thrown = arrivals(ledger, period), thrown_away(ledger, period)
    return WeekWork(week, found, summarise(found), tuple(came), tuple(thrown))


def figures_of(ledger: Ledger, work: WeekWork) -> Figures:
    """A week in figures, the rail at its end included."""
    period, summary = ledger.week(work.week), work.summary
    hung = sum(row.left_g for row in hanging_at(ledger.trade, period.begins))
    hanging = tuple(hanging_at(ledger.trade, period.ends))
    bought_g = sum(row.body.received_g for row in work.arrivals)
    return Figures(
        bought_count=len(work.arrivals),
        bought_g=bought_g,
        bought=work.bought,
        summary=summary,
        hanging=hanging,
        dried_g=hung + bought_g - summary.taken_g - sum(row.left_g for row in hanging),
        written_off=sum(row.cost for row in work.thrown_away),
    )


def usual(before: Sequence[WeekWork]) -> Usual:
    """What is usual, from the weeks before, in any order."""
    busy = [work for work in before if not work.is_quiet]

    def middle(read: Callable[[WeekWork], int]) -> int | None:
        return median([read(work) for work in busy])

    shares = [work.summary.earning.share for work in busy]
    return Usual(
        weeks=len(busy),
        bought=middle(lambda work: work.bought),
        taken_g=middle(lambda work: work.summary.taken_g),
        taken_cost=middle(lambda work: work.summary.taken_cost),
        saleable_g=middle(lambda work: work.summary.saleable_g),
        margin=middle(lambda work: work.summary.earning.margin),
        margin_share=_middle_share([share for share in shares if share is not None]),
        unexplained=middle(lambda work: work.summary.unexplained),
    )


def median(values: Sequence[int]) -> int | None:
    """The middle of whole numbers, or of the two middle ones, half up; None of none."""
    two = _middle_two(sorted(values))
    return round_half_up(sum(two), 2) if two else None


def _middle_share(shares: Sequence[Decimal]) -> Decimal | None:
    two = _middle_two(sorted(shares))
    return sum(two, Decimal(0)) / 2 if two else None


def _middle_two(ordered: Sequence[T]) -> tuple[T, ...]:
    count = len(ordered)
    return (ordered[(count - 1) // 2], ordered[count // 2]) if count else ()
