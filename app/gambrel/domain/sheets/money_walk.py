"""Following a week's money through its stages, without losing a unit.

What the rules leave open, and what we chose:

- The costing lets a stage's pieces bear its unexplained loss and what is still on its block. Here
  both are told by themselves, at the input's own cost (as the balance of a stage has it), so a
  piece bears a little less than on its sheet.
- Everything is as it stood when the week ended: what a later week's stage took is still standing,
  what a later week weighed is still on the block. A stage that began before comes in with what
  its earlier pieces have left.
- What a stage makes is drawn from all that it took in one proportion, by `apportion` out of what
  the outputs before it have left, so that no unit is drawn twice.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from typing import NamedTuple

from gambrel.domain.costing.costing import PieceCost, StageCost
from gambrel.domain.costing.ledger import Ledger, Period
from gambrel.domain.numbers.apportion import apportion
from gambrel.domain.numbers.money import round_half_up
from gambrel.domain.sheets.happenings import thrown_away
from gambrel.domain.sheets.money_flow import Item, ItemKind, Level, MoneyFlow, Spot, SpotKind
from gambrel.domain.sheets.money_record import FlowRecord, Purse, draw, put
from gambrel.domain.sheets.sections import active_stages, done_at
from gambrel.domain.trade.catalogue import CutKind
from gambrel.domain.trade.records import Source, StageKind
from gambrel.domain.trade.titles import portion_title

BEFORE, BOUGHT_IN, WORK = Spot(SpotKind.BEFORE), Spot(SpotKind.BOUGHT_IN), Spot(SpotKind.WORK)
FINISH, FEES, SURPLUS = Spot(SpotKind.FINISH), Spot(SpotKind.FEES), Spot(SpotKind.SURPLUS)
TRAY, TRIM, CREDIT = Spot(SpotKind.TRAY), Spot(SpotKind.TRIM), Spot(SpotKind.CREDIT)
BLOCK, LOSS = Spot(SpotKind.BLOCK), Spot(SpotKind.LOSS)
STRANDED, THROWN = Spot(SpotKind.STRANDED), Spot(SpotKind.THROWN)


def money_flow(ledger: Ledger, period: Period) -> MoneyFlow:
    """Follow all the money of a period's stages, and of what was thrown away in it.

    Returns:
        A flow whose bodies' sources sum to what was taken to the block.
    """
    walk = _Walk(ledger, period)
    for cost in walk.stages:
        walk.follow(cost)
    walk.throw_what_stood()
    return walk.record.flow(ledger)


class _Part(NamedTuple):
    """What one stage took of a piece, or (``consumer`` empty) what nobody took; the book's cost."""

    piece: PieceCost
    consumer: str
    grams: int
    share: int


