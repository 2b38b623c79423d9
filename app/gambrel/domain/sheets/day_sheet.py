"""The daily breakdown sheet as plain values: every body that was worked on in one business day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from gambrel.domain.costing.ledger import Ledger
from gambrel.domain.costing.methods import Method
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


@dataclass(frozen=True, slots=True)
class DaySheet:
    """One business day. ``breaks`` took bodies; ``other`` are the trim-outs and blends."""

    shop: Shop
    day: date
    method: Method
    breaks: tuple[Section, ...]
    other: tuple[Section, ...]
    arrivals: tuple[Arrival, ...]
    taken_back: tuple[TakenBack, ...]
    thrown_away: tuple[ThrownAway, ...]
    summary: Summary
    supplier_names: dict[str, str]

    @property
    def is_empty(self) -> bool:
        """Whether nothing at all happened."""
        return not (
            self.breaks or self.other or self.arrivals or self.taken_back or self.thrown_away
        )


def day_sheet(ledger: Ledger, day: date) -> DaySheet:
    """Gather one business day of a trade."""
    period = ledger.day(day)
    found = sections(ledger, period)
    return DaySheet(
        shop=ledger.trade.shop,
        day=day,
        method=ledger.costing.method,
        breaks=tuple(section for section in found if section.bodies),
        other=tuple(section for section in found if not section.bodies),
        arrivals=tuple(arrivals(ledger, period)),
        taken_back=tuple(taken_back(ledger, period)),
        thrown_away=tuple(thrown_away(ledger, period)),
        summary=summarise(found),
        supplier_names=ledger.suppliers,
    )
