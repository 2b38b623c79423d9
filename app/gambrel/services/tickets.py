"""Printing shelf tickets, on sheets to cut, on cards, or on a roll."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import TYPE_CHECKING

from gambrel.domain.prices.tickets import make_tickets
from gambrel.domain.refusals import Refusal
from gambrel.reports.papers import PAPERS, Paper, paper_names
from gambrel.services.words import formats_for

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.reports.sheet_pages import Printed
    from gambrel.storage.book import Book

__all__ = ["paper_named", "paper_names", "print_tickets", "tickets_pdf"]


def tickets_pdf(book: Book, cuts: Sequence[str] | None, paper: str, now: datetime) -> bytes:
    """Shelf tickets as a PDF: what ``print_tickets`` draws, without its warnings."""
    return print_tickets(book, cuts, paper, now).pdf


def print_tickets(book: Book, cuts: Sequence[str] | None, paper: str, now: datetime) -> Printed:
    """Shelf tickets at the prices in force at a moment.

    Args:
        book: An open book.
        cuts: Keys in the order of printing; None for every tray cut that has a price.
        paper: One of ``paper_names()``.
        now: An aware moment.
    Returns:
        The PDF, and words that were too long for the paper and are cut short on it.
    Raises:
        Refusal: The paper or a cut is unknown, a cut has no price, or no barcode for its PLU.
    """
    from gambrel.reports.tickets import draw_tickets

    chosen = paper_named(paper)
    with book.reading() as work:
        if work.shop() is None:
            raise Refusal("This book has no shop in it yet. Load one with “gambrel load”.")
        trade = work.trade()
    tickets = make_tickets(trade, cuts, now)
    return draw_tickets(tickets, chosen, formats_for(trade.shop), shop=trade.shop.name)


def paper_named(name: str) -> Paper:
    """The paper of a name.

    Raises:
        Refusal: There is none; the papers that there are are named.
    """
    if name not in PAPERS:
        known = ", ".join(paper_names())
        raise Refusal(f"There is no paper {name!r}; choose one of {known}.")
    return PAPERS[name]