class _Walk:
    """The walk over the stages, makers first."""

    def __init__(self, ledger: Ledger, period: Period) -> None:
        self._ledger, self._period = ledger, period
        self.record = FlowRecord()
        self.stages = active_stages(ledger, period)
        self._begun = {
            cost.stage.key for cost in self.stages if period.holds(cost.stage.started_at)
        }
        self._takes = self._takes_of_pieces()
        self._held: dict[tuple[str, str], Purse] = {}
        self._gone = 0
        self._wasted: dict[str, int] = defaultdict(int)
        for row in ledger.trade.writeoffs:
            if row.at < period.ends:
                self._wasted[row.piece] += row.grams

    def _takes_of_pieces(self) -> dict[str, list[tuple[str, int, int]]]:
        """By piece of these stages: who took of it, how many grams, at what cost."""
        active = [cost.stage.key for cost in self.stages]
        pieces = {part.piece.key for key in active for part in self._ledger.by_stage.get(key, ())}
        found: dict[str, list[tuple[str, int, int]]] = defaultdict(list)
        for cost in self._ledger.costing.stages:
            for take, money in zip(cost.takes, cost.take_costs, strict=True):
                if take.source is Source.PIECE and take.key in pieces:
                    found[take.key].append((cost.stage.key, take.grams, money))
        return found

    def follow(self, cost: StageCost) -> None:
        """Give a stage's money to what it made, lost and still holds."""
        pieces = self._ledger.by_stage.get(cost.stage.key, [])
        purse: Purse = {}
        begun = cost.stage.key in self._begun
        if begun:
            self._take(purse, cost)
            self._even_out(purse, cost, pieces)
        else:
            self._come_in(purse, cost, pieces)
        came, self._gone = sum(purse.values()), 0
        for part in pieces:
            if part.credit > 0:
                self._place(draw(purse, part.credit), part, CREDIT, part.rest_g)
        self._lose(purse, cost)
        self._share_out(purse, cost, pieces)
        if not begun:
            item = Item(ItemKind.STAGE, cost.stage.key, 0, came - self._gone)
            self.record.count(Level.SOURCE, BEFORE, item)
            if _own(cost, BEFORE):
                self.record.count(Level.MIDDLE, BEFORE, item)

    # What comes in

    def _take(self, purse: Purse, cost: StageCost) -> None:
        """What a stage that began in the period took: bodies, pieces, ingredients, work."""
        own, record = cost.stage.key, self.record
        for take, money in zip(cost.takes, cost.take_costs, strict=True):
            if take.source is Source.BODY:
                body = self._ledger.bodies[take.key].body
                spot = Spot(SpotKind.BODY, f"{body.species} {body.portion}")
                record.names[spot] = portion_title(body.species, body.portion)
                record.enter(purse, spot, None, Item(ItemKind.BODY, take.key, take.grams, money))
            elif (held := self._held.pop((take.key, own), None)) is not None:
                for origin, part in held.items():
                    put(purse, origin, part)
            else:
                stood = Item(ItemKind.PIECE, take.key, take.grams, money)
                record.enter(purse, BEFORE, BEFORE, stood)
        added = Item(ItemKind.STAGE, own, cost.ingredient_g, cost.ingredient_cost)
        record.enter(purse, BOUGHT_IN, _own(cost, BOUGHT_IN), added)
        record.enter(purse, WORK, _own(cost, WORK), Item(ItemKind.STAGE, own, 0, cost.work))

    def _even_out(self, purse: Purse, cost: StageCost, pieces: list[PieceCost]) -> None:
        """Add what disposal costs, and what by-products bring above all that was paid."""
        for part in pieces:
            fee = Item(ItemKind.PIECE, part.piece.key, part.rest_g, -part.credit)
            self.record.enter(purse, FEES, _own(cost, FEES), fee)
        over = sum(part.credit for part in pieces if part.credit > 0) - sum(purse.values())
        item = Item(ItemKind.STAGE, cost.stage.key, 0, over)
        self.record.enter(purse, SURPLUS, _own(cost, SURPLUS), item)

    def _come_in(self, purse: Purse, cost: StageCost, pieces: list[PieceCost]) -> None:
        """All the money of a stage that began before.

        Its later pieces bear their part of it; what its earlier ones took with them is left out of
        the flow again.
        """
        fees = sum(-part.credit for part in pieces if part.credit < 0)
        credit = sum(part.credit for part in pieces if part.credit > 0)
        money = max(cost.input_cost + cost.work + fees, credit, 0)
        put(purse, (BEFORE, _own(cost, BEFORE)), money)

    def throw_what_stood(self) -> None:
        """What was weighed in weeks before and thrown away in this one comes in and ends."""
        for row in thrown_away(self._ledger, self._period):
            if self._ledger.pieces[row.piece].piece.weighed_at < self._period.begins:
                purse: Purse = {}
                item = Item(ItemKind.PIECE, row.piece, row.grams, row.cost)
                self.record.enter(purse, BEFORE, BEFORE, item)
                self.record.end(purse, BEFORE, THROWN, item)

    # Where it goes

    def _lose(self, purse: Purse, cost: StageCost) -> None:
        """Tell loss and what is still on the block by themselves, at the input's own cost."""
        grams, key = cost.input_g, cost.stage.key
        done = done_at(cost.stage, self._ledger.by_stage.get(key, []))
        lost = LOSS if self._period.holds(done) else BLOCK
        for spot, missing in ((lost, cost.unexplained_g), (BLOCK, cost.on_block_g)):
            if missing > 0:
                worth = max(round_half_up(cost.input_cost * missing, grams), 0)
                drawn = draw(purse, min(worth, sum(purse.values())))
                self.record.end(drawn, spot, spot, Item(ItemKind.STAGE, key, missing, 0))

    def _share_out(self, purse: Purse, cost: StageCost, pieces: list[PieceCost]) -> None:
        """Give what is left to the pieces, in the proportion in which the book shares the cost."""
        parts = [part for piece in pieces for part in self._parts(piece)]
        left, weights = sum(purse.values()), [max(part.share, 0) for part in parts]
        if not any(weights):
            item = Item(ItemKind.STAGE, cost.stage.key, 0, 0)
            self.record.end(draw(purse, left), STRANDED, STRANDED, item)
        shares = apportion(left, weights) if any(weights) else weights
        for part, money in zip(parts, shares, strict=True):
            self._give(draw(purse, money), part, cost)

    def _parts(self, piece: PieceCost) -> Iterator[_Part]:
        for consumer, grams, money in self._takes.get(piece.piece.key, ()):
            yield _Part(piece, consumer, grams, money)
        yield _Part(piece, "", piece.rest_g, piece.rest_share)

    def _give(self, drawn: Purse, part: _Part, cost: StageCost) -> None:
        """Put a part of a piece where it stood when the period ended."""
        piece, spot, grams = part.piece, self._standing(part.piece, cost), part.grams
        here = self._period.holds(piece.piece.weighed_at)
        if part.consumer:
            if here and part.consumer in self._begun:
                key, cut = piece.piece.key, self._cut(piece)
                item = Item(ItemKind.PIECE, key, grams, 0)
                self._held[key, part.consumer] = self.record.cut(drawn, cut, item)
            else:
                self._place(drawn, piece, spot, grams)
            return
        if here:
            finish = Item(ItemKind.PIECE, piece.piece.key, 0, piece.finish)
            self.record.enter(drawn, FINISH, _own(cost, FINISH), finish)
        wasted = min(self._wasted[piece.piece.key], grams) if here else 0
        if wasted:
            gone, _ = apportion(sum(drawn.values()), [wasted, grams - wasted])
            self._place(draw(drawn, gone), piece, THROWN, wasted)
        self._place(drawn, piece, spot, grams - wasted)

    def _place(self, drawn: Purse, piece: PieceCost, spot: Spot, grams: int) -> None:
        """Let money end in a spot as part of a piece; what was weighed before is not ours."""
        weighed, money = piece.piece.weighed_at, sum(drawn.values())
        if weighed < self._period.begins and piece.piece.stage not in self._begun:
            self._gone += money
            return
        late = weighed >= self._period.ends
        end, cut = (BLOCK, BLOCK) if late else (spot, self._cut(piece))
        self.record.end(drawn, cut, end, Item(ItemKind.PIECE, piece.piece.key, grams, 0))

    def _standing(self, piece: PieceCost, cost: StageCost) -> Spot:
        """Where a piece stands that nobody has taken by the period's end."""
        if piece.kind is not CutKind.TRAY:
            return TRIM
        if cost.stage.kind is not StageKind.BLEND:
            return TRAY
        spot = Spot(SpotKind.BLEND, piece.piece.cut)
        self.record.names[spot] = self._ledger.cut_name(piece.piece)
        return spot

    def _cut(self, piece: PieceCost) -> Spot:
        spot = Spot(SpotKind.CUT, piece.piece.cut)
        self.record.names[spot] = self._ledger.cut_name(piece.piece)
        return spot


def _own(cost: StageCost, spot: Spot) -> Spot | None:
    """The middle of money that comes into a stage: none where it cuts bodies, else its source."""
    return None if any(take.source is Source.BODY for take in cost.takes) else spot
