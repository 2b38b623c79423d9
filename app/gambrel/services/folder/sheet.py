"""One CSV file as rows of text, read as a stream, with everything that is wrong with the file."""

from __future__ import annotations

import csv
import stat
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import BinaryIO, NamedTuple

from gambrel.domain.trade.near import did_you_mean
from gambrel.services.folder.forms import NEEDED, Form

LARGEST_FILE = 200_000_000
"""Bytes. The pieces of ten years of a busy shop take a tenth of it."""

LOOK_EVERY = 500
"""Rows after which is told how far a file was read."""

LONGEST_LINE = 1_000_000
"""Bytes. A line past it is not a line of such a file, and is not read to its end."""

csv.field_size_limit(LONGEST_LINE)  # a shop's logo is one cell of its settings

_BOM = b"\xef\xbb\xbf"
_UTF_16 = (b"\xff\xfe", b"\xfe\xff")


class FileFault(Exception):
    """A file that cannot be read on from here: where, and the rest of the sentence."""

    def __init__(self, line: int | None, message: str, column: str = "") -> None:
        super().__init__(message)
        self.line = line
        self.column = column


class Row(NamedTuple):
    """A row that is not blank: the line on which it starts, and its cells in the form's order.

    ``spoilt`` says that a line of it was refused already.
    """

    line: int
    cells: list[str]
    spoilt: bool


Refuse = Callable[[int, str, str], None]
"""Called with a line, a column (or nothing) and what is wrong there."""


def check_file(path: Path) -> None:
    """Look at a file before it is opened.

    Raises:
        FileFault: Not a plain file, or larger than any shop's.
        OSError: It cannot be looked at.
    """
    found = path.stat()
    if not stat.S_ISREG(found.st_mode):
        raise FileFault(None, "this is not a plain file, expected one")
    if found.st_size > LARGEST_FILE:
        size = f"{found.st_size / 1e6:,.0f} MB"
        raise FileFault(
            None,
            f"the file has {size} and was not read, expected at most {LARGEST_FILE // 10**6} MB; "
            "take the rows that are needed, or load it in parts",
        )


def read_sheet(
    path: Path, form: Form, refuse: Refuse, read_so_far: Callable[[int], None]
) -> Iterator[Row]:
    """Read a file's rows; ``read_so_far`` is told the bytes now and then, and may raise.

    Rows that are spoilt are told to ``refuse`` and, where their cells could be told apart, given
    all the same, so that what else is wrong with the file can be told at once.

    Raises:
        FileFault: The file, or its header, cannot be read.
        OSError: The disk says no.
    """
    check_file(path)
    with path.open("rb") as file:
        lines = _Lines(file, refuse)
        rows = csv.reader(lines, strict=True)
        places = _places(form, _header(rows, lines, form), refuse)
        for number, cells in enumerate(_records(rows, lines)):
            if number % LOOK_EVERY == 0:
                read_so_far(file.tell())
            spoilt = lines.spoilt
            if len(cells) != places.width:
                spoilt = True
                refuse(lines.first, *_ragged(places, len(cells)))
                cells.extend([""] * (places.width - len(cells)))
            yield Row(lines.first, [cells[at] if at >= 0 else "" for at in places.at], spoilt)


class _Lines:
    """The lines of a file as text, for the csv reader, counted as it takes them."""

    def __init__(self, file: BinaryIO, refuse: Refuse) -> None:
        self._file = file
        self._refuse = refuse
        self.number = 0
        self.first = 0
        self.spoilt = False

    def begin(self) -> None:
        """The next line begins a record."""
        self.first, self.spoilt = self.number + 1, False

    def __iter__(self) -> _Lines:
        return self

    def __next__(self) -> str:
        raw = self._file.readline(LONGEST_LINE + 1)
        if not raw:
            raise StopIteration
        self.number += 1
        if len(raw) > LONGEST_LINE:
            message = f"the line is longer than {LONGEST_LINE} bytes, expected a line for each row"
            raise FileFault(self.number, message)
        if self.number == 1:
            if raw.startswith(_UTF_16):
                raise FileFault(1, "this is UTF-16, expected UTF-8; save it again as CSV in UTF-8")
            raw = raw.removeprefix(_BOM)
        return self._text(raw)

    def _text(self, raw: bytes) -> str:
        try:
            text = raw.decode()
        except UnicodeDecodeError as error:
            byte = f"byte {raw[error.start]:#04x} at place {error.start + 1}"
            self._spoil(f"this is not UTF-8 ({byte}), expected UTF-8; save the file again in it")
            text = raw.decode(errors="replace")
        if "\0" in text:
            self._spoil("there is a NUL character in the line, expected text; save the file again")
            text = text.replace("\0", "\N{REPLACEMENT CHARACTER}")
        return text

    def _spoil(self, message: str) -> None:
        self.spoilt = True
        self._refuse(self.number, "", message)


def _records(rows: Iterator[list[str]], lines: _Lines) -> Iterator[list[str]]:
    """What the csv reader makes of the lines, but for blank rows."""
    while True:
        lines.begin()
        try:
            cells = next(rows, None)
        except csv.Error as error:
            raise FileFault(lines.first, _broken(error)) from None
        if cells is None:
            return
        if "".join(cells).strip():
            yield cells


def _broken(error: csv.Error) -> str:
    said = str(error)
    if "field larger" in said:
        return (
            f"a cell that begins here is longer than {csv.field_size_limit()} characters, "
            "expected a short one; a quote at its end may be missing"
        )
    if "new-line" in said:
        return "the line ends are neither LF nor CR LF, expected one of them"
    return f"the quotes do not close as they should ({said}), expected every quote in a pair"


def _header(rows: Iterator[list[str]], lines: _Lines, form: Form) -> list[str]:
    for cells in _records(rows, lines):
        return [cell.strip() for cell in cells]
    raise FileFault(1, f"the file is empty, expected a header: {','.join(form.header)}")


class _Places(NamedTuple):
    """Where each of the form's columns stands in a row (-1: left out), and how long a row is."""

    at: list[int]
    width: int
    names: list[str]


def _places(form: Form, header: list[str], refuse: Refuse) -> _Places:
    """Find the form's columns in a header.

    Raises:
        FileFault: A column is not known, twice there, or needed and missing; each is refused.
    """
    sound = True

    def no(column: str, message: str) -> None:
        nonlocal sound
        sound = False
        refuse(1, column, message)

    if len(header) == 1 and any(mark in header[0] for mark in ";\t|"):
        raise FileFault(1, "this is one column, expected commas between the columns", header[0])
    left = [column for column in form.header if column not in header]
    for place, name in enumerate(header):
        if not name:
            no("", f"column {place + 1} has no name, expected one of {', '.join(form.header)}")
        elif name not in form.header:
            expected = f"expected only {', '.join(form.header)}{did_you_mean(name, left)}"
            no(name, f"this column is not known, {expected}")
        elif name in header[:place]:
            no(name, "this column is there twice, expected it once")
    for column in form.columns:
        if column.empty is NEEDED and column.name not in header:
            no(column.name, f"this column is missing, expected it among {', '.join(form.header)}")
    if not sound:
        raise FileFault(1, "")
    at = [header.index(name) if name in header else -1 for name in form.header]
    return _Places(at, len(header), header)


def _ragged(places: _Places, count: int) -> tuple[str, str]:
    if count < places.width:
        column = places.names[count]
        return column, f"the row ends before it, {count} cells, expected {places.width}"
    message = f"the row goes on after it, {count} cells, expected {places.width}; put a text with"
    return places.names[-1], f"{message} commas between quotes"
