"""Review of what happened: bodies, reweighs, stages, pieces, inputs, voids and write-offs."""

from __future__ import annotations

from collections.abc import Sequence

from gambrel.domain.numbers.mass import HEAVIEST_G, kg_text
from gambrel.domain.review.findings import BODY, CUT, LIST, PIECE, STAGE, SUPPLIER, Findings
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.records import (
    Body,
    Input,
    Piece,
    PricedOn,
    Reweigh,
    Source,
    Stage,
    Trade,
    Void,
    WriteOff,
)
from gambrel.domain.trade.rows import row_key


def review_bodies(bodies: Sequence[Body], found: Findings) -> None:
    """A body has a weight, a cost of zero or more, and was alive before it came."""
    for body in bodies:
        if body.supplier:
            found.need("bodies", body, "supplier", SUPPLIER, body.supplier)
        found.need_weight("bodies", body, "received_kg", body.received_g)
        found.need_weight("bodies", body, "docket_kg", body.docket_g)
        found.need_amount("bodies", body, "price_per_kg", body.price)
        if body.priced_on is PricedOn.DOCKET and body.docket_g is None:
            message = "nothing is given, but the body is priced on it, expected the docket's weight"
            found.refuse("bodies", body, "docket_kg", message)
        elif body.bought < 0 <= body.price:
            cost = found.shop.currency.text(body.bought)
            message = f"with it the body costs {cost}, expected a cost of zero or more"
            found.refuse("bodies", body, "other_cost", message)
        arrived = business_day(body.received_at, found.shop)
        if body.killed_on is not None and body.killed_on > arrived:
            message = f"{body.killed_on} is after the body came ({arrived}), expected a day before"
            found.refuse("bodies", body, "killed_on", message)


def review_reweighs(reweighs: Sequence[Reweigh], found: Findings) -> None:
    """A body is weighed again after it came; a wrong reweigh leaves its rest unsure."""
    for reweigh in reweighs:
        found.need("reweighs", reweigh, "body", BODY, reweigh.body)
        found.need_weight("reweighs", reweigh, "kg", reweigh.grams)
        body = found.bodies.get(reweigh.body)
        if body is not None and reweigh.at < body.received_at:
            message = f"{reweigh.body} had not been received then, expected a later time"
            found.refuse("reweighs", reweigh, "weighed_at", message)
        if row_key(reweigh) in found.bad["reweighs"]:
            found.bad["bodies"].add((reweigh.body,))


def review_stages(stages: Sequence[Stage], found: Findings) -> None:
    """A stage ends after it started and follows a list that exists."""
    for stage in stages:
        if stage.finished_at is not None and stage.finished_at < stage.started_at:
            message = "it was finished before it started, expected a later time or nothing"
            found.refuse("stages", stage, "finished_at", message)
        if stage.minutes < 0:
            message = f"{stage.minutes} is negative, expected minutes of work"
            found.refuse("stages", stage, "minutes", message)
        if stage.list:
            found.need("stages", stage, "list", LIST, stage.list)


def review_pieces(pieces: Sequence[Piece], found: Findings) -> None:
    """A piece comes from a stage, is of a cut, and weighs more than its tub."""
    stages, cuts = found.stages, found.cuts
    for piece in pieces:
        stage = stages.get(piece.stage)
        if stage is None:
            found.need("pieces", piece, "stage", STAGE, piece.stage)
        elif found.day_before(piece.weighed_at, stage.started_at):
            message = f"{piece.stage} had not started on that day, expected a later time"
            found.refuse("pieces", piece, "weighed_at", message)
        if piece.cut not in cuts:
            found.need("pieces", piece, "cut", CUT, piece.cut)
        if not 0 < piece.gross_g <= HEAVIEST_G:
            found.need_weight("pieces", piece, "gross_kg", piece.gross_g)
        elif not 0 <= piece.tare_g < piece.gross_g:
            message = (
                f"a tare of {kg_text(piece.tare_g)} leaves nothing of {kg_text(piece.gross_g)} kg "
                "gross, expected zero or more and less than the gross weight"
            )
            found.refuse("pieces", piece, "tare_kg", message)


def review_inputs(inputs: Sequence[Input], found: Findings) -> None:
    """A stage takes what exists; only an ingredient brings a cost, and it always has a weight."""
    for row in inputs:
        found.need("inputs", row, "stage", STAGE, row.stage)
        if row.source is Source.BODY:
            found.need("inputs", row, "body", BODY, row.key)
        elif row.source is Source.PIECE:
            found.need("inputs", row, "piece", PIECE, row.key)
        found.need_weight("inputs", row, "kg", row.grams)
        if row.source is Source.INGREDIENT:
            found.need_amount("inputs", row, "cost", row.cost)
            if row.grams is None:
                message = "nothing is given, expected what the ingredient weighs"
                found.refuse("inputs", row, "kg", message)
        elif row.cost:
            message = f"a {row.source} brings its own cost, expected a cost for ingredients only"
            found.refuse("inputs", row, "cost", message)


def review_taken_back(trade: Trade, found: Findings) -> None:
    """Voids and write-offs name pieces that were weighed before; a void leaves nothing to throw."""
    for void in trade.voids:
        _review_piece_event("voids", void, "voided_at", found)
    for writeoff in trade.writeoffs:
        found.need_weight("writeoffs", writeoff, "kg", writeoff.grams)
        _review_piece_event("writeoffs", writeoff, "written_off_at", found)
        if writeoff.piece in trade.voided:
            message = f"piece {writeoff.piece} was taken back (void), expected one that stands"
            found.refuse("writeoffs", writeoff, "piece", message)


def _review_piece_event(table: str, row: Void | WriteOff, column: str, found: Findings) -> None:
    found.need(table, row, "piece", PIECE, row.piece)
    piece = found.pieces.get(row.piece)
    if piece is not None and found.day_before(row.at, piece.weighed_at):
        message = f"piece {row.piece} was weighed on a later day, expected a time after that"
        found.refuse(table, row, column, message)
