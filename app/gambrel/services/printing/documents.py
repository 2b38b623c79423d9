"""What can be printed: made anew from the book for every look, on the paper that is chosen.

A `Source` knows what is wanted (these cuts, these pieces, this day) and makes a `Document` of it at
the prices in force at a moment. The document's bytes are what is shown, saved and printed.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import TYPE_CHECKING, Protocol

from gambrel.domain.prices.prints import Job
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import PrintedItem, PrintKind

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.services.labels import Wish
    from gambrel.storage.book import Book

OnPage = Callable[[int, int], bool]
"""Told after every page how many things are drawn of how many; it answers whether to go on."""

A4 = "a4"
"""The name of the paper of sheets that are read, not cut."""

DAY_TITLE, WEEK_TITLE, TRIAL_TITLE = "Daily sheet", "Weekly sheet", "Test sheet"


CODES = {
    "price": "Bars with the price",
    "weight": "Bars with the weight",
    "gs1": "GS1-128: weight, use by, lot",
    "qr": "QR code: use by, lot",
    "none": "No code",
}
"""What a label's code can carry, by the names of `gambrel.domain.prices.labels.TrayCode`."""


class MakingStopped(Exception):
    """Somebody asked for a stop while pages were made; there is no document."""


@dataclass(frozen=True, slots=True)
class PaperOffer:
    """A paper that a source can use; ``places`` are how many labels a page of it has."""

    name: str
    about: str
    places: int = 1


@dataclass(frozen=True, slots=True)
class Choice:
    """How pages are laid out: from which place on, and for which printer.

    ``shift`` is millimetres to the right and down; ``dpi`` the printer's dots an inch; ``code``
    what the code of labels carries (see `codes_of`), empty for the usual.
    """

    paper: str
    start: int = 1
    dpi: int = 300
    shift: tuple[float, float] = (0.0, 0.0)
    code: str = ""


@dataclass(frozen=True, slots=True)
class Document:
    """Real pages, and what they say.

    ``warnings`` are sentences about these pages, ``note`` one that goes with all of their kind.
    """

    kind: PrintKind
    title: str
    paper: str
    pdf: bytes
    items: tuple[PrintedItem, ...] = ()
    warnings: tuple[str, ...] = field(default=())
    note: str = ""


class Source(Protocol):
    """Something to print; ``title`` names it, also in the log."""

    @property
    def title(self) -> str:
        """What it is, in a few words."""

    def papers(self) -> Sequence[PaperOffer]:
        """The papers that it can use, the usual one first."""

    def make(self, book: Book, choice: Choice, now: datetime, on_page: OnPage) -> Document:
        """The pages on a paper, at the prices of a moment.

        Raises:
            Refusal: They cannot be made: a price is missing, the paper is too small, ...
            MakingStopped: ``on_page`` said no.
        """


@dataclass(frozen=True, slots=True)
class Tickets:
    """Shelf tickets of some cuts, in this order."""

    cuts: tuple[str, ...]
    title: str = "Shelf tickets"

    def papers(self) -> Sequence[PaperOffer]:
        """Sheets, cards and the roll."""
        from gambrel.services.tickets import paper_named, paper_names

        return [_offer(paper_named(name)) for name in paper_names()]

    def make(self, book: Book, choice: Choice, now: datetime, on_page: OnPage) -> Document:
        """See `Source.make`."""
        from gambrel.services.printing.making import make_tickets_document

        return make_tickets_document(self, book, choice, now, on_page)


@dataclass(frozen=True, slots=True)
class Labels:
    """Tray labels of some pieces."""

    wishes: tuple[Wish, ...]
    title: str = "Tray labels"

    def papers(self) -> Sequence[PaperOffer]:
        """Rolls by their size, and sheets to cut."""
        from gambrel.services.printing.making import label_offers

        return label_offers()

    def make(self, book: Book, choice: Choice, now: datetime, on_page: OnPage) -> Document:
        """See `Source.make`."""
        from gambrel.services.printing.making import make_labels_document

        return make_labels_document(self, book, choice, now, on_page)


