"""Looking at a week on the screen: its sheet, and what is behind every figure of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from gambrel.domain.sheets.opening import Opening
from gambrel.domain.sheets.week_sheet import WeekSheet, week_sheet
from gambrel.domain.trade.clock import TradeWeek
from gambrel.services.sheets import read_ledger

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from pathlib import Path

    from gambrel.domain.sheets.behind import Behind
    from gambrel.storage.book import Book


@dataclass(frozen=True)
class WeekLook:
    """A week's sheet as the book was when it was read, and what opens its figures."""

    sheet: WeekSheet
    opening: Opening


def look_at_week(book: Book, week: TradeWeek) -> WeekLook:
    """Read a week so that its figures can be opened.

    Raises:
        Refusal: A price is missing, or the book has no shop.
    """
    ledger = read_ledger(book)
    sheet = week_sheet(ledger, week)
    return WeekLook(sheet, Opening(ledger, sheet))


def save_behind(look: WeekLook, behind: Behind, path: Path) -> None:
    """Keep the rows behind a figure as a CSV file.

    Raises:
        Refusal: The place cannot be written to.
    """
    from gambrel.reports.behind_data import behind_table
    from gambrel.reports.csv_files import csv_files
    from gambrel.services.papers import save_whole

    shop = look.sheet.shop
    [text] = csv_files([behind_table(behind, shop)], shop.currency).values()
    save_whole(path, text.encode("utf-8"))
