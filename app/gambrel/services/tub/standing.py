"""What stands free at the tub and in the trays, and what is known of its lean."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import TYPE_CHECKING

from gambrel.domain.bench.lean import FINEST
from gambrel.domain.bench.trim import (
    FreeClass,
    Leans,
    Standing,
    free_classes,
    leans_of,
    tub_cuts,
)
from gambrel.domain.prices.body_limits import BODY_DAYS_SETTING, body_limits, read_body_days
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import CutLean, IngredientLot, PieceLean
from gambrel.domain.trade.catalogue import CutKind
from gambrel.domain.trade.records import Trade
from gambrel.domain.trade.use_by import use_by_days
from gambrel.services.bench.act import Act
from gambrel.services.tub.limits import Limits, read_limits

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book
    from gambrel.storage.work import Work


@dataclass(frozen=True, slots=True)
class Stock:
    """What stands free, class by class, with the book that it was read from.

    ``trim`` is what stands at the tub, ``trays`` what is for sale and could be worked back; the
    shop's limit of age holds for trim alone.
    """

    trade: Trade
    trim: tuple[FreeClass, ...]
    trays: tuple[FreeClass, ...]
    leans: Leans
    limits: Limits

    def of_cut(self, cut: str) -> FreeClass | None:
        """What stands free of one cut."""
        return next((row for row in (*self.trim, *self.trays) if row.cut.key == cut), None)


def standing_trim(book: Book, now: datetime) -> Stock:
    """What stands free now. Reads the whole book: call it off the window's thread.

    Raises:
        Refusal: The book has no shop yet, or contradicts itself.
    """
    with book.reading() as work:
        return read_stock(work, now)


def read_stock(work: Work, now: datetime) -> Stock:
    """The same inside a transaction."""
    trade = work.trade()
    leans = leans_of(work.every(CutLean), work.every(PieceLean))
    limits = read_limits(work)
    days = last_days(work, trade)
    at_tub = tub_cuts(trade.cuts, leans)
    trays = {cut.key for cut in trade.cuts if cut.kind is CutKind.TRAY}
    return Stock(
        trade,
        tuple(free_classes(trade, at_tub, Standing(now, days, leans, limits.age_days))),
        tuple(free_classes(trade, trays, Standing(now, days, leans))),
        leans,
        limits,
    )


def last_days(work: Work, trade: Trade) -> dict[str, date | None]:
    """Until when each piece may be used, by its shelf life, its lots, and the shop's own limits.

    Raises:
        Refusal: The shop's limits for bodies cannot be read, or the book contradicts itself.
    """
    bodies = body_limits(trade, read_body_days(work.setting(BODY_DAYS_SETTING) or ""))
    return use_by_days(trade, bodies, work.every(IngredientLot))


def set_lean(book: Book, cut: str, percent: Decimal) -> None:
    """Say to what lean a class of trim is sorted, in per cent of its weight.

    Raises:
        Refusal: It cannot be, or there is no such trim.
    """
    _refuse_if_absurd(percent)
    with book.transaction() as work:
        kinds = {each.key: each.kind for each in work.cuts()}
        if kinds.get(cut) not in (CutKind.TRIM, CutKind.BYPRODUCT):
            raise Refusal(f"{cut!r} is no trim and no fat of the catalogue. Choose another.")
        work.put(CutLean(cut, percent))


def forget_lean(book: Book, cut: str, percent: Decimal) -> None:
    """Say no more to what lean a class of trim is sorted: it was set by mistake.

    Raises:
        Refusal: It is sorted to another lean by now, or to none.
    """
    with book.transaction() as work:
        lean = CutLean(cut, percent)
        if lean not in work.every(CutLean, cut=cut):
            raise Refusal("Another lean was set for this class since. Look at it again.")
        work.drop(lean)


def measure_lean(book: Book, piece: str, percent: Decimal, act: Act) -> PieceLean:
    """Write down the lean of a piece as it was measured; the newest measure counts.

    Raises:
        Refusal: It cannot be, or the piece does not stand.
    """
    _refuse_if_absurd(percent)
    with book.transaction() as work:
        found = work.piece(piece)
        if found is None or work.voided(piece):
            raise Refusal("This piece does not stand any more. Look at the tubs again.")
        lean = PieceLean(piece, max(act.now, found.weighed_at), percent, act.person)
        work.note([lean])
    return lean


def _refuse_if_absurd(percent: Decimal) -> None:
    if not (percent.is_finite() and 0 <= percent <= 100) or percent % FINEST:
        raise Refusal(f"{percent} % lean cannot be. Type 0 to 100, to a hundredth.")
