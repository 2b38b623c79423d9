"""What the Import section shows of a preview, as texts and flags. Pure: no Qt."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from gambrel.services.folder.preview import NewRow, Preview
from gambrel.services.folder.refusals import RefusedLine, file_place
from gambrel.services.folder.report import ignored_sentence, preview_sentence
from gambrel.ui.widgets.choice import Choice

PAGE = 50
"""Rows that are shown at once; the others are a tap away."""

LONGEST_CELL = 120
"""Characters of a cell that are shown. A shop's logo is one cell, too."""

ALL = ""
"""The key of all files together."""

FOR_GOOD = "What is taken in stays: it can be corrected later, but not taken back as a whole."


class Side(StrEnum):
    """Which rows are listed."""

    NEW = "new"
    WRONG = "wrong"


class Order(StrEnum):
    """How wrong rows are ordered."""

    FILE = "file"
    COLUMN = "column"
    REASON = "reason"


@dataclass(frozen=True, slots=True)
class Look:
    """What of a preview is looked at."""

    side: Side = Side.NEW
    file: str = ALL
    order: Order = Order.FILE
    page: int = 0

    def at(self, side: Side) -> Look:
        """The other rows, from their first page."""
        return replace(self, side=side, page=0)

    def of(self, file: str) -> Look:
        """One file's rows, or all, from their first page."""
        return self if file == self.file else replace(self, file=file, page=0)

    def by(self, order: Order) -> Look:
        """The same rows in another order, from their first page."""
        return replace(self, order=order, page=0)

    def turned(self, pages: int) -> Look:
        """So many pages further on."""
        return replace(self, page=self.page + pages)


def first_look(preview: Preview) -> Look:
    """What stands first: what is wrong, where anything is."""
    return Look(Side.WRONG if preview.refused else Side.NEW)


@dataclass(frozen=True, slots=True)
class FileLine:
    """A file with its counts as they stand in the table."""

    key: str
    cells: tuple[str, str, str, str]


@dataclass(frozen=True, slots=True)
class PreviewState:
    """All that is shown of a preview. ``counted`` says which of how many rows the page has."""

    sentence: str
    ignored: str
    files: tuple[FileLine, ...]
    file: str
    sides: tuple[Choice, ...]
    orders: tuple[Choice, ...]
    rows: tuple[tuple[str, str], ...]
    nothing: str
    counted: str
    has_earlier: bool
    has_later: bool
    has_wrong: bool
    take: str
    can_take: bool


def describe(preview: Preview, look: Look) -> PreviewState:
    """The texts of a preview."""
    new = [row for row in preview.new if look.file in (ALL, row.file)]
    wrong = wrong_rows(preview, look)
    found = len(wrong) if look.side is Side.WRONG else len(new)
    page = min(max(look.page, 0), max(found - 1, 0) // PAGE)
    first, last = page * PAGE, min(page * PAGE + PAGE, found)
    if look.side is Side.WRONG:
        rows = tuple((each.place, _told_wrong(each)) for each in wrong[first:last])
    else:
        rows = tuple((_place(row), told_row(preview, row)) for row in new[first:last])
    return PreviewState(
        sentence=f"{preview_sentence(preview)} {FOR_GOOD if preview.can_be_taken else ''}".rstrip(),
        ignored=ignored_sentence(preview.ignored),
        files=_files(preview),
        file=look.file,
        sides=(
            Choice(Side.NEW, f"New {len(new):,}", look.side is Side.NEW),
            Choice(Side.WRONG, f"Wrong {len(wrong):,}", look.side is Side.WRONG),
        ),
        orders=tuple(Choice(each, f"By {each}", each is look.order) for each in Order),
        rows=rows,
        nothing="" if found else _nothing(look, of_all=look.file == ALL),
        counted=f"{first + 1:,} to {last:,} of {found:,}" if found else "",
        has_earlier=page > 0,
        has_later=last < found,
        has_wrong=look.side is Side.WRONG and bool(wrong),
        take=f"Take in {_rows(preview.changes)}" if preview.new else "Take in",
        can_take=preview.can_be_taken,
    )


def wrong_rows(preview: Preview, look: Look) -> list[RefusedLine]:
    """What is wrong in the files that are looked at, in the order that is wished."""
    found = [each for each in preview.refused if look.file in (ALL, each.file)]
    match look.order:
        case Order.FILE:
            return found
        case Order.COLUMN:
            return sorted(found, key=lambda each: (each.column, file_place(each.file)))
        case Order.REASON:
            return sorted(found, key=lambda each: _reason(each.message))


def told_row(preview: Preview, row: NewRow) -> str:
    """A row that comes in: its name, then what else stands in it."""
    if row.record is None:
        return f"{preview.shop.name}, the shop itself" if preview.shop else row.name
    said = [f"{name} {_shortened(cell)}" for name, cell in preview.cells(row)]
    text = " · ".join(said) or _shortened(row.name)
    return f"finishes a stage of the book: {text}" if row.finishes else text


def _told_wrong(each: RefusedLine) -> str:
    return f"{each.column}: {each.message}" if each.column else each.message


def _reason(message: str) -> str:
    """What is wrong without the value that is: one reason stands together over all files."""
    return message.rpartition("'")[2]


def _place(row: NewRow) -> str:
    return f"{row.file}:{row.line}" if row.line else row.file


def _files(preview: Preview) -> tuple[FileLine, ...]:
    lines = [
        FileLine(each.file, _counts(each.file, each.new + each.finished, each.same, each.refused))
        for each in preview.files
    ]
    new = sum(each.new + each.finished for each in preview.files)
    same, wrong = (
        sum(getattr(each, name) for each in preview.files) for name in ("same", "refused")
    )
    return (FileLine(ALL, _counts("All files", new, same, wrong)), *lines)


def _counts(name: str, new: int, same: int, wrong: int) -> tuple[str, str, str, str]:
    said = (f"{number:,}" if number else "–" for number in (new, same, wrong))
    return (name, *said)  # type: ignore[return-value]  # three of them


def _nothing(look: Look, *, of_all: bool) -> str:
    where = "" if of_all else f" in {look.file}"
    return f"Nothing is wrong{where}." if look.side is Side.WRONG else f"Nothing is new{where}."


def _shortened(cell: str) -> str:
    line = " ".join(cell.split())
    return line if len(line) <= LONGEST_CELL else f"{line[: LONGEST_CELL - 1]}…"


def _rows(number: int) -> str:
    return "1 row" if number == 1 else f"{number:,} rows"
