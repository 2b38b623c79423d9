"""What happened in the shop, as values: bodies, weighings, stages, pieces, prices.

Every moment is an aware ``datetime`` in UTC. Weights are grams, money is minor units.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal
from enum import StrEnum
from itertools import islice
from operator import attrgetter, eq
from typing import NamedTuple

from gambrel.domain.numbers.money import extend
from gambrel.domain.trade.catalogue import Cut, ListLine, Shop, Supplier


class PricedOn(StrEnum):
    """Which weight the supplier's price per kilo is paid on."""

    DOCKET = "docket"
    RECEIVED = "received"


class StageKind(StrEnum):
    """A step of work: a body into pieces, a piece into finer pieces, trim into mince."""

    BREAK = "break"
    TRIMOUT = "trimout"
    BLEND = "blend"


class Source(StrEnum):
    """What an input takes from."""

    BODY = "body"
    PIECE = "piece"
    INGREDIENT = "ingredient"


@dataclass(frozen=True, slots=True)
class Body:
    """Anything bought whole to be broken: a side, quarter, lamb, pig, primal, carton."""

    key: str
    species: str
    portion: str
    supplier: str
    received_at: datetime
    received_g: int
    price: int
    """Minor units per kilogram."""
    priced_on: PricedOn = PricedOn.RECEIVED
    docket_g: int | None = None
    other_cost: int = 0
    supplier_ref: str = ""
    killed_on: date | None = None

    @property
    def bought(self) -> int:
        """What the body cost: its priced weight at its price, and other costs (minor units)."""
        on_docket = self.priced_on is PricedOn.DOCKET and self.docket_g is not None
        grams = self.docket_g if on_docket else self.received_g
        return extend(self.price, grams or 0) + self.other_cost


@dataclass(frozen=True, slots=True)
class Reweigh:
    """A later weight of a body on the rail; drying raises its cost per kilo."""

    body: str
    at: datetime
    grams: int


@dataclass(frozen=True, slots=True)
class Stage:
    """One step of work. Open while ``finished_at`` is None; ``list`` names its cutting list."""

    key: str
    kind: StageKind
    started_at: datetime
    finished_at: datetime | None = None
    person: str = ""
    minutes: Decimal = Decimal(0)
    list: str = ""

    @property
    def is_open(self) -> bool:
        """Whether its rest is still on the block, not yet loss."""
        return self.finished_at is None


class Input(NamedTuple):
    """What a stage takes: of a body, of a piece, or an ingredient with its cost.

    ``grams`` None means all that is left of it (never for an ingredient).
    """

    stage: str
    source: Source
    key: str
    grams: int | None = None
    cost: int = 0


class Piece(NamedTuple):
    """One weighed output of a stage."""

    key: str
    stage: str
    cut: str
    gross_g: int
    tare_g: int
    weighed_at: datetime
    person: str = ""
    station: str = ""

    @property
    def net_g(self) -> int:
        """Gross less tare."""
        return self.gross_g - self.tare_g


@dataclass(frozen=True, slots=True)
class Void:
    """A weighing taken back; the piece stays in the record and counts for nothing."""

    piece: str
    at: datetime
    person: str = ""
    reason: str = ""


@dataclass(frozen=True, slots=True)
class PriceChange:
    """A price per kilo (minor units) in force from a moment on."""

    cut: str
    price: int
    since: datetime
    reason: str = ""


@dataclass(frozen=True, slots=True)
class WriteOff:
    """Part of a piece thrown away; its cost stays where it is and is reported as loss."""

    piece: str
    grams: int
    at: datetime
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Trade:
    """All that a book holds, or the part of it that is asked for."""

    shop: Shop
    suppliers: tuple[Supplier, ...] = ()
    cuts: tuple[Cut, ...] = ()
    lists: tuple[ListLine, ...] = ()
    bodies: tuple[Body, ...] = ()
    reweighs: tuple[Reweigh, ...] = ()
    stages: tuple[Stage, ...] = ()
    inputs: tuple[Input, ...] = ()
    pieces: tuple[Piece, ...] = ()
    voids: tuple[Void, ...] = ()
    prices: tuple[PriceChange, ...] = ()
    writeoffs: tuple[WriteOff, ...] = ()
    _voided: frozenset[str] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_voided", frozenset(void.piece for void in self.voids))

    @property
    def voided(self) -> frozenset[str]:
        """The keys of pieces that were taken back."""
        return self._voided

    @property
    def standing(self) -> list[Piece]:
        """The pieces that count, in the order in which they were weighed."""
        voided = self._voided
        if not voided:
            return pieces_in_order(self.pieces)
        return pieces_in_order(piece for piece in self.pieces if piece.key not in voided)


def piece_order(piece: Piece) -> tuple[datetime, int, str]:
    """A total order of pieces: when weighed, then P2 before P10."""
    return piece.weighed_at, len(piece.key), piece.key


def pieces_in_order(pieces: Iterable[Piece]) -> list[Piece]:
    """Pieces by ``piece_order``; quick for the many that were weighed at moments of their own."""
    ordered = sorted(pieces, key=attrgetter("weighed_at"))
    moments = [piece.weighed_at for piece in ordered]
    if any(map(eq, moments, islice(moments, 1, None))):
        ordered.sort(key=piece_order)
    return ordered


def stage_order(stage: Stage) -> tuple[datetime, int, str]:
    """A total order of stages: when started, then S2 before S10."""
    return stage.started_at, len(stage.key), stage.key


def body_order(body: Body) -> tuple[datetime, int, str]:
    """A total order of bodies: when received, then B2 before B10."""
    return body.received_at, len(body.key), body.key
