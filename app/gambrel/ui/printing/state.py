"""What the print desk shows, as texts and flags: made without Qt."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from gambrel.domain.prices.printer_setting import (
    DPI,
    MOST_COPIES,
    MOST_TENTHS,
    PaperSetting,
    PrinterAtHand,
)
from gambrel.domain.prices.prints import Job, JobState, LogLine
from gambrel.domain.trade.around import PrintKind
from gambrel.domain.trade.catalogue import Shop
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.formats import DASH, Formats
from gambrel.services.printing.documents import A4, Document, PaperOffer

KINDS = {PrintKind.TICKET: "ticket", PrintKind.LABEL: "label", PrintKind.SHEET: "sheet"}
NO_PRINTER = "No printer is set up on this machine"
LOG_LINES = 400
"""How many lines of the log are shown at once."""


@dataclass(frozen=True, slots=True)
class Wish:
    """What is chosen at the desk. ``printer`` may be empty; shifts are tenths of a millimetre."""

    paper: int = 0
    printer: str = ""
    dpi: int = 300
    copies: int = 1
    start: int = 1
    right: int = 0
    down: int = 0
    code: str = ""

    @property
    def setting(self) -> PaperSetting:
        """What the station keeps of it."""
        return PaperSetting(self.printer, self.dpi, self.right, self.down)


@dataclass(frozen=True, slots=True)
class OptionsState:
    """What stands beside the pages.

    ``moves`` is whether the paper has places that can be moved, ``busy`` what is being done, empty
    where nothing is.
    """

    papers: tuple[str, ...]
    paper: int
    printers: tuple[str, ...]
    printer: int
    trouble: str
    copies: int
    places: int
    start: int
    right: int
    down: int
    moves: bool
    shift: str
    warnings: tuple[str, ...]
    note: str
    codes: tuple[str, ...]
    code: int
    busy: str
    can_print: bool
    can_save: bool


def options_state(
    wish: Wish,
    offers: Sequence[PaperOffer],
    printers: Sequence[PrinterAtHand],
    document: Document | None,
    busy: str,
    codes: Sequence[tuple[str, str]] = (),
) -> OptionsState:
    """The options for what is chosen and what has been made of it."""
    index = next((n for n, each in enumerate(printers) if each.name == wish.printer), -1)
    trouble = _trouble(wish, printers, index)
    ready = document is not None and not busy
    moves = bool(offers) and offers[wish.paper].name != A4
    return OptionsState(
        papers=tuple(offer.about[:1].upper() + offer.about[1:] for offer in offers),
        paper=wish.paper,
        printers=tuple(each.name for each in printers) or (NO_PRINTER,),
        printer=max(index, 0),
        trouble=trouble,
        copies=wish.copies,
        places=offers[wish.paper].places if offers else 1,
        start=wish.start,
        right=wish.right,
        down=wish.down,
        moves=moves,
        shift=shift_words(wish.right, wish.down) if moves else f"{wish.dpi} dots an inch",
        warnings=document.warnings if document is not None else (),
        note=document.note if document is not None else "",
        codes=tuple(words for _, words in codes),
        code=next((n for n, (name, _) in enumerate(codes) if name == wish.code), 0),
        busy=busy,
        can_print=ready and index >= 0,
        can_save=ready,
    )


def _trouble(wish: Wish, printers: Sequence[PrinterAtHand], index: int) -> str:
    if not printers:
        return "Set a printer up in the system, or save as PDF."
    if index < 0:
        return f"{wish.printer} is not there any more. Choose another printer."
    each = printers[index]
    return f"{each.name} {each.trouble}. See that it is on." if each.trouble else ""


def shift_words(right: int, down: int) -> str:
    """A shift in tenths of a millimetre as words."""
    if not right and not down:
        return "Nothing is moved"
    across = f"{abs(right) / 10:.1f} mm {'right' if right > 0 else 'left'}" if right else ""
    along = f"{abs(down) / 10:.1f} mm {'down' if down > 0 else 'up'}" if down else ""
    return "Moved " + ", ".join(part for part in (across, along) if part)


def tenths() -> list[str]:
    """Every shift that can be chosen, from far left or up to far right or down."""
    return [f"{n / 10:+.1f} mm" if n else "0 mm" for n in range(-MOST_TENTHS, MOST_TENTHS + 1)]


def copies_offered() -> list[str]:
    """Every number of copies that can be chosen."""
    return [str(n) for n in range(1, MOST_COPIES + 1)]


def dots_offered() -> list[str]:
    """Every fineness of a printer, in words."""
    names = {203: "203 dots an inch, labels", 300: "300 dots an inch", 600: "600, slow and fine"}
    return [names[dpi] for dpi in DPI]


def pages_words(document: Document, pages: int) -> str:
    """How much has been made, for the head of the desk."""
    sheets = "1 page" if pages == 1 else f"{pages} pages"
    if not document.items:
        return sheets
    word, count = KINDS[document.kind], len(document.items)
    return f"{count} {word}{'' if count == 1 else 's'} on {sheets}"


@dataclass(frozen=True, slots=True)
class JobRow:
    """A job that waits: a title, when and where, how it stands, and what can be done."""

    key: str
    title: str
    where: str
    word: str
    sentence: str
    may_confirm: bool
    is_failed: bool
    may_act: bool = True


ASKED = (
    "It was on its way when the program stopped. Look at the printer: did the pages come out? "
    "Printing again would print them twice if they did."
)


def job_rows(
    jobs: Sequence[Job], formats: Formats, shop: Shop, station: str, sending: datetime | None
) -> tuple[JobRow, ...]:
    """The jobs that wait; ``sending`` is since when this station is printing, if it is."""
    return tuple(_job_row(job, formats, shop, station, sending) for job in jobs)


def _job_row(
    job: Job, formats: Formats, shop: Shop, station: str, sending: datetime | None
) -> JobRow:
    row = job.job
    copies = "1 copy" if row.copies == 1 else f"{row.copies} copies"
    parts = (when_words(row.at, formats, shop), row.printer, row.paper, copies, row.person)
    queued = job.state is JobState.QUEUED
    here = row.station == station
    under_way = queued and here and sending is not None and row.at >= sending
    sentence = job.reason
    if under_way:
        sentence = "It is being printed now."
    elif queued and here:
        sentence = ASKED
    elif queued:
        sentence = f"It was sent from {row.station}. {ASKED}"
    word = "printing" if under_way else job.state.value
    return JobRow(
        key=row.key,
        title=row.title,
        where=" · ".join(part for part in parts if part),
        word=word,
        sentence=sentence,
        may_confirm=queued and not under_way,
        is_failed=job.state is JobState.FAILED,
        may_act=not under_way,
    )


def when_words(at: datetime, formats: Formats, shop: Shop) -> str:
    """A moment as ``20 Nov 10:42``, by the shop's clock and its business day."""
    return f"{formats.short_day(business_day(at, shop))} {formats.time(at, shop)}"


