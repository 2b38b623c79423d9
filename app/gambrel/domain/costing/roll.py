"""What the two passes of a roll-up share: filled walking backwards, read walking forwards."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from itertools import chain

from gambrel.domain.costing.costing import Note
from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.rates import Rate, Rates
from gambrel.domain.costing.takes import Flow, Take
from gambrel.domain.numbers.money import round_half_up
from gambrel.domain.trade.catalogue import Cut
from gambrel.domain.trade.records import Piece, Stage, Trade


@dataclass(slots=True)
class Valued:
    """A stage's pieces on their way through both passes, in columns with one place for each.

    Columns, because a book has hundreds of thousands of pieces and most of them need no more than
    a product or two. ``rest_g`` is what nobody consumed; ``claims`` are as in ``Outputs``;
    ``taken`` has the takes of the few pieces that later stages took of, by their places, and
    ``later / under`` is what those make of them together; claims are over ``under`` too.
    """

    pieces: list[Piece]
    rates: list[Rate]
    consumed_g: list[int]
    rest_g: list[int]
    claims: list[int]
    taken: dict[int, list[Take]]
    later: int = 0
    under: int = 1


@dataclass(slots=True)
class Roll:
    """What both passes share; filled by the first, read by the second.

    ``per_gram`` is what each stage makes of a gram of the pieces that it took: grams × minor units
    per kilogram × the tax scale's ``under``, over grams; exact. ``passed_on`` is what each stage
    pays for what it took of each piece.
    """

    trade: Trade
    method: Method
    flow: Flow
    cuts: dict[str, Cut]
    rates: Rates
    by_stage: dict[str, list[Piece]]
    order: list[Stage]
    per_gram: dict[str, Fraction] = field(default_factory=dict)
    valued: dict[str, Valued] = field(default_factory=dict)
    passed_on: dict[str, dict[str, int]] = field(default_factory=lambda: defaultdict(dict))
    worth_notes: dict[str, list[Note]] = field(default_factory=lambda: defaultdict(list))
    cost_notes: list[Note] = field(default_factory=list)
    unpriced: dict[str, str] = field(default_factory=dict)

    def note(self, code: str, about: str, sentence: str) -> None:
        """Keep something that the reader of the figures should know about a cost."""
        self.cost_notes.append(Note(code, about, sentence))

    def note_worth(self, stage: Stage, code: str, about: str, sentence: str) -> None:
        """Keep something that the reader should know about what a stage made."""
        self.worth_notes[stage.key].append(Note(code, about, sentence))

    def notes_in_order(self) -> tuple[Note, ...]:
        """Those about worth from the last stage back, then those about costs as they came."""
        worth = [self.worth_notes.get(stage.key, ()) for stage in reversed(self.order)]
        return (*chain.from_iterable(worth), *self.cost_notes)


def work_cost(stage: Stage, work_per_hour: int) -> int:
    """What a stage's minutes cost, as `minutes_cost`."""
    return minutes_cost(stage.minutes, work_per_hour)


def minutes_cost(minutes: Decimal, work_per_hour: int) -> int:
    """Minutes at the shop's hourly rate, half up to a minor unit; negative for minutes saved."""
    over, under = (minutes * work_per_hour).as_integer_ratio()
    return round_half_up(over, 60 * under)
