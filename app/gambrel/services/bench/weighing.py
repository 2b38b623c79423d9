"""Weighing in, and taking a weighing back."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from gambrel.domain.numbers.mass import kg_text
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.records import Piece, Void
from gambrel.services.bench.act import Act, open_stage

HEAVIEST_PIECE_G = 500_000
"""No single weighing at a block passes it (common practice, no source)."""

UNDONE = "undone at once"
"""The reason that the Undo button leaves in the record."""

VOID_REASONS = (
    "wrong cut chosen",
    "weighed twice",
    "wrong tub",
    "weight misread",
    "belongs to another body",
)
"""Why a weighing is taken back; the usual ones, one tap each."""

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book
    from gambrel.storage.work import Work


@dataclass(frozen=True, slots=True)
class Weighing:
    """What a scale said, in grams: with the tub, and the tub alone."""

    gross_g: int
    tare_g: int = 0

    @property
    def net_g(self) -> int:
        """Gross less tare."""
        return self.gross_g - self.tare_g

    def refuse_if_absurd(self) -> None:
        """Say no to a weight that no piece can have.

        Raises:
            Refusal: Not above zero, no heavier than its tub, or heavier than any piece.
        """
        if self.gross_g <= 0:
            raise Refusal("There is no weight yet. Type what the scale shows, then weigh in.")
        if self.tare_g < 0:
            raise Refusal("A tub cannot weigh less than nothing. Choose the tub again.")
        if self.gross_g <= self.tare_g:
            raise Refusal(
                f"{kg_text(self.gross_g)} kg is not more than the tub's {kg_text(self.tare_g)} kg. "
                "Check the weight, or choose another tub."
            )
        if self.gross_g > HEAVIEST_PIECE_G:
            raise Refusal(
                f"{kg_text(self.gross_g)} kg is more than any piece weighs. "
                "Type kilograms with a point, such as 4.386."
            )


def weigh_in(book: Book, stage: str, cut: str, weight: Weighing, act: Act) -> Piece:
    """Weigh a piece in; it is on the disk when this returns.

    A moment before the stage's start (two stations' clocks never quite agree) counts as the start.
    The same act sent again changes nothing and gives the same piece.

    Raises:
        Refusal: The weight is absurd, the cut unknown, or the stage not open.
    """
    weight.refuse_if_absurd()
    try:
        return _add(book, stage, cut, weight, act)
    except Refusal:
        with book.reading() as work:
            sent_before = work.piece(act.key)
        if sent_before is None:
            raise
        return sent_before


def _add(book: Book, stage: str, cut: str, weight: Weighing, act: Act) -> Piece:
    with book.transaction() as work:
        at = max(act.now, open_stage(work, stage).started_at)
        if not work.has_cut(cut):
            raise Refusal(f"There is no cut {cut!r} in the catalogue. Choose another.")
        piece = Piece(
            act.key, stage, cut, weight.gross_g, weight.tare_g, at, act.person, act.station
        )
        work.add([piece])
    return piece


def undo_last(book: Book, stage: str, act: Act) -> Void:
    """Take back the last piece that stands on a stage, whoever weighed it.

    Raises:
        Refusal: Nothing stands, a later stage or a write-off took of it, or the stage is not open.
    """
    with book.transaction() as work:
        open_stage(work, stage)
        piece = work.last_piece(stage)
        if piece is None:
            raise Refusal("Nothing has been weighed here yet, so there is nothing to undo.")
        return _void(work, piece, UNDONE, act)


def void_piece(book: Book, piece: str, reason: str, act: Act) -> Void:
    """Take a piece back with a reason; both stay in the record.

    Raises:
        Refusal: There is no such piece, it was taken back before, a later stage or a write-off
            took of it, its stage is finished, or no reason is given.
    """
    if not reason.strip():
        raise Refusal("Say why the piece is taken back; the reason stays in the record.")
    with book.transaction() as work:
        found = work.piece(piece)
        if found is None:
            raise Refusal(f"There is no piece {piece} in the book. Look at the list again.")
        open_stage(work, found.stage)
        return _void(work, found, reason.strip(), act)


def _void(work: Work, piece: Piece, reason: str, act: Act) -> Void:
    if work.voided(piece.key):
        raise Refusal("This piece was taken back before. Look at the list again.")
    if work.used_later(piece.key):
        raise Refusal(
            "This piece has gone on: it was cut further, blended or written off. "
            "Take that back first."
        )
    void = Void(piece.key, max(act.now, piece.weighed_at), act.person, reason)
    work.add([void])
    return void
