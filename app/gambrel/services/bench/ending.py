"""Finishing what lies on the block, opening it again, and what it came to."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING

from gambrel.domain.bench.block import OnBlock, block_state
from gambrel.domain.bench.usual import usual_loss
from gambrel.domain.costing.methods import Method
from gambrel.domain.numbers.money import round_half_up
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.records import Stage
from gambrel.services.bench.act import Act, open_stage

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.domain.costing.costing import CutCost, StageCost
    from gambrel.storage.book import Book

LONGEST_MINUTES = Decimal(24 * 60)
"""No piece of work at a block takes longer (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Reckoning:
    """What a stage comes to if nothing more comes off.

    ``unexplained`` is grams, below zero where more came off than lay there; ``unexplained_money``
    the same at what the input cost (minor units); ``usual`` the shop's median share for that
    portion, None while there is no habit. ``note`` says in a sentence where the costing had to go
    another way than the shop's method.
    """

    on_block: OnBlock
    cost: StageCost
    lines: tuple[CutCost, ...]
    unexplained_g: int
    unexplained_money: int
    usual: Decimal | None
    note: str = ""

    @property
    def unexplained(self) -> Decimal | None:
        """As a share of one of what went in; None where nothing did."""
        whole = self.on_block.input_g
        return Decimal(self.unexplained_g) / whole if whole else None


def finish(book: Book, stage: str, minutes: Decimal, act: Act) -> Stage:
    """Finish a stage with the minutes that it took.

    Raises:
        Refusal: There is no such open stage, nothing was weighed, or the minutes cannot be.
    """
    if not 0 <= minutes <= LONGEST_MINUTES:
        raise Refusal(f"{minutes} minutes of work cannot be; give 0 to {LONGEST_MINUTES}.")
    with book.transaction() as work:
        found = open_stage(work, stage)
        last = work.last_piece(stage)
        if last is None:
            raise Refusal("Nothing has been weighed yet. Weigh what came off, or put it back.")
        at = max(act.now, found.started_at, last.weighed_at)
        work.finish_stage(stage, at, minutes, act.person)
        done = work.stage(stage)
    assert done is not None
    return done


def reopen(book: Book, stage: str, reason: str, act: Act) -> Stage:
    """Open a finished stage again; that it was finished stays in the record.

    Raises:
        Refusal: There is no such stage, or it is open.
    """
    with book.transaction() as work:
        found = work.stage(stage)
        if found is not None and found.is_open:
            raise Refusal("This body is open already. Go on with it.")
        at = act.now if found is None or found.finished_at is None else found.finished_at
        work.reopen_stage(stage, max(act.now, at), act.person, reason)
        done = work.stage(stage)
    assert done is not None
    return done


def reckon(book: Book, stage: str, method: Method = Method.NRV) -> Reckoning:
    """The balance of a stage and the cost per kilo of what came off, as if it ended now.

    Reads the whole book for the shop's habit: call it off the window's thread.

    Raises:
        Refusal: There is no such stage, or the book contradicts itself.
    """
    # Whoever waits for the first piece does not wait for what only the end of a body needs.
    from gambrel.domain.costing.connected import connected_part
    from gambrel.domain.costing.fallback import costed
    from gambrel.domain.costing.lines import cut_lines

    with book.reading() as work:
        trade = work.trade()
    if all(each.key != stage for each in trade.stages):
        raise Refusal("This work is not in the book any more. Choose it again on the rail.")
    part = connected_part(trade, stage)
    on_block = block_state(part, stage)
    costing, note = costed(part, method)
    cost = next(each for each in costing.stages if each.stage.key == stage)
    own = [each for each in costing.pieces if each.piece.stage == stage]
    rest = on_block.input_g - on_block.output_g
    money = round_half_up(cost.input_cost * rest, on_block.input_g) if on_block.input_g else 0
    body = on_block.body
    usual = usual_loss(trade, body.species, body.portion, stage) if body else None
    return Reckoning(on_block, cost, tuple(cut_lines(costing, own)), rest, money, usual, note)