@dataclass(frozen=True, slots=True)
class DaySheet:
    """The daily breakdown sheet."""

    day: date

    @property
    def title(self) -> str:
        """The day by its date."""
        return f"{DAY_TITLE}, {self.day}"

    def papers(self) -> Sequence[PaperOffer]:
        """A4."""
        return [PaperOffer(A4, "A4")]

    def make(self, book: Book, choice: Choice, _now: datetime, _on_page: OnPage) -> Document:
        """See `Source.make`."""
        from gambrel.services.day import day_pdf

        return Document(PrintKind.SHEET, self.title, choice.paper, day_pdf(book, self.day))


@dataclass(frozen=True, slots=True)
class WeekSheet:
    """The weekly cost sheet of a week such as ``2026-W47``."""

    week: str

    @property
    def title(self) -> str:
        """The week by its name."""
        return f"{WEEK_TITLE}, {self.week}"

    def papers(self) -> Sequence[PaperOffer]:
        """A4."""
        return [PaperOffer(A4, "A4")]

    def make(self, book: Book, choice: Choice, _now: datetime, _on_page: OnPage) -> Document:
        """See `Source.make`."""
        from gambrel.services.week import week_pdf

        return Document(PrintKind.SHEET, self.title, choice.paper, week_pdf(book, self.week))


@dataclass(frozen=True, slots=True)
class TrialSheet:
    """Crosses at known places of one paper, by which a printer is put right."""

    paper: str

    @property
    def title(self) -> str:
        """The paper by its name."""
        return f"{TRIAL_TITLE}, {self.paper}"

    def papers(self) -> Sequence[PaperOffer]:
        """Only its own."""
        return [PaperOffer(self.paper, paper_words(self.paper))]

    def make(self, book: Book, choice: Choice, _now: datetime, _on_page: OnPage) -> Document:
        """See `Source.make`."""
        from gambrel.services.printing.making import make_trial_sheet

        return make_trial_sheet(self, book, choice)


def codes_of(source: Source) -> list[tuple[str, str]]:
    """What the code of each label can carry, by its name and in words; nothing for other papers."""
    return list(CODES.items()) if isinstance(source, Labels) else []


def source_of(job: Job) -> Source:
    """What a job printed, to be made and printed again.

    Raises:
        Refusal: It does not say enough of itself.
    """
    from gambrel.services.printing.making import wishes_of

    kind, (title, _, what) = job.job.kind, job.job.title.partition(", ")
    if kind is PrintKind.TICKET and job.cuts:
        return Tickets(job.cuts)
    if kind is PrintKind.LABEL and job.items:
        return Labels(wishes_of(job.items))
    if title == WEEK_TITLE:
        return WeekSheet(what)
    if title == TRIAL_TITLE and what:
        return TrialSheet(what)
    if title == DAY_TITLE:
        try:
            return DaySheet(date.fromisoformat(what))
        except ValueError:
            pass
    raise Refusal(f"“{job.job.title}” cannot be made again from here. Print it from its own place.")


def paper_words(name: str) -> str:
    """What a paper is, in words.

    Raises:
        Refusal: There is no such paper.
    """
    from gambrel.services.printing.making import sheet_named

    return sheet_named(name).about


def paper_names() -> list[str]:
    """Every paper that can be printed on: of tickets, of labels, and the sheet that is read."""
    tickets, labels = Tickets(()).papers(), Labels(()).papers()
    return list(dict.fromkeys(offer.name for offer in (*tickets, *labels, PaperOffer(A4, "A4"))))


class _Sheet(Protocol):
    """A paper of the reports."""

    @property
    def name(self) -> str: ...

    @property
    def about(self) -> str: ...

    @property
    def count(self) -> int: ...


def _offer(sheet: _Sheet) -> PaperOffer:
    return PaperOffer(sheet.name, sheet.about, sheet.count)
