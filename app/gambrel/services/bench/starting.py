"""Putting a body or a piece on the block, and putting it back."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal
from typing import TYPE_CHECKING

from gambrel.domain.bench.block import lists_of_portion, open_work
from gambrel.domain.costing.takes import settle
from gambrel.domain.numbers.mass import kg_text
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.records import Body, Input, Source, Stage, StageKind, Trade
from gambrel.domain.trade.titles import body_title
from gambrel.services.bench.act import Act, open_stage

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book


def start_break(book: Book, body: str, cutting_list: str, act: Act) -> Stage:
    """Take all that is left of a body to the block, or go on with it where it lies there already.

    Args:
        book: The shop's book.
        body: Its key.
        cutting_list: The list by which it is cut; empty for the one used last for its portion.
        act: Who starts, and when.
    Raises:
        Refusal: There is no such body, nothing of it is left, it had not arrived yet, or there is
            no such list for its portion.
    """
    with book.transaction() as work:
        trade = work.trade()
        found = _body(trade, body)
        running = _stage_of(trade, body)
        if running is not None:
            return running
        if act.now < found.received_at:
            raise Refusal(
                f"{body_title(found)} arrives later than this station's clock shows. "
                "Set the clock right, then start."
            )
        if settle(trade).bodies[body].left_g <= 0:
            raise Refusal(f"Nothing is left of {body_title(found)}. Choose another body.")
        stage = Stage(
            key=act.key,
            kind=StageKind.BREAK,
            started_at=max(act.now, *_weighings(trade, found)),
            person=act.person,
            minutes=Decimal(0),
            list=_list_for(trade, found, cutting_list),
        )
        work.add([stage, Input(stage.key, Source.BODY, body)])
    return stage


def take_to_block(book: Book, body: str, act: Act) -> str:
    """The key of the open work on a body, started now where there is none.

    Work that runs already is found without writing, so a book for reading only shows it.

    Raises:
        Refusal: As `start_break`.
    """
    with book.reading() as work:
        running = _stage_of(work.trade(), body)
    return running.key if running else start_break(book, body, "", act).key


def start_trimout(book: Book, piece: str, grams: int | None, act: Act) -> Stage:
    """Take a weighed piece apart again, as work of its own.

    Args:
        book: The shop's book.
        piece: Its key.
        grams: How much of it; None for all that is left of it.
        act: Who starts, and when.
    Raises:
        Refusal: There is no such piece, it was taken back, or less is left of it.
    """
    with book.transaction() as work:
        found = work.piece(piece)
        if found is None or work.voided(piece):
            raise Refusal("This piece does not stand any more. Look at the list again.")
        trade = work.trade()
        left = piece_left(trade, piece)
        if left <= 0:
            raise Refusal("Nothing is left of this piece. Choose another.")
        if grams is not None and not 0 < grams <= left:
            raise Refusal(f"Only {kg_text(left)} kg of this piece is left. Take that or less.")
        started = max(act.now, found.weighed_at)
        stage = Stage(act.key, StageKind.TRIMOUT, started, person=act.person)
        # In grams, also where all is taken: another station's clock may be ahead, and what it
        # took or threw away "later" would be taken twice.
        work.add([stage, Input(stage.key, Source.PIECE, piece, left if grams is None else grams)])
    return stage


def put_back(book: Book, stage: str, reason: str, act: Act) -> None:
    """Take a start back: nothing was weighed, and what lay on the block hangs again.

    Raises:
        Refusal: There is no such open stage, or pieces of it stand.
    """
    with book.transaction() as work:
        found = open_stage(work, stage)
        if work.last_piece(stage) is not None:
            raise Refusal("Pieces have been weighed. Take them back first, or finish the body.")
        work.cancel_stage(stage, max(act.now, found.started_at), act.person, reason)


def piece_left(trade: Trade, piece: str) -> int:
    """Grams of a standing piece that no stage took and nobody threw away."""
    net = next(row.net_g for row in trade.pieces if row.key == piece)
    taken = sum(take.grams for take in settle(trade).by_piece.get(piece, ()))
    thrown = sum(row.grams for row in trade.writeoffs if row.piece == piece)
    return net - taken - thrown


def _weighings(trade: Trade, body: Body) -> list[datetime]:
    """When a body was weighed; it starts after the last, however two stations' clocks differ."""
    return [body.received_at, *(row.at for row in trade.reweighs if row.body == body.key)]


def _body(trade: Trade, key: str) -> Body:
    body = next((body for body in trade.bodies if body.key == key), None)
    if body is None:
        raise Refusal(f"There is no body {key} in the book. Choose it on the rail.")
    return body


def _stage_of(trade: Trade, body: str) -> Stage | None:
    takers = {row.stage for row in trade.inputs if (row.source, row.key) == (Source.BODY, body)}
    return next((stage for stage in open_work(trade) if stage.key in takers), None)


def _list_for(trade: Trade, body: Body, wanted: str) -> str:
    """The list that is wanted, else the one by which this portion was cut last, else the first."""
    names = lists_of_portion(trade.lists, body.species, body.portion)
    if wanted and wanted not in names:
        raise Refusal(f"There is no list {wanted!r} for {body_title(body)}. Choose another list.")
    used = [stage.list for stage in trade.stages if stage.list in names]
    return wanted or (used[-1] if used else next(iter(names), ""))
