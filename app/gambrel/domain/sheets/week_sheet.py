"""The weekly cost sheet as plain values: this week beside last week and what is usual."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from gambrel.domain.costing.costing import Note
from gambrel.domain.costing.ledger import Ledger
from gambrel.domain.costing.methods import Method
from gambrel.domain.numbers.apportion import apportion
from gambrel.domain.sheets.cost_weeks import COST_WEEKS, CostWeeks, cost_weeks
from gambrel.domain.sheets.cut_rows import CutRow, cut_rows
from gambrel.domain.sheets.happenings import Arrival, TakenBack, ThrownAway, taken_back
from gambrel.domain.sheets.money_flow import MoneyFlow
from gambrel.domain.sheets.money_walk import money_flow
from gambrel.domain.sheets.sections import Section
from gambrel.domain.sheets.week_figures import (
    USUAL_WEEKS,
    Figures,
    Usual,
    WeekWork,
    figures_of,
    usual,
    week_work,
)
from gambrel.domain.sheets.yields import ListYields, yields
from gambrel.domain.trade.catalogue import Shop
from gambrel.domain.trade.clock import TradeWeek, week_before
from gambrel.domain.trade.records import Source


@dataclass(frozen=True, slots=True)
class CutLine:
    """A cut this week, and what a kilo of it cost last week (None where there was none)."""

    row: CutRow
    last_cost_per_kilo: Decimal | None


@dataclass(frozen=True, slots=True)
class SupplierLine:
    """What one supplier's bodies were this week. A stage's figures go to its bodies by grams."""

    name: str
    bought_count: int
    bought_g: int
    bought: int
    short_g: int
    taken_g: int
    saleable_g: int
    saleable_cost: int
    unexplained_g: int
    unexplained: int


@dataclass(frozen=True, slots=True)
class WeekSheet:
    """One trade week. ``breaks`` took bodies; each line of ``cuts`` is of this week's pieces."""

    shop: Shop
    week: TradeWeek
    before: TradeWeek
    method: Method
    now: Figures
    last: Figures
    usual: Usual
    arrivals: tuple[Arrival, ...]
    breaks: tuple[Section, ...]
    other: tuple[Section, ...]
    cuts: tuple[CutLine, ...]
    suppliers: tuple[SupplierLine, ...]
    supplier_names: dict[str, str]
    thrown_away: tuple[ThrownAway, ...]
    taken_back: tuple[TakenBack, ...]
    notes: tuple[Note, ...]
    flow: MoneyFlow
    yields: tuple[ListYields, ...]
    costs: CostWeeks

    @property
    def is_empty(self) -> bool:
        """Whether nothing was bought, worked on or thrown away."""
        return not (self.arrivals or self.breaks or self.other or self.thrown_away)


def week_sheet(ledger: Ledger, week: TradeWeek) -> WeekSheet:
    """Gather one trade week, and the weeks before for comparison."""
    period = ledger.week(week)
    works = _works(ledger, week)
    work, before = works[-1], works[-2]
    found = work.sections
    breaks = tuple(section for section in found if section.bodies)
    return WeekSheet(
        shop=ledger.trade.shop,
        week=week,
        before=before.week,
        method=ledger.costing.method,
        now=figures_of(ledger, work),
        last=figures_of(ledger, before),
        usual=usual(works[-1 - USUAL_WEEKS : -1]),
        arrivals=work.arrivals,
        breaks=breaks,
        other=tuple(section for section in found if not section.bodies),
        cuts=tuple(_cut_lines(ledger, week, before.week)),
        suppliers=tuple(_supplier_lines(ledger, work.arrivals, breaks)),
        supplier_names=ledger.suppliers,
        thrown_away=work.thrown_away,
        taken_back=tuple(taken_back(ledger, period)),
        notes=tuple(_notes(ledger, found, work.arrivals)),
        flow=money_flow(ledger, period),
        yields=yields(ledger, period),
        costs=cost_weeks(ledger, works),
    )


def _works(ledger: Ledger, week: TradeWeek) -> list[WeekWork]:
    """The weeks of the cost lines, the oldest first and this one last."""
    weeks = [week]
    while len(weeks) < COST_WEEKS:
        weeks.append(week_before(weeks[-1], ledger.trade.shop))
    return [week_work(ledger, each) for each in reversed(weeks)]


def _notes(ledger: Ledger, found: Sequence[Section], came: Sequence[Arrival]) -> list[Note]:
    """What the costing has to say about this period's bodies, stages and pieces."""
    keys = {section.stage.key for section in found} | {row.body.key for row in came}
    keys |= {body.body.key for section in found for body in section.bodies}
    keys |= {part.piece.key for section in found for part in ledger.by_stage[section.stage.key]}
    return [note for note in ledger.costing.notes if note.about in keys]


def _cut_lines(ledger: Ledger, week: TradeWeek, before: TradeWeek) -> list[CutLine]:
    last = {row.cut.key: row.cost_per_kilo for row in _week_rows(ledger, before)}
    return [CutLine(row, last.get(row.cut.key)) for row in _week_rows(ledger, week)]


def _week_rows(ledger: Ledger, week: TradeWeek) -> list[CutRow]:
    period = ledger.week(week)
    pieces = [part for part in ledger.costing.pieces if period.holds(part.piece.weighed_at)]
    return cut_rows(ledger, pieces)


def _supplier_lines(
    ledger: Ledger, came: Sequence[Arrival], breaks: tuple[Section, ...]
) -> list[SupplierLine]:
    shares: dict[str, list[int]] = {}
    for section in breaks:
        for key, parts in _by_supplier(ledger, section).items():
            sums = shares.setdefault(key, [0] * len(parts))
            shares[key] = [a + b for a, b in zip(sums, parts, strict=True)]
    keys = [row.body.supplier for row in came] + list(shares)
    lines = []
    for key in sorted(set(keys), key=ledger.supplier):
        own = [row for row in came if row.body.supplier == key]
        lines.append(
            SupplierLine(
                ledger.supplier(key),
                len(own),
                sum(row.body.received_g for row in own),
                sum(row.body.bought for row in own),
                sum(row.short_g or 0 for row in own),
                *shares.get(key, [0] * 5),
            )
        )
    return lines


def _by_supplier(ledger: Ledger, section: Section) -> dict[str, list[int]]:
    """Taken, saleable grams and cost, and loss, by the suppliers of a stage's bodies."""
    weights = [row.grams for row in section.inputs]
    columns = [
        [row.grams if section.started else 0 for row in section.inputs],
        apportion(section.saleable_g, weights),
        apportion(section.saleable_cost, weights),
        apportion(section.balance.unexplained_g, weights),
        apportion(section.balance.unexplained, weights),
    ]
    found: dict[str, list[int]] = {}
    for index, row in enumerate(section.inputs):
        if row.source is not Source.BODY:
            continue
        key = ledger.bodies[row.key].body.supplier
        sums = found.setdefault(key, [0] * len(columns))
        found[key] = [a + column[index] for a, column in zip(sums, columns, strict=True)]
    return found
