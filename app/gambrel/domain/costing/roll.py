"""What the two passes of a roll-up share: filled walking backwards, read walking forwards."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal
from fractions import Fraction
from typing import NamedTuple

from gambrel.domain.costing.costing import Note
from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.takes import Flow
from gambrel.domain.numbers.money import round_half_up
from gambrel.domain.trade.catalogue import Cut, CutKind
from gambrel.domain.trade.records import Piece, Stage, Trade

Worth = int | Fraction
"""Grams × minor units per kilogram × the tax scale's ``under``: exact, whole unless consumed."""


class Terms(NamedTuple):
    """What a cut's kind means for worth, once for all its pieces; rates scaled like a worth."""

    cut: Cut
    bears_cost: bool
    finish: int
    credit: int


class Valued(NamedTuple):
    """A piece on its way through both passes.

    ``rest_g`` is what nobody consumed, ``bearing_g`` what shares the joint cost (consumed grams,
    and the rest of tray and trim), ``claim`` as in ``Output``.
    """

    piece: Piece
    cut: Cut
    consumed_g: int
    rest_g: int
    bearing_g: int
    price: int | None
    claim: Worth
    worth: Worth
    credit_worth: int


@dataclass(slots=True)
class Roll:
    """What both passes share; filled by the first, read by the second."""

    trade: Trade
    method: Method
    price_at: Callable[[str, datetime], int | None]
    flow: Flow
    cuts: dict[str, Cut]
    terms: dict[str, Terms]
    by_stage: dict[str, list[Piece]]
    order: list[Stage]
    consumed_worth: dict[str, Worth] = field(default_factory=dict)
    valued: dict[str, list[Valued]] = field(default_factory=dict)
    piece_take_costs: dict[tuple[str, str], int] = field(default_factory=dict)
    notes: list[Note] = field(default_factory=list)
    unpriced: dict[str, str] = field(default_factory=dict)

    def note(self, code: str, about: str, sentence: str) -> None:
        """Keep something that the reader of the figures should know."""
        self.notes.append(Note(code, about, sentence))


def work_cost(stage: Stage, work_per_hour: int) -> int:
    """What a stage's minutes cost, as `minutes_cost`."""
    return minutes_cost(stage.minutes, work_per_hour)


def minutes_cost(minutes: Decimal, work_per_hour: int) -> int:
    """Minutes at the shop's hourly rate, half up to a minor unit; negative for minutes saved."""
    over, under = (minutes * work_per_hour).as_integer_ratio()
    return round_half_up(over, 60 * under)


def terms_of(cuts: dict[str, Cut], under: int) -> dict[str, Terms]:
    """Every cut's terms; ``under`` is the tax scale's."""
    return {
        key: Terms(
            cut,
            cut.kind.bears_cost,
            cut.finish * under if cut.kind.bears_cost else 0,
            cut.credit * under if cut.kind is CutKind.BYPRODUCT else 0,
        )
        for key, cut in cuts.items()
    }
