"""What bodies yielded beside their norm, and beside what bodies yielded before."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from gambrel.domain.costing.costing import StageCost
from gambrel.domain.costing.ledger import Ledger, Period
from gambrel.domain.review.individuals import LEAST, Limits, individuals
from gambrel.domain.sheets.sections import done_at
from gambrel.domain.trade.records import Source

MOST_BEFORE = 50
"""So many bodies before tell how it has been; older ones were cut by other hands."""


@dataclass(frozen=True, slots=True)
class YieldDot:
    """What one stage's bodies gave: parts of what it took. ``outside`` of the limits, if any."""

    stage: str
    bodies: str
    share: Decimal
    outside: bool


@dataclass(frozen=True, slots=True)
class YieldRow:
    """One cut of a cutting list, or all that it gives for sale (``cut`` empty).

    ``dots`` are of the period. ``norm`` is the shop's; ``limits`` come from ``before`` bodies and
    are None while ``wanting`` more are needed. Shares are parts of the input.
    """

    list: str
    cut: str
    name: str
    dots: tuple[YieldDot, ...]
    norm: Decimal | None
    limits: Limits | None
    before: int

    @property
    def wanting(self) -> int:
        """How many more bodies there must be until limits can be drawn."""
        return max(LEAST - self.before, 0)

    @property
    def outside(self) -> tuple[YieldDot, ...]:
        """Those that fell out of the limits."""
        return tuple(dot for dot in self.dots if dot.outside)


@dataclass(frozen=True, slots=True)
class ListYields:
    """A cutting list of the period: all that is saleable, then cut by cut in the list's order."""

    list: str
    whole: YieldRow
    cuts: tuple[YieldRow, ...]


@dataclass(frozen=True, slots=True)
class _Broken:
    """One finished stage: when, its bodies, what it took and gave by cut."""

    stage: str
    done: datetime
    bodies: str
    input_g: int
    by_cut: dict[str, int]
    saleable_g: int

    def share(self, cut: str) -> Decimal:
        """A cut's part of the input; of all saleable for the empty name."""
        return Decimal(self.by_cut.get(cut, 0) if cut else self.saleable_g) / self.input_g


def yields(ledger: Ledger, period: Period) -> tuple[ListYields, ...]:
    """The yields of every cutting list by which bodies were finished in a period, by name."""
    by_list: dict[str, list[_Broken]] = defaultdict(list)
    for cost in ledger.costing.stages:
        broken = _broken(ledger, cost) if cost.stage.list else None
        if broken is not None and broken.done < period.ends:
            by_list[cost.stage.list].append(broken)
    found = []
    for name in sorted(by_list):
        order = sorted(by_list[name], key=lambda row: (row.done, row.stage))
        here = [row for row in order if row.done >= period.begins]
        if here:
            before = [row for row in order if row.done < period.begins][-MOST_BEFORE:]
            found.append(_list_yields(ledger, name, before, here))
    return tuple(found)


def _broken(ledger: Ledger, cost: StageCost) -> _Broken | None:
    bodies = [take.key for take in cost.takes if take.source is Source.BODY]
    pieces = ledger.by_stage.get(cost.stage.key, [])
    done = done_at(cost.stage, pieces)
    if not bodies or done is None or not cost.input_g:
        return None
    by_cut: dict[str, int] = defaultdict(int)
    for part in pieces:
        by_cut[part.piece.cut] += part.piece.net_g
    names = " + ".join(bodies)
    return _Broken(cost.stage.key, done, names, cost.input_g, by_cut, cost.saleable_g)


def _list_yields(
    ledger: Ledger, name: str, before: list[_Broken], here: list[_Broken]
) -> ListYields:
    listed = ledger.list_cuts.get(name, [])
    beside = [cut for row in here for cut in row.by_cut if cut not in listed]
    cuts = [cut for cut in (*listed, *dict.fromkeys(beside)) if cut in ledger.costing.cuts_by_key]
    rows = [_row(ledger, name, cut, before, here) for cut in cuts]
    return ListYields(name, _row(ledger, name, "", before, here), tuple(rows))


def _row(
    ledger: Ledger, name: str, cut: str, before: list[_Broken], here: list[_Broken]
) -> YieldRow:
    past = [float(row.share(cut)) for row in before]
    limits = individuals(past) if len(past) >= LEAST else None
    dots = [
        YieldDot(
            row.stage,
            row.bodies,
            row.share(cut),
            limits is not None and not limits.holds(float(row.share(cut))),
        )
        for row in here
    ]
    called = ledger.costing.cuts_by_key[cut].name if cut else name
    return YieldRow(name, cut, called, tuple(dots), _norm(ledger, name, cut), limits, len(past))


def _norm(ledger: Ledger, name: str, cut: str) -> Decimal | None:
    """A cut's norm; all that is saleable has one where every such cut of the list has."""
    if cut:
        return ledger.norms.get((name, cut))
    known = ledger.costing.cuts_by_key
    listed = [key for key in ledger.list_cuts.get(name, []) if key in known]
    norms = [ledger.norms.get((name, key)) for key in listed if known[key].kind.bears_cost]
    found = [norm for norm in norms if norm is not None]
    return sum(found, Decimal(0)) if norms and len(found) == len(norms) else None
