"""What the Printers section of Setup shows. Pure: no Qt."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from gambrel.domain.prices.printer_setting import PaperSetting, PrinterAtHand
from gambrel.domain.prices.ticket_setting import TicketSetting
from gambrel.domain.prices.unit_price import Per
from gambrel.services.printing.documents import A4
from gambrel.ui.setup.rows_state import RowState

TICKETS = "tickets"
"""The key of the row for what stands on tickets; the others are papers."""

SECOND_PRICES: tuple[tuple[Per | None, str], ...] = (
    (None, "Only per kg"),
    (Per.HUNDRED_GRAMS, "Also per 100 g"),
    (Per.POUND, "Also per pound"),
)
BARS = ("With bars", "Without bars")
FIRST_CHOICE = "Usual printer"


@dataclass(frozen=True, slots=True)
class PaperState:
    """The paper that is chosen, and how it is printed here; ``moves`` as for the desk."""

    title: str
    moves: bool
    printers: tuple[str, ...]
    printer: int
    setting: PaperSetting


@dataclass(frozen=True, slots=True)
class TicketState:
    """What stands on tickets."""

    second: int
    bars: int
    logo: str
    has_logo: bool


def setting_rows(
    papers: Mapping[str, str],
    settings: Mapping[str, PaperSetting],
    tickets: TicketSetting,
    chosen: str,
) -> tuple[RowState, ...]:
    """A row for the tickets and one for every paper; ``papers`` are words by name."""
    first = RowState(
        TICKETS, "What stands on tickets", _tickets_words(tickets), chosen=chosen == TICKETS
    )
    rest = [
        RowState(name, paper_title(words), _paper_words(settings.get(name)), chosen=chosen == name)
        for name, words in papers.items()
    ]
    return (first, *rest)


def _tickets_words(setting: TicketSetting) -> str:
    second = dict(SECOND_PRICES)[setting.per]
    logo = "the shop's logo" if setting.logo else "no logo"
    return f"{second} · {BARS[0 if setting.barcode else 1].lower()} · {logo}"


def _paper_words(setting: PaperSetting | None) -> str:
    """In a few words; the panel beside says how far it is moved."""
    if setting is None:
        return "As usual"
    moved = ", moved" if setting.right or setting.down else ""
    return f"{setting.printer or FIRST_CHOICE}{moved}"


def paper_title(words: str) -> str:
    """A paper's words as the name of a row, short enough for a small tablet."""
    short = words.replace("to cut into", "for")
    return short[:1].upper() + short[1:]


def paper_state(
    paper: str, words: str, setting: PaperSetting, printers: Sequence[PrinterAtHand]
) -> PaperState:
    """How a paper is printed; a printer that is gone stays among the choices until another is."""
    names = ["", *(each.name for each in printers)]
    if setting.printer not in names:
        names.append(setting.printer)
    shown = tuple(name or FIRST_CHOICE for name in names)
    index = names.index(setting.printer)
    return PaperState(paper_title(words), paper != A4, shown, index, setting)


def printer_of(state: PaperState, index: int) -> str:
    """The printer's name under a number; empty for the system's own choice."""
    return "" if index == 0 else state.printers[index]


def ticket_state(setting: TicketSetting) -> TicketState:
    """What stands on tickets, as choices."""
    kilobytes = max(len(setting.logo) // 1000, 1)
    return TicketState(
        second=[per for per, _ in SECOND_PRICES].index(setting.per),
        bars=0 if setting.barcode else 1,
        logo=f"A picture of {kilobytes} kB" if setting.logo else "No logo",
        has_logo=bool(setting.logo),
    )
