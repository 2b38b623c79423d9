"""What a station keeps about its printers, and the shop about its tickets."""

from __future__ import annotations

from gambrel.domain.prices.printer_setting import PaperSetting, read_settings, settings_text
from gambrel.domain.prices.ticket_setting import (
    TICKET_SETTING,
    TicketSetting,
    read_ticket_setting,
    ticket_setting_text,
)
from gambrel.domain.refusals import Refusal
from gambrel.services.books import Book
from gambrel.services.printing.documents import CODES
from gambrel.services.settings import Change, change_setting, keep_setting, read_setting

PRINTERS = "printer:"
"""With the station after it, the setting that keeps how each paper is printed there."""

LABEL_PRINTER = PaperSetting(dpi=203)
"""How a paper of rolls is printed where nothing was set: the common label printer's dots."""

_ROLLS = ("label-", "roll-")


def paper_setting(book: Book, station: str, paper: str) -> PaperSetting:
    """How a paper is printed at a station; the usual where nothing was set.

    Raises:
        Refusal: What was kept cannot be read.
    """
    found = paper_settings(book, station).get(paper)
    return found or (LABEL_PRINTER if paper.startswith(_ROLLS) else PaperSetting())


def paper_settings(book: Book, station: str) -> dict[str, PaperSetting]:
    """All that was set, by paper.

    Raises:
        Refusal: What was kept cannot be read.
    """
    text = read_setting(book, PRINTERS + station)
    return read_settings(text) if text else {}


def keep_paper_setting(book: Book, station: str, paper: str, setting: PaperSetting) -> Change:
    """Keep how one paper is printed at a station; what cannot be read any more is forgotten.

    Returns:
        What takes it back.
    Raises:
        Refusal: The book may not be written.
    """

    def edit(before: str) -> str:
        try:
            kept = read_settings(before) if before else {}
        except Refusal:
            kept = {}
        return settings_text(kept | {paper: setting})

    return change_setting(book, PRINTERS + station, edit)


def ticket_setting(book: Book) -> TicketSetting:
    """What the shop wants on its tickets.

    Raises:
        Refusal: What was kept cannot be read.
    """
    return read_ticket_setting(read_setting(book, TICKET_SETTING))


def keep_ticket_setting(book: Book, setting: TicketSetting) -> Change:
    """Keep what the shop wants on its tickets; the answer takes it back.

    Raises:
        Refusal: The logo is no picture, or the book may not be written.
    """
    if setting.logo:
        from gambrel.reports.logo import read_logo

        read_logo(setting.logo)
    return change_setting(book, TICKET_SETTING, lambda _before: ticket_setting_text(setting))


def usual_paper(book: Book, station: str, what: str) -> str:
    """The paper that such things were last printed on at a station; empty for none."""
    return read_setting(book, _paper_name(station, what))


def keep_usual_paper(book: Book, station: str, what: str, paper: str) -> None:
    """Keep the paper that such things were printed on.

    Raises:
        Refusal: The book may not be written.
    """
    keep_setting(book, _paper_name(station, what), paper)


def usual_code(book: Book, station: str) -> str:
    """What the code of labels carried when they were last printed at a station; empty for none."""
    kept = read_setting(book, f"{PRINTERS}{station}:code")
    return kept if kept in CODES else ""


def keep_usual_code(book: Book, station: str, code: str) -> None:
    """Keep what the code of labels carries.

    Raises:
        Refusal: The book may not be written.
    """
    keep_setting(book, f"{PRINTERS}{station}:code", code)


def _paper_name(station: str, what: str) -> str:
    return f"{PRINTERS}{station}:paper:{what}"
