"""What the two passes of a roll-up share: filled walking backwards, read walking forwards."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from fractions import Fraction
from typing import NamedTuple

from gambrel.domain.catalogue import Cut
from gambrel.domain.costing import Note
from gambrel.domain.methods import Method
from gambrel.domain.money import round_half_up
from gambrel.domain.records import Piece, Stage, Trade
from gambrel.domain.takes import Flow

Worth = int | Fraction
"""Grams × minor units per kilogram × the tax scale's ``under``: exact, whole unless consumed."""


class Valued(NamedTuple):
    """A piece on its way through both passes; ``claim`` as in ``Output``, scaled worth."""

    piece: Piece
    cut: Cut
    consumed_g: int
    price: int | None
    claim: Worth
    worth: Worth
    credit_worth: int

    @property
    def rest_g(self) -> int:
        """Grams that no stage has consumed."""
        return self.piece.gross_g - self.piece.tare_g - self.consumed_g

    @property
    def bearing_g(self) -> int:
        """Grams that share the joint cost: what was consumed, and the rest of tray and trim."""
        return self.consumed_g + (self.rest_g if self.cut.kind.bears_cost else 0)


@dataclass(slots=True)
class Roll:
    """What both passes share; filled by the first, read by the second."""

    trade: Trade
    method: Method
    price_at: Callable[[str, datetime], int | None]
    flow: Flow
    cuts: dict[str, Cut]
    by_stage: dict[str, list[Piece]]
    order: list[Stage]
    consumed_worth: dict[str, Worth] = field(default_factory=lambda: defaultdict(int))
    valued: dict[str, list[Valued]] = field(default_factory=dict)
    piece_take_costs: dict[tuple[str, str], int] = field(default_factory=dict)
    notes: list[Note] = field(default_factory=list)
    unpriced: dict[str, str] = field(default_factory=dict)

    def note(self, code: str, about: str, sentence: str) -> None:
        """Keep something that the reader of the figures should know."""
        self.notes.append(Note(code, about, sentence))


def work_cost(stage: Stage, work_per_hour: int) -> int:
    """Minutes at the shop's hourly rate, half up to a minor unit."""
    over, under = (stage.minutes * work_per_hour).as_integer_ratio()
    return round_half_up(over, 60 * under)
