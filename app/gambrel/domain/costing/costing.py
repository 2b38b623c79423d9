"""What a costing found: by piece, stage and body, with nothing lost between them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import NamedTuple

from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.takes import Take
from gambrel.domain.numbers.money import per_kilo
from gambrel.domain.trade.catalogue import Cut, CutKind, Shop
from gambrel.domain.trade.records import Body, Piece, Stage


class PieceCost(NamedTuple):
    """What one piece cost. Money is minor units; ``price`` is per kilo as the shop writes it.

    ``share`` is its part of its own stage's joint cost; ``rest_share`` what of that stays with the
    grams that nobody consumed. Finishing and credit belong to those grams only.
    """

    piece: Piece
    kind: CutKind
    consumed_g: int
    share: int
    rest_share: int
    finish: int
    credit: int
    price: int | None

    @property
    def rest_g(self) -> int:
        """Grams that no stage has consumed."""
        return self.piece.net_g - self.consumed_g

    @property
    def cost(self) -> int:
        """Share and own finishing."""
        return self.share + self.finish

    @property
    def rest_cost(self) -> int:
        """What stands at the end cost, finishing included."""
        return self.rest_share + self.finish

    @property
    def cost_per_kilo(self) -> Decimal:
        """Minor units per kilogram."""
        return per_kilo(self.cost, self.piece.net_g)


@dataclass(frozen=True, slots=True)
class StageCost:
    """One stage's weight and money: in, work, credit, and the joint cost that was shared."""

    stage: Stage
    takes: tuple[Take, ...]
    take_costs: tuple[int, ...]
    ingredient_g: int
    ingredient_cost: int
    work: int
    credit: int
    joint: int
    stranded: int
    output_g: int
    saleable_g: int

    @property
    def input_g(self) -> int:
        """Grams of bodies, pieces and ingredients that went in."""
        return sum(take.grams for take in self.takes) + self.ingredient_g

    @property
    def input_cost(self) -> int:
        """What the inputs cost, ingredients included."""
        return sum(self.take_costs) + self.ingredient_cost

    @property
    def unexplained_g(self) -> int:
        """Loss that nothing explains; negative where more came out than went in.

        While the stage is open its rest is still on the block, not yet loss.
        """
        rest = self.input_g - self.output_g
        return min(rest, 0) if self.stage.is_open else rest

    @property
    def on_block_g(self) -> int:
        """What an open stage still has to weigh."""
        return max(self.input_g - self.output_g, 0) if self.stage.is_open else 0


@dataclass(frozen=True, slots=True)
class BodyCost:
    """One body: what it cost, what stages took of it and what came off, what still hangs."""

    body: Body
    input_g: int
    output_g: int
    saleable_g: int
    unexplained_g: int
    hang_loss_g: int
    left_g: int
    left_cost: int

    @property
    def saleable_percent(self) -> Decimal | None:
        """Tray and trim over what was taken to the block, in per cent; None while it hangs."""
        return Decimal(100 * self.saleable_g) / self.input_g if self.input_g else None


@dataclass(frozen=True, slots=True)
class CutCost:
    """A cut's line: only what nobody consumed.

    ``price`` is minor units per kilogram as the shop writes it, the mean over the line where it
    changed, None where one is missing; ``margin`` a share of one, before tax.
    """

    cut: Cut
    net_g: int
    cost: int
    price: Decimal | None
    margin: Decimal | None

    @property
    def cost_per_kilo(self) -> Decimal:
        """Minor units per kilogram."""
        return per_kilo(self.cost, self.net_g)


@dataclass(frozen=True, slots=True)
class Totals:
    """The money of a costing; ``difference`` is what is lost between the lines: always zero."""

    bought: int
    work: int
    ingredients: int
    credit: int
    finish: int
    end_cost: int
    on_rail: int
    stranded: int

    @property
    def difference(self) -> int:
        """Bought + work + ingredients + finish − credit − end − on rail − stranded."""
        paid = self.bought + self.work + self.ingredients + self.finish - self.credit
        return paid - self.end_cost - self.on_rail - self.stranded


@dataclass(frozen=True, slots=True)
class Note:
    """Something that the person who reads the figures should know, as a sentence."""

    code: str
    about: str
    sentence: str


@dataclass(frozen=True, slots=True)
class Costing:
    """A whole roll-up. ``at`` is the day at whose prices everything was valued, if one was."""

    shop: Shop
    method: Method
    at: date | None
    cuts_by_key: dict[str, Cut]
    bodies: tuple[BodyCost, ...]
    stages: tuple[StageCost, ...]
    pieces: tuple[PieceCost, ...]
    totals: Totals
    notes: tuple[Note, ...]
