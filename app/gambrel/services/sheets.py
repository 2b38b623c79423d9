"""Reading a week or a day of the book as a sheet of plain values."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from gambrel.domain.costing.ledger import Ledger
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.refusals import Refusal
from gambrel.domain.sheets.day_sheet import DaySheet, day_sheet
from gambrel.domain.sheets.week_sheet import WeekSheet, week_sheet
from gambrel.domain.trade.clock import TradeWeek
from gambrel.domain.trade.records import Trade

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book


def read_week(book: Book, week: TradeWeek) -> WeekSheet:
    """One trade week of the book, beside the week before.

    Raises:
        Refusal: A price is missing, or the book has no shop.
    """
    return week_sheet(read_ledger(book), week)


def read_day(book: Book, day: date) -> DaySheet:
    """One business day of the book.

    Raises:
        Refusal: A price is missing, or the book has no shop.
    """
    return day_sheet(read_ledger(book), day)


def read_ledger(book: Book) -> Ledger:
    """The whole book and its costing, side by side.

    Raises:
        Refusal: A price is missing, or the book has no shop.
    """
    with book.reading() as work:
        if work.shop() is None:
            raise Refusal("This book has no shop in it yet. Load one with “gambrel load”.")
        trade: Trade = work.trade()
    return Ledger(trade, roll_up(trade))
