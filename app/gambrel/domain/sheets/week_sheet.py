"""The weekly cost sheet as plain values: this week beside last week."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from gambrel.domain.bench.hanging import Hanging, hanging_at
from gambrel.domain.costing.costing import Note
from gambrel.domain.costing.ledger import Ledger
from gambrel.domain.costing.methods import Method
from gambrel.domain.numbers.apportion import apportion
from gambrel.domain.sheets.cut_rows import CutRow, cut_rows
from gambrel.domain.sheets.happenings import (
    Arrival,
    TakenBack,
    ThrownAway,
    arrivals,
    taken_back,
    thrown_away,
)
from gambrel.domain.sheets.sections import Section, sections
from gambrel.domain.sheets.summary import Summary, summarise
from gambrel.domain.trade.catalogue import Shop
from gambrel.domain.trade.clock import TradeWeek, week_before
from gambrel.domain.trade.records import Source


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
    arrivals: tuple[Arrival, ...]
    breaks: tuple[Section, ...]
    other: tuple[Section, ...]
    cuts: tuple[CutLine, ...]
    suppliers: tuple[SupplierLine, ...]
    supplier_names: dict[str, str]
    thrown_away: tuple[ThrownAway, ...]
    taken_back: tuple[TakenBack, ...]
    notes: tuple[Note, ...]

    @property
    def is_empty(self) -> bool:
        """Whether nothing was bought, worked on or thrown away."""
        return not (self.arrivals or self.breaks or self.other or self.thrown_away)


def week_sheet(ledger: Ledger, week: TradeWeek) -> WeekSheet:
    """Gather one trade week, and the week before for comparison."""
    period = ledger.week(week)
    before = week_before(week, ledger.trade.shop)
    found = sections(ledger, period)
    came = arrivals(ledger, period)
    thrown = thrown_away(ledger, period)
    now = _figures(ledger, week, found, came, thrown)
    breaks = tuple(section for section in found if section.bodies)
    return WeekSheet(
        shop=ledger.trade.shop,
        week=week,
        before=before,
        method=ledger.costing.method,
        now=now,
        last=_past_figures(ledger, before),
        arrivals=tuple(came),
        breaks=breaks,
        other=tuple(section for section in found if not section.bodies),
        cuts=tuple(_cut_lines(ledger, week, before)),
        suppliers=tuple(_supplier_lines(ledger, came, breaks)),
        supplier_names=ledger.suppliers,
        thrown_away=tuple(thrown),
        taken_back=tuple(taken_back(ledger, period)),
        notes=tuple(_notes(ledger, found, came)),
    )


def _notes(ledger: Ledger, found: list[Section], came: list[Arrival]) -> list[Note]:
    """What the costing has to say about this period's bodies, stages and pieces."""
    keys = {section.stage.key for section in found} | {row.body.key for row in came}
    keys |= {body.body.key for section in found for body in section.bodies}
    keys |= {part.piece.key for section in found for part in ledger.by_stage[section.stage.key]}
    return [note for note in ledger.costing.notes if note.about in keys]


def _past_figures(ledger: Ledger, week: TradeWeek) -> Figures:
    period = ledger.week(week)
    return _figures(
        ledger,
        week,
        sections(ledger, period),
        arrivals(ledger, period),
        thrown_away(ledger, period),
    )


def _figures(
    ledger: Ledger,
    week: TradeWeek,
    found: list[Section],
    came: list[Arrival],
    thrown: list[ThrownAway],
) -> Figures:
    period = ledger.week(week)
    hung = sum(row.left_g for row in hanging_at(ledger.trade, period.begins))
    hanging = tuple(hanging_at(ledger.trade, period.ends))
    bought_g = sum(row.body.received_g for row in came)
    summary = summarise(found)
    return Figures(
        bought_count=len(came),
        bought_g=bought_g,
        bought=sum(row.body.bought for row in came),
        summary=summary,
        hanging=hanging,
        dried_g=hung + bought_g - summary.taken_g - sum(row.left_g for row in hanging),
        written_off=sum(row.cost for row in thrown),
    )


def _cut_lines(ledger: Ledger, week: TradeWeek, before: TradeWeek) -> list[CutLine]:
    last = {row.cut.key: row.cost_per_kilo for row in _week_rows(ledger, before)}
    return [CutLine(row, last.get(row.cut.key)) for row in _week_rows(ledger, week)]


def _week_rows(ledger: Ledger, week: TradeWeek) -> list[CutRow]:
    period = ledger.week(week)
    pieces = [part for part in ledger.costing.pieces if period.holds(part.piece.weighed_at)]
    return cut_rows(ledger, pieces)


def _supplier_lines(
    ledger: Ledger, came: list[Arrival], breaks: tuple[Section, ...]
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