def waiting_words(count: int) -> str:
    """The tab of what waits."""
    return f"Waiting · {count}" if count else "Waiting"


def day_options(days: Sequence[date], formats: Formats) -> list[str]:
    """The days of the log, and all of them together."""
    return [*(formats.day(day) for day in days), "All days"]


def log_rows(
    lines: Sequence[LogLine], names: Mapping[str, str], formats: Formats, shop: Shop
) -> list[tuple[str, ...]]:
    """The log as rows: what, when, price a kilo, on the tray, on what paper and printer, who."""
    return [_log_row(line, names, formats, shop) for line in lines[:LOG_LINES]]


def _log_row(
    line: LogLine, names: Mapping[str, str], formats: Formats, shop: Shop
) -> tuple[str, ...]:
    job, item = line.job.job, line.item
    what = job.title if item is None else names.get(item.cut, item.cut)
    tray = DASH
    if item is not None and item.grams is not None:
        tray = f"{formats.kg(item.grams)} kg, {formats.money(item.amount)}"
    place = job.printer or line.job.reason
    copies = f" × {job.copies}" if job.copies > 1 else ""
    return (
        what,
        when_words(job.at, formats, shop),
        formats.money(item.price) if item is not None else DASH,
        tray,
        f"{job.paper}{copies}, {place}",
        job.person or job.station,
    )
