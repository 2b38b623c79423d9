"""Makes tickets and labels into documents, with what each of them says for the log."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Sequence
from datetime import datetime
from typing import TYPE_CHECKING, TypeVar

from gambrel.domain.prices.labels import VERIFIED, TrayCode, TrayLabel, Wish
from gambrel.domain.prices.tickets import Ticket
from gambrel.domain.trade.around import PrintedItem, PrintKind
from gambrel.reports.papers import Placing, Sheet, label_sheet
from gambrel.services.labels import LabelPrint, label_paper_names, print_labels
from gambrel.services.printing.documents import (
    A4,
    Choice,
    Document,
    Labels,
    MakingStopped,
    OnPage,
    PaperOffer,
    Tickets,
    TrialSheet,
)
from gambrel.services.printing.settings import ticket_setting
from gambrel.services.tickets import TicketPrint, print_tickets

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book

T = TypeVar("T")

LABEL_DPI = (203, 300)
"""What the bars of labels are drawn for; another printer gets those of the finer one."""

_A4_SHEET = Sheet(A4, "A4 sheet to read", (210.0, 297.0), 1, 1, (210.0, 297.0))


def make_tickets_document(
    source: Tickets, book: Book, choice: Choice, now: datetime, on_page: OnPage
) -> Document:
    """Shelf tickets as a document; see `Source.make`."""
    kept = ticket_setting(book)
    how = TicketPrint(kept.per, kept.barcode, kept.logo or None, _placing(choice))
    made = _whole(lambda: print_tickets(book, source.cuts, choice.paper, now, how, on_page))
    items = tuple(_ticket_item(n, ticket) for n, ticket in enumerate(made.tickets))
    return Document(
        PrintKind.TICKET, source.title, choice.paper, made.pdf, items, _warnings(made.cut_short)
    )


def _ticket_item(position: int, ticket: Ticket) -> PrintedItem:
    return PrintedItem("", position, ticket.cut, ticket.price, number=ticket.number)


def label_offers() -> list[PaperOffer]:
    """The papers of tray labels."""
    sheets = [label_sheet(name) for name in label_paper_names()]
    return [PaperOffer(sheet.name, sheet.about, sheet.count) for sheet in sheets]


def make_labels_document(
    source: Labels, book: Book, choice: Choice, now: datetime, on_page: OnPage
) -> Document:
    """Tray labels as a document; see `Source.make`."""
    dpi = choice.dpi if choice.dpi in LABEL_DPI else max(LABEL_DPI)
    code = TrayCode(choice.code) if choice.code else TrayCode.PRICE
    how = LabelPrint(code, dpi, _placing(choice))
    made = _whole(lambda: print_labels(book, source.wishes, choice.paper, now, how, on_page))
    items = tuple(_label_item(n, label) for n, label in enumerate(made.labels))
    warnings = _warnings(made.cut_short)
    return Document(
        PrintKind.LABEL, source.title, choice.paper, made.pdf, items, warnings, VERIFIED
    )


def _label_item(position: int, label: TrayLabel) -> PrintedItem:
    return PrintedItem(
        job="",
        position=position,
        cut=label.cut,
        price=label.per_kilo,
        piece=label.piece,
        grams=label.grams,
        amount=label.price,
        lot=label.lot,
        use_by=label.use_by,
        number=label.number,
    )


def make_trial_sheet(source: TrialSheet, book: Book, choice: Choice) -> Document:
    """A paper's crosses as a document; see `Source.make`."""
    from gambrel.reports.crosses import draw_crosses

    with book.reading() as work:
        shop = work.shop()
    name = shop.name if shop is not None else ""
    pdf = draw_crosses(sheet_named(source.paper), choice.shift, shop=name)
    return Document(PrintKind.SHEET, source.title, choice.paper, pdf)


def sheet_named(name: str) -> Sheet:
    """A paper of tickets, of labels, or the sheet that is read.

    Raises:
        Refusal: There is no such paper.
    """
    return _A4_SHEET if name == A4 else label_sheet(name)


def wishes_of(items: Sequence[PrintedItem]) -> tuple[Wish, ...]:
    """The trays that were labelled, by their pieces, to be labelled again just so."""
    trays: dict[str, list[int]] = defaultdict(list)
    for item in items:
        trays[item.piece].append(item.grams or 0)
    return tuple(Wish(piece, tuple(grams)) for piece, grams in trays.items())


def _whole(make: Callable[[], T]) -> T:
    """What was made; a stop on the way is told in this room's own words."""
    from gambrel.reports.sheet_pages import Stopped

    try:
        return make()
    except Stopped as stopped:
        raise MakingStopped from stopped


def _placing(choice: Choice) -> Placing:
    return Placing(choice.start, *choice.shift)


def _warnings(cut_short: Sequence[str]) -> tuple[str, ...]:
    return tuple(
        f"“{words}” is too long for this paper and is cut short. Choose a larger paper or a "
        "shorter name."
        for words in cut_short
    )
