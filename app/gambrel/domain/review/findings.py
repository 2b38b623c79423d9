"""What a review has found so far, and the questions that it asks of every kind of row."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import NamedTuple

from gambrel.domain.numbers.mass import HEAVIEST_G, kg_text
from gambrel.domain.refusals import Problem
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.near import did_you_mean
from gambrel.domain.trade.records import Trade
from gambrel.domain.trade.rows import Record, RowKey, row_key


class Kind(NamedTuple):
    """A kind of thing that rows name: its table and the word for one of it."""

    table: str
    word: str


SUPPLIER = Kind("suppliers", "supplier")
CUT = Kind("cuts", "cut")
LIST = Kind("cutting_lists", "cutting list")
BODY = Kind("bodies", "body")
STAGE = Kind("stages", "stage")
PIECE = Kind("pieces", "piece")


@dataclass(frozen=True, slots=True)
class Refused:
    """What was refused before the review: keys by table, and tables not readable at all.

    A body whose reweigh was refused stands here too: what is left of it is not known.
    """

    keys: Mapping[str, Collection[str]] = field(default_factory=dict)
    tables: Collection[str] = ()

    def excuses(self, table: str, key: str) -> bool:
        """Whether a missing row may be one of those."""
        return table in self.tables or key in self.keys.get(table, ())


NOTHING_REFUSED = Refused()


class Findings:
    """Problems, and in ``bad`` the keys of rows that are not sound, by table."""

    def __init__(self, trade: Trade, refused: Refused) -> None:
        self.problems: list[Problem] = []
        self.bad: dict[str, set[RowKey]] = defaultdict(set)
        self.bodies = {body.key: body for body in trade.bodies}
        self.stages = {stage.key: stage for stage in trade.stages}
        self.pieces = {piece.key: piece for piece in trade.pieces}
        self.cuts = {cut.key: cut for cut in trade.cuts}
        self.shop = trade.shop
        self._refused = refused
        self._known: dict[str, Collection[str]] = {
            "suppliers": {supplier.key for supplier in trade.suppliers},
            "cuts": self.cuts,
            "cutting_lists": {line.list for line in trade.lists},
            "bodies": self.bodies,
            "stages": self.stages,
            "pieces": self.pieces,
        }
        unsure = self.bodies if "reweighs" in refused.tables else refused.keys.get("bodies", ())
        self.bad["bodies"].update((key,) for key in unsure)

    def refuse(self, table: str, row: Record, column: str, message: str) -> None:
        """Name one thing that is wrong with a row."""
        key = row_key(row)
        self.bad[table].add(key)
        self.problems.append(Problem(table, key, column, message))

    def need(self, table: str, row: Record, column: str, kind: Kind, key: str) -> None:
        """Refuse a row that names what does not exist and was not refused before."""
        if key in self._known[kind.table] or self._refused.excuses(kind.table, key):
            return
        guess = did_you_mean(key, self._known[kind.table])
        expected = f"expected one of {kind.table}.csv or of the book{guess}"
        self.refuse(table, row, column, f"there is no {kind.word} {key!r}, {expected}")

    def need_amount(self, table: str, row: Record, column: str, minor: int | None) -> None:
        """Refuse money below zero."""
        if minor is not None and minor < 0:
            amount = self.shop.currency.text(minor)
            self.refuse(table, row, column, f"{amount} is negative, expected zero or more")

    def need_weight(self, table: str, row: Record, column: str, grams: int | None) -> None:
        """Refuse a weight that nothing in a shop has."""
        if grams is None or 0 < grams <= HEAVIEST_G:
            return
        expected = "expected more than zero" if grams <= 0 else "expected at most 10000"
        message = f"{kg_text(grams)} kg is not a weight of anything, {expected}"
        self.refuse(table, row, column, message)

    def day_before(self, moment: datetime, other: datetime) -> bool:
        """Whether a moment lies on an earlier business day than another.

        Whole days are compared, since the clocks of two stations never agree to the second.
        """
        if moment >= other:
            return False
        return business_day(moment, self.shop) < business_day(other, self.shop)
