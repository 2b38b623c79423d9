"""What this station keeps about its printers."""

from __future__ import annotations

from gambrel.domain.prices.printer_setting import PaperSetting, read_settings, settings_text
from gambrel.domain.refusals import Refusal
from gambrel.services.books import Book
from gambrel.services.settings import keep_setting, read_setting

PRINTERS = "printers:"
"""With the station after it, the setting that keeps how each paper is printed there."""

PAPER = "paper:"
"""With the station and what is printed after it, the setting that keeps its usual paper."""

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


def keep_paper_setting(book: Book, station: str, paper: str, setting: PaperSetting) -> None:
    """Keep how one paper is printed at a station; what cannot be read any more is forgotten.

    Raises:
        Refusal: The book may not be written.
    """
    try:
        kept = paper_settings(book, station)
    except Refusal:
        kept = {}
    keep_setting(book, PRINTERS + station, settings_text(kept | {paper: setting}))


def usual_paper(book: Book, station: str, what: str) -> str:
    """The paper that such things were last printed on at a station; empty for none."""
    return read_setting(book, f"{PAPER}{station}:{what}")


def keep_usual_paper(book: Book, station: str, what: str, paper: str) -> None:
    """Keep the paper that such things were printed on.

    Raises:
        Refusal: The book may not be written.
    """
    keep_setting(book, f"{PAPER}{station}:{what}", paper)
