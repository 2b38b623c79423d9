"""What stands behind a figure of the week: the bodies, pieces and losses that make it up."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from enum import StrEnum
from typing import NamedTuple

from gambrel.domain.costing.costing import PieceCost, StageCost
from gambrel.domain.costing.ledger import Ledger
from gambrel.domain.numbers.money import per_kilo
from gambrel.domain.sheets.money_flow import ItemKind
from gambrel.domain.trade.records import Source
from gambrel.domain.trade.titles import portion_title


class WishKind(StrEnum):
    """What can be opened."""

    BOUGHT = "bought"
    TAKEN = "taken"
    SALEABLE = "saleable"
    MARGIN = "margin"
    LOSS = "loss"
    CUT = "cut"
    PORTION = "portion"
    STAGE = "stage"
    BODY = "body"
    SPOTS = "spots"


class Wish(NamedTuple):
    """Something to open: a figure by its kind alone, a cut, portion, stage or body by its key.

    ``key`` of spots of the money flow is their level, ``more`` the spots as ``kind:key``.
    """

    kind: WishKind
    key: str = ""
    more: tuple[str, ...] = ()


class BehindRow(NamedTuple):
    """One body, piece or stage. ``money`` is minor units, None where it has none of its own.

    ``leads`` is what opens from here.
    """

    kind: ItemKind
    key: str
    bodies: str
    cut: str
    at: datetime | None
    person: str
    grams: int
    money: int | None
    leads: Wish | None = None

    @property
    def per_kilo(self) -> Decimal | None:
        """Minor units per kilogram, None without weight or money."""
        return per_kilo(self.money, self.grams) if self.money is not None and self.grams else None


@dataclass(frozen=True, slots=True)
class Behind:
    """The rows behind one figure, the most money first.

    ``money_name`` says what the money is. ``adds_up`` is false where a row is made from another,
    so that their sum would count money twice.
    """

    title: str
    rows: tuple[BehindRow, ...]
    money_name: str = "Cost"
    note: str = ""
    adds_up: bool = True

    @property
    def grams(self) -> int:
        """The rows' weight together."""
        return sum(row.grams for row in self.rows)

    @property
    def money(self) -> int:
        """The rows' money together."""
        return sum(row.money or 0 for row in self.rows)


def in_order(rows: Iterable[BehindRow]) -> tuple[BehindRow, ...]:
    """The most money first, then the heaviest, then P2 before P10."""
    return tuple(
        sorted(rows, key=lambda row: (-(row.money or 0), -row.grams, len(row.key), row.key))
    )


class Descent:
    """Rows about the things of a book, with the bodies that each came from."""

    def __init__(self, ledger: Ledger) -> None:
        self.ledger = ledger
        self._stages = {cost.stage.key: cost for cost in ledger.costing.stages}
        self._bodies: dict[str, tuple[str, ...]] = {}
        for cost in ledger.costing.stages:  # makers first
            found: dict[str, None] = {}
            for take in cost.takes:
                if take.source is Source.BODY:
                    found[take.key] = None
                else:
                    found |= dict.fromkeys(self._bodies[ledger.pieces[take.key].piece.stage])
            self._bodies[cost.stage.key] = tuple(found)

    def stage(self, key: str) -> StageCost:
        """A stage's weight and money."""
        return self._stages[key]

    def of_stage(self, stage: str) -> tuple[str, ...]:
        """The bodies that a stage's pieces came from, directly or through other stages."""
        return self._bodies[stage]

    def body_row(self, key: str, grams: int, money: int) -> BehindRow:
        """A body: its portion, when it came and who sold it."""
        body = self.ledger.bodies[key].body
        return BehindRow(
            kind=ItemKind.BODY,
            key=key,
            bodies=key,
            cut=portion_title(body.species, body.portion),
            at=body.received_at,
            person=self.ledger.supplier(body.supplier),
            grams=grams,
            money=money,
            leads=Wish(WishKind.BODY, key),
        )

    def piece_row(
        self, part: PieceCost, grams: int | None = None, money: int | None = None
    ) -> BehindRow:
        """A piece: all of it at its cost, unless a part is given."""
        piece = part.piece
        return BehindRow(
            kind=ItemKind.PIECE,
            key=piece.key,
            bodies=self._told(piece.stage),
            cut=self.ledger.cut_name(piece),
            at=piece.weighed_at,
            person=piece.person,
            grams=piece.net_g if grams is None else grams,
            money=part.cost if money is None else money,
            leads=Wish(WishKind.STAGE, piece.stage),
        )

    def stage_row(self, key: str, what: str, grams: int, money: int | None) -> BehindRow:
        """A stage, or something of it that has no piece: its work, its loss."""
        stage = self._stages[key].stage
        return BehindRow(
            kind=ItemKind.STAGE,
            key=key,
            bodies=self._told(key),
            cut=what,
            at=stage.finished_at or stage.started_at,
            person=stage.person,
            grams=grams,
            money=money,
            leads=Wish(WishKind.STAGE, key),
        )

    def _told(self, stage: str) -> str:
        """The bodies by name, or how many where they are many."""
        bodies = self._bodies[stage]
        return " + ".join(bodies) if len(bodies) <= 2 else f"{len(bodies)} bodies"
