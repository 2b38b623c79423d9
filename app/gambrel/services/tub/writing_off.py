"""Writing off what may not be used or sold any more."""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from gambrel.domain.numbers.mass import kg_text
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import WriteOffWithdrawn
from gambrel.domain.trade.records import WriteOff
from gambrel.services.bench.act import Act
from gambrel.services.bench.starting import piece_left

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book
    from gambrel.storage.work import Work

SHORTEST = timedelta(microseconds=1)
"""The least by which two moments in the book differ."""

WRITE_OFF_REASONS = (
    "past its use-by",
    "past the shop's limit of age",
    "dropped or dirty",
    "warm too long",
    "spoiled in the pack",
)
"""Why something is written off; the usual ones, one tap each."""


def write_off(book: Book, piece: str, grams: int | None, reason: str, act: Act) -> WriteOff:
    """Write a piece off, or part of it. It stays in the record, and can be taken back.

    Args:
        book: The shop's book.
        piece: Its key.
        grams: How much of it; None for all that is left of it.
        reason: Why; it stays in the record.
        act: Who does it, and when.
    Raises:
        Refusal: No reason is given, the piece does not stand, or less is left of it.
    """
    if not reason.strip():
        raise Refusal("Say why the piece is written off; the reason stays in the record.")
    with book.transaction() as work:
        found = work.piece(piece)
        if found is None or work.voided(piece):
            raise Refusal("This piece does not stand any more. Look at the list again.")
        left = piece_left(work.trade(), piece)
        if left <= 0:
            raise Refusal("Nothing is left of this piece. Look at the list again.")
        part = left if grams is None else grams
        if not 0 < part <= left:
            raise Refusal(f"Only {kg_text(left)} kg of this piece is left. Write off that or less.")
        gone = {(each.written_off_at, each.why) for each in _withdrawn(work, piece)}
        at, why = max(act.now, found.weighed_at), reason.strip()
        while (at, why) in gone:  # that moment stays taken
            at += SHORTEST
        row = WriteOff(piece, part, at, why)
        work.add([row])
    return row


def take_back_write_off(book: Book, row: WriteOff, act: Act) -> None:
    """Let a write-off not have been, by a row of its own; both stay in the record.

    Raises:
        Refusal: It does not stand any more.
    """
    with book.transaction() as work:
        if row not in work.trade().writeoffs:
            raise Refusal("This write-off was taken back already. Look at the list again.")
        work.note(
            [WriteOffWithdrawn(row.piece, row.at, row.reason, max(act.now, row.at), act.person)]
        )


def _withdrawn(work: Work, piece: str) -> list[WriteOffWithdrawn]:
    return work.every(WriteOffWithdrawn, piece=piece)
