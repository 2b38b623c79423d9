"""Printing a week: the cost sheet as paper, as a workbook, and as CSV files."""

from __future__ import annotations

from typing import TYPE_CHECKING

from gambrel.domain.refusals import Refusal
from gambrel.domain.sheets.week_sheet import WeekSheet
from gambrel.domain.trade.clock import trade_week
from gambrel.services.sheets import read_week
from gambrel.services.words import formats_for

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book


def week_pdf(book: Book, week: str) -> bytes:
    """The weekly cost sheet, for example of ``2026-W47``, as a PDF.

    Raises:
        Refusal: No such week, the book has no shop, or a price is missing.
    """
    from gambrel.reports.week import draw_week

    sheet = _read(book, week)
    return draw_week(sheet, formats_for(sheet.shop))


def week_xlsx(book: Book, week: str) -> bytes:
    """The same figures as a workbook of plain numbers; errors as for the PDF."""
    from gambrel.reports.week_data import week_data
    from gambrel.reports.workbook import workbook

    sheet = _read(book, week)
    tables = week_data(sheet, formats_for(sheet.shop))
    title = f"Weekly cost sheet, {sheet.week.name}"
    return workbook(tables, sheet.shop.currency, title=title, shop=sheet.shop.name)


def week_csv(book: Book, week: str) -> dict[str, str]:
    """The same figures as the names and texts of CSV files; errors as for the PDF."""
    from gambrel.reports.csv_files import csv_files
    from gambrel.reports.week_data import week_data

    sheet = _read(book, week)
    return csv_files(week_data(sheet, formats_for(sheet.shop)), sheet.shop.currency)


def _read(book: Book, name: str) -> WeekSheet:
    with book.reading() as work:
        shop = work.shop()
    if shop is None:
        raise Refusal("This book has no shop in it yet. Load one with “gambrel load”.")
    try:
        week = trade_week(name, shop)
    except ValueError as error:
        raise Refusal(f"{error}.") from error
    return read_week(book, week)
