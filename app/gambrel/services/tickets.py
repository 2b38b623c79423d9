"""Printing shelf tickets, on sheets to cut, on cards, or on a roll."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import TYPE_CHECKING, NamedTuple

from gambrel.domain.bench.legal import COUNTRY_SETTING
from gambrel.domain.numbers.money import Currency
from gambrel.domain.prices.tickets import Ticket, TicketRules, make_tickets
from gambrel.domain.prices.unit_price import Per
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import CutLabel, Origin
from gambrel.domain.trade.retired import RETIRED, read_retired
from gambrel.reports.papers import FROM_THE_FIRST, PAPERS, Paper, Placing, paper_names
from gambrel.services.cabinet import as_trays_stand
from gambrel.services.words import formats_for

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.reports.sheet_pages import OnPage
    from gambrel.storage.book import Book

__all__ = [
    "Per",
    "Placing",
    "PrintedTickets",
    "TicketPrint",
    "paper_named",
    "paper_names",
    "print_tickets",
    "tickets_pdf",
]


@dataclass(frozen=True, slots=True)
class TicketPrint:
    """How tickets are printed.

    ``per`` is a second price beside the one per kilo; ``logo`` the bytes of a PNG or JPEG file.
    """

    per: Per | None = None
    barcode: bool = True
    logo: bytes | None = None
    placing: Placing = FROM_THE_FIRST


class PrintedTickets(NamedTuple):
    """A PDF of tickets, words that were cut short on it, its pages, and what the tickets say."""

    pdf: bytes
    cut_short: tuple[str, ...]
    pages: int
    tickets: tuple[Ticket, ...]
    currency: Currency


def tickets_pdf(book: Book, cuts: Sequence[str] | None, paper: str, now: datetime) -> bytes:
    """Shelf tickets as a PDF: what ``print_tickets`` draws, without its warnings."""
    return print_tickets(book, cuts, paper, now).pdf


def print_tickets(
    book: Book,
    cuts: Sequence[str] | None,
    paper: str,
    now: datetime,
    how: TicketPrint = TicketPrint(),
    on_page: OnPage | None = None,
) -> PrintedTickets:
    """Shelf tickets at the prices in force at a moment.

    Args:
        book: An open book. Its setting ``country`` is heeded.
        cuts: Keys in the order of printing; None for every tray cut that has a price, as the
            trays stand.
        paper: One of ``paper_names()``.
        now: An aware moment.
        how: What else stands on them, and the placing.
        on_page: Told after every page how many tickets are drawn of how many; it answers whether
            to go on.
    Returns:
        The PDF, and words that were too long for the paper and are cut short on it.
    Raises:
        Refusal: See ``make_tickets``; or the paper is unknown or too small, or the logo is no
            picture.
        gambrel.reports.sheet_pages.Stopped: ``on_page`` said no.
    """
    from gambrel.reports.logo import read_logo
    from gambrel.reports.tickets import draw_tickets

    chosen = paper_named(paper)
    logo = None if how.logo is None else read_logo(how.logo)
    with book.reading() as work:
        if work.shop() is None:
            raise Refusal("This book has no shop in it yet. Load one with “gambrel load”.")
        trade = work.trade()
        trade = replace(trade, cuts=tuple(as_trays_stand(work, trade.cuts)))
        rules = TicketRules(
            per=how.per,
            country=work.setting(COUNTRY_SETTING) or "",
            barcode=how.barcode,
            texts=work.every(CutLabel),
            origins=work.every(Origin),
            retired=read_retired(work.setting(RETIRED)),
        )
    tickets = make_tickets(trade, cuts, now, rules)
    printed = draw_tickets(
        tickets, chosen, formats_for(trade.shop), shop=trade.shop.name, placing=how.placing,
        logo=logo, on_page=on_page,
    )  # fmt: skip
    return PrintedTickets(*printed, tuple(tickets), trade.shop.currency)


def paper_named(name: str) -> Paper:
    """The paper of a name.

    Raises:
        Refusal: There is none; the papers that there are are named.
    """
    if name not in PAPERS:
        known = ", ".join(paper_names())
        raise Refusal(f"There is no paper {name!r}; choose one of {known}.")
    return PAPERS[name]
