"""What a blend came to: every input, the work, and the cost per kilo of every product."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from gambrel.domain.costing.connected import connected_part
from gambrel.domain.costing.costing import CutCost
from gambrel.domain.costing.fallback import costed
from gambrel.domain.costing.lines import cut_lines
from gambrel.domain.numbers.money import per_kilo
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import Ingredient
from gambrel.domain.trade.records import Source

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book


@dataclass(frozen=True, slots=True)
class InputCost:
    """Something that went in: its name, grams, and what they cost (minor units)."""

    source: Source
    key: str
    name: str
    grams: int
    cost: int

    @property
    def cost_per_kilo(self) -> Decimal:
        """Minor units per kilogram."""
        return per_kilo(self.cost, self.grams)


@dataclass(frozen=True, slots=True)
class BlendCost:
    """A blend's money (minor units) and weight.

    ``products`` are the lines of what it made and nobody consumed since. While it is open its cost
    per kilo falls with every piece that is weighed. ``note`` says in a sentence where the costing
    had to go another way than the shop's method.
    """

    inputs: tuple[InputCost, ...]
    work: int
    credit: int
    joint: int
    input_g: int
    output_g: int
    is_open: bool
    products: tuple[CutCost, ...]
    note: str = ""

    @property
    def cost_per_kilo(self) -> Decimal | None:
        """The whole blend's cost over all that was weighed out; None while nothing is."""
        return per_kilo(self.joint, self.output_g) if self.output_g else None


def blend_cost(book: Book, stage: str) -> BlendCost:
    """What a blend, or trays that were worked back, came to so far.

    Reads the whole book: call it off the window's thread.

    Raises:
        Refusal: There is no such stage, or the book contradicts itself.
    """
    with book.reading() as work:
        trade = work.trade()
        names = {each.key: each.name for each in work.every(Ingredient)}
    if all(each.key != stage for each in trade.stages):
        raise Refusal("This blend is not in the book any more. Look at the tubs again.")
    costing, note = costed(connected_part(trade, stage))
    found = next(each for each in costing.stages if each.stage.key == stage)
    cut_of = {piece.key: costing.cuts_by_key[piece.cut].name for piece in trade.pieces}
    inputs = [
        InputCost(take.source, take.key, cut_of.get(take.key, take.key), take.grams, cost)
        for take, cost in zip(found.takes, found.take_costs, strict=True)
    ]
    inputs += [
        InputCost(row.source, row.key, names.get(row.key, row.key), row.grams or 0, row.cost)
        for row in trade.inputs
        if row.stage == stage and row.source is Source.INGREDIENT
    ]
    return BlendCost(
        inputs=tuple(inputs),
        work=found.work,
        credit=found.credit,
        joint=found.joint,
        input_g=found.input_g,
        output_g=found.output_g,
        is_open=found.stage.is_open,
        products=tuple(cut_lines(costing, [p for p in costing.pieces if p.piece.stage == stage])),
        note=note,
    )
