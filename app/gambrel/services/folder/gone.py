"""Rows that were taken back: the book keeps them and their keys, a dump tells of them no more."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gambrel.domain.trade.around import PriceWithdrawn, WriteOffWithdrawn
from gambrel.domain.trade.rows import RowKey

if TYPE_CHECKING:
    from gambrel.storage.work import Work


def withdrawn_prices(work: Work) -> list[RowKey]:
    """The keys of prices that were withdrawn before they came."""
    return [(row.cut, row.since.isoformat()) for row in work.every(PriceWithdrawn)]


def withdrawn_writeoffs(work: Work) -> list[RowKey]:
    """The keys of write-offs that were taken back."""
    gone = work.every(WriteOffWithdrawn)
    return [(row.piece, row.written_off_at.isoformat(), row.why) for row in gone]
