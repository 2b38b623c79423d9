"""Printing a day: the breakdown sheet of one business day."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from gambrel.services.sheets import read_day
from gambrel.services.words import formats_for

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book


def day_pdf(book: Book, day: date) -> bytes:
    """The daily breakdown sheet as a PDF; a day without work gives a page that says so.

    Raises:
        Refusal: The book has no shop, or a price is missing.
    """
    from gambrel.reports.day import draw_day

    sheet = read_day(book, day)
    return draw_day(sheet, formats_for(sheet.shop))
