"""A trade and its costing laid side by side, looked up by key: what every sheet is made from."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from decimal import Decimal

from gambrel.domain.costing.costing import BodyCost, Costing, PieceCost
from gambrel.domain.trade.clock import TradeWeek, day_begins
from gambrel.domain.trade.records import Input, Piece, Source, Trade


@dataclass(frozen=True, slots=True)
class Period:
    """A stretch of business days, from its first moment to the first moment after it."""

    begins: datetime
    ends: datetime

    def holds(self, moment: datetime | None) -> bool:
        """Whether something happened within it; what has not happened did not."""
        return moment is not None and self.begins <= moment < self.ends


@dataclass(frozen=True)
class Ledger:
    """Everything about a trade that a sheet asks for, gathered once."""

    trade: Trade
    costing: Costing
    bodies: dict[str, BodyCost] = field(init=False)
    pieces: dict[str, PieceCost] = field(init=False)
    by_stage: dict[str, list[PieceCost]] = field(init=False)
    suppliers: dict[str, str] = field(init=False)
    norms: dict[tuple[str, str], Decimal] = field(init=False)
    list_cuts: dict[str, list[str]] = field(init=False)
    ingredients: dict[str, list[Input]] = field(init=False)

    def __post_init__(self) -> None:
        by_stage: dict[str, list[PieceCost]] = defaultdict(list)
        for cost in self.costing.pieces:
            by_stage[cost.piece.stage].append(cost)
        ingredients: dict[str, list[Input]] = defaultdict(list)
        for row in self.trade.inputs:
            if row.source is Source.INGREDIENT:
                ingredients[row.stage].append(row)
        lines = sorted(self.trade.lists, key=lambda line: line.position)
        list_cuts: dict[str, list[str]] = defaultdict(list)
        for line in lines:
            list_cuts[line.list].append(line.cut)
        found = {
            "bodies": {cost.body.key: cost for cost in self.costing.bodies},
            "pieces": {cost.piece.key: cost for cost in self.costing.pieces},
            "by_stage": by_stage,
            "suppliers": {supplier.key: supplier.name for supplier in self.trade.suppliers},
            "norms": {
                (line.list, line.cut): line.norm_percent / 100
                for line in lines
                if line.norm_percent is not None
            },
            "list_cuts": list_cuts,
            "ingredients": ingredients,
        }
        for name, value in found.items():
            object.__setattr__(self, name, value)

    def supplier(self, key: str) -> str:
        """A supplier's name; the key where the trade has no name for it."""
        return self.suppliers.get(key, key)

    def cut_name(self, piece: Piece) -> str:
        """What a piece is called; the key where the trade has no such cut."""
        cut = self.costing.cuts_by_key.get(piece.cut)
        return cut.name if cut else piece.cut

    def day(self, day: date) -> Period:
        """One business day."""
        shop = self.trade.shop
        return Period(day_begins(day, shop), day_begins(day + timedelta(days=1), shop))

    def week(self, week: TradeWeek) -> Period:
        """The seven business days of a trade week."""
        return Period(self.day(week.first).begins, self.day(week.last).ends)
