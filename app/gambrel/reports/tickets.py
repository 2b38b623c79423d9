"""Shelf tickets: a name, a price that reads from two metres, where it is from, and a barcode.

The price's digits are 10 mm high or more wherever the price is short enough for the paper: a
two-hundredth of the distance from which it is read. Source: the FAA's human factors pages on
visual displays (hf.faa.gov), "character size should be 1/200th of viewing distance". Small words
are never under 6.6 points, an x-height of 1.2 mm (Regulation (EU) 1169/2011, article 13; from
memory).
"""

from __future__ import annotations

from collections.abc import Sequence

from gambrel.domain.prices.tickets import Ticket
from gambrel.domain.trade.formats import Formats
from gambrel.reports.barcode import DIGITS, QUIET, draw_ean13
from gambrel.reports.barcode import WIDTH as BARS
from gambrel.reports.fitting import clean, fit_line, fit_lines
from gambrel.reports.fonts import (
    BOLD,
    CAP_HEIGHT,
    OVERSHOOT,
    SEMIBOLD,
    register_fonts,
    width_of,
)
from gambrel.reports.letters import see_letters
from gambrel.reports.logo import Logo, draw_logo
from gambrel.reports.look import MM, Face, look
from gambrel.reports.papers import FROM_THE_FIRST, Paper, Placing
from gambrel.reports.pen import Pen
from gambrel.reports.sheet_pages import OnPage, Printed, Titles, deal
from gambrel.reports.ticket_words import LEAST_SMALL, SmallWords

PER_KILO = "per kg"

_ONE_LINE = 0.72
"""A name goes on two lines before it is set smaller than this part of its size."""

_LEADING = 1.13
_STRIPES = 1.9 * MM


def draw_tickets(
    tickets: Sequence[Ticket],
    paper: Paper,
    formats: Formats,
    *,
    shop: str,
    placing: Placing = FROM_THE_FIRST,
    logo: Logo | None = None,
    on_page: OnPage | None = None,
) -> Printed:
    """Draw tickets on as many pages as they need, in the order given.

    Args:
        tickets: What they say.
        paper: Pages, and how large things are.
        formats: How the shop writes money.
        shop: Its name, for the document's properties.
        placing: The first place on a sheet, and how far the printer is off.
        logo: The shop's own picture, drawn beside every name.
        on_page: Told after every page; see ``sheet_pages.OnPage``.
    Returns:
        The PDF (the same tickets give the same bytes) and what had to be cut short.
    Raises:
        Refusal: The paper has no such place, or is too small for what must stand on a ticket; or
            the typeface lacks its letters.
        Stopped: ``on_page`` said no.
    """
    register_fonts()
    see_letters(
        (each.name, (each.name, each.supplier, *each.origin, *each.cautions)) for each in tickets
    )
    titles = Titles(
        f"Shelf tickets, {paper.name}", shop, f"{len(tickets)} shelf tickets on {paper.about}"
    )

    def draw(pen: Pen, ticket: Ticket, x: float, y: float) -> None:
        draw_ticket(pen, ticket, paper, x, y, formats, logo)

    return deal(tickets, paper, placing, draw, titles, on_page, pad=paper.pad)


def draw_ticket(
    pen: Pen,
    ticket: Ticket,
    paper: Paper,
    x: float,
    y: float,
    formats: Formats,
    logo: Logo | None = None,
) -> None:
    """One ticket in its place: name, stripes and price, below them the small words and the bars."""
    pad = paper.pad * MM
    left, top = x + pad, y + pad
    width = paper.cell[0] * MM - 2 * pad
    bottom = y + paper.cell[1] * MM - pad
    stripes = top + paper.name_height * MM
    foot = bottom - paper.bar_height * MM - DIGITS
    words = foot - paper.words_height * MM
    named = width - (draw_logo(pen, logo, left + width, top, paper) if logo else 0)
    _name(pen, ticket.name, paper, left, stripes, named)
    _stripes(pen, left, stripes, width)
    _price(pen, formats.money(ticket.price), paper, left, stripes + _STRIPES, width, words)
    small = SmallWords(pen, paper, formats)
    if not ticket.number:
        small.draw(ticket, left, words, width, bottom)
        return
    over = bool(paper.words_height)
    room = width if over else width - BARS - QUIET
    small.draw(ticket, left, words, room, foot - 0.8 * MM if over else bottom)
    draw_ean13(pen, ticket.number, left + width, foot, paper.bar_height * MM)


def _name(pen: Pen, name: str, paper: Paper, x: float, bottom: float, width: float) -> None:
    """The name over the stripes: on one line, or smaller on two."""
    fitted = fit_line(name, BOLD, paper.name_size, width, paper.name_size * _ONE_LINE)
    if fitted.cut:
        most = min(paper.name_size * 0.8, paper.name_height * MM / 2 / _LEADING)
        fitted = fit_lines(name, BOLD, max(most, LEAST_SMALL), width, LEAST_SMALL, 2)
    if fitted.cut:
        pen.cut.append(clean(name))
    base = bottom - fitted.size * 0.34
    face = Face(BOLD, fitted.size, look().ink)
    for line in reversed(fitted.lines):
        pen.text(x, base, line, face)
        base -= fitted.size * _LEADING


def _stripes(pen: Pen, x: float, y: float, width: float) -> None:
    """The apron's stripes under the name."""
    accent = look().accent
    pen.box(x, y, width, 0.9 * MM, fill=accent)
    pen.box(x, y + 1.35 * MM, width, 0.3 * MM, fill=accent)


def price_size(price: str, paper: Paper, width: float, height: float) -> float:
    """The price's type size in points: as the paper wants it, or smaller where it must."""
    wanted = paper.price_cap * MM / CAP_HEIGHT
    tallest = height / (CAP_HEIGHT + 2 * OVERSHOOT)
    return min(wanted, tallest, (width - _unit_width(paper)) / width_of(price, BOLD, 1))


def _unit_size(paper: Paper) -> float:
    return paper.small * 1.3


def _unit_width(paper: Paper) -> float:
    """What the unit takes of the price's line, the gap before it included."""
    size = _unit_size(paper)
    words = {"beside": PER_KILO, "stacked": PER_KILO.split(" ", maxsplit=1)[0], "under": ""}[
        paper.unit
    ]
    return width_of(words, SEMIBOLD, size) + 0.35 * size if words else 0.0


def _price(
    pen: Pen, price: str, paper: Paper, x: float, top: float, width: float, bottom: float
) -> None:
    """The price as large as it goes, in the middle between stripes and foot, and its unit."""
    unit = Face(SEMIBOLD, _unit_size(paper), look().soft)
    if paper.unit == "under":
        bottom -= unit.size * _LEADING
    size = price_size(price, paper, width, bottom - top - 0.4 * MM)
    base = (top + bottom + size * CAP_HEIGHT) / 2
    pen.text(x, base, price, Face(BOLD, size, look().ink))
    after = x + width_of(price, BOLD, size) + 0.35 * unit.size
    if paper.unit == "beside":
        pen.text(after, base, PER_KILO, unit)
    elif paper.unit == "stacked":
        per, kilo = PER_KILO.split(" ")
        pen.text(after, base - unit.size * _LEADING, per, unit)
        pen.text(after, base, kilo, unit)
    else:
        pen.text(x, bottom + unit.size * 0.8, PER_KILO, unit)
