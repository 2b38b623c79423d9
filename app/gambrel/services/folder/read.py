"""Reading a folder: every file that is there, as records with the lines on which they stand."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection
from dataclasses import dataclass, field
from datetime import time
from decimal import Decimal
from functools import partial
from pathlib import Path
from typing import Any

from gambrel.domain.numbers.money import Currency
from gambrel.domain.refusals import Refusal
from gambrel.domain.review.whole import KEY_COLUMNS, Refused
from gambrel.domain.trade.catalogue import Shop
from gambrel.domain.trade.near import nearest
from gambrel.domain.trade.rows import AnyRecord, RowKey, row_key
from gambrel.services.folder.beside_forms import ALL_FILES, BESIDE
from gambrel.services.folder.cells import Terms
from gambrel.services.folder.forms import (
    FILES,
    FORMS,
    NEEDED,
    SHOP_FILE,
    Column,
    Form,
    RowFault,
)
from gambrel.services.folder.refusals import Refusals
from gambrel.services.folder.sheet import FileFault, Row, read_sheet
from gambrel.services.folder.shop_file import read_shop

_NO_SHOP = Shop("", Currency("money", 4), "UTC", time(0), 0, 0, Decimal(0), False, Decimal(0))  # noqa: FBT003
"""Lets cells be looked at when ``shop.toml`` was refused; nothing is loaded then."""

MOST_REMEMBERED = 20_000
"""Cells of one column whose values are kept while a file is read."""


@dataclass(slots=True)
class Rows:
    """The good rows of one file, and the line of each by its key."""

    records: list[Any] = field(default_factory=list)
    lines: dict[RowKey, int] = field(default_factory=dict)


@dataclass(slots=True)
class Folder:
    """What a folder holds, and everything that was wrong with it so far."""

    path: Path
    shop: Shop | None = None
    tables: dict[str, Rows] = field(default_factory=dict)
    beside: dict[type, Rows] = field(default_factory=dict)
    refusals: Refusals = field(default_factory=Refusals)
    ignored: list[str] = field(default_factory=list)
    unread: set[str] = field(default_factory=set)
    refused_keys: dict[str, set[str]] = field(default_factory=lambda: defaultdict(set))

    @property
    def refused(self) -> Refused:
        """What a review need not look for."""
        return Refused(self.refused_keys, self.unread)


def read_folder(path: Path, shop: Shop | None) -> Folder:
    """Read every file of a folder. Nothing is raised for what is wrong inside the files.

    Args:
        path: The folder.
        shop: The shop of the book that the rows are for, or None where it has none yet.
    Raises:
        Refusal: It is not a folder, or none of the files is in it.
    """
    names = _names(path)
    folder = Folder(path)
    _check_names(folder, names)
    if SHOP_FILE in names:
        folder.shop = _read_shop_file(folder)
    elif shop is None:
        message = "the file is missing, expected it, since the book has no shop yet"
        folder.refusals.add(SHOP_FILE, None, "", message)
    reader = _Reader(folder, Terms(folder.shop or shop or _NO_SHOP))
    for form in FORMS.values():
        if form.file in names:
            folder.tables[form.table] = reader.read(form)
    for kind, form in BESIDE.items():
        if form.file in names:
            folder.beside[kind] = reader.read(form)
    return folder


def _names(path: Path) -> set[str]:
    try:
        names = {child.name for child in path.iterdir()}
    except FileNotFoundError:
        raise Refusal(f"There is no folder {path}; give one that holds {SHOP_FILE}.") from None
    except NotADirectoryError:
        raise Refusal(f"{path} is a file; give the folder in which {SHOP_FILE} lies.") from None
    if not names.intersection(ALL_FILES):
        raise Refusal(f"The folder {path} holds none of {', '.join(FILES)}; give another one.")
    return names


def _check_names(folder: Folder, names: Collection[str]) -> None:
    """A misspelt file would be missed in silence, so a near name is refused."""
    stems = [Path(file).stem for file in ALL_FILES]
    missing = [stem for file, stem in zip(ALL_FILES, stems, strict=True) if file not in names]
    for name in sorted(names):
        if name in ALL_FILES or not name.lower().endswith((".csv", ".toml")):
            continue
        meant = nearest(Path(name).stem, missing) or nearest(Path(name).stem, stems)
        if meant is None:
            folder.ignored.append(name)
        else:
            expected = f"expected {SHOP_FILE if meant == 'shop' else f'{meant}.csv'}"
            message = f"no file has this name, {expected}; rename it, or take it away"
            folder.refusals.add(name, None, "", message)


def _read_shop_file(folder: Folder) -> Shop | None:
    refuse = partial(folder.refusals.add, SHOP_FILE)
    try:
        return read_shop(folder.path / SHOP_FILE, refuse)
    except FileFault as fault:
        refuse(fault.line, fault.column, str(fault))
    except OSError as error:
        refuse(None, "", _unreadable(error))
    return None


def _unreadable(error: OSError) -> str:
    return f"it cannot be read ({error.strerror}), expected a file that you may read"


class _Values(dict[str, Any]):
    """The values of a column's cells: most cells have been seen before, and are read only once."""

    def __init__(self, column: Column, terms: Terms) -> None:
        super().__init__()
        self._column = column
        self._terms = terms
        self._exact = column.cell.exact

    def __missing__(self, cell: str) -> Any:  # noqa: ANN401 - a cell may hold anything
        value = self._read(cell)
        if len(self) < MOST_REMEMBERED:
            self[cell] = value
        return value

    def _read(self, cell: str) -> Any:  # noqa: ANN401
        empty, text = self._column.empty, cell.strip()
        if text or (cell and self._exact and empty is not NEEDED):
            return self._column.cell.read(self._terms, cell if self._exact else text)
        if empty is NEEDED:
            raise ValueError(f"nothing is given, expected {self._column.cell.example}")
        return empty


class _Reader:
    """Turns the rows of files into records, by one shop's terms."""

    def __init__(self, folder: Folder, terms: Terms) -> None:
        self._folder = folder
        self._terms = terms

    def read(self, form: Form) -> Rows:
        """Read one file; what is wrong with it goes to the folder's refusals."""
        rows = Rows()
        refuse = partial(self._folder.refusals.add, form.file)
        values = [_Values(column, self._terms) for column in form.columns]
        try:
            for row in read_sheet(self._folder.path / form.file, form, refuse):
                record = self._record(form, values, row)
                if record is not None:
                    self._keep(form, rows, record, row.line)
        except FileFault as fault:
            self._folder.unread.add(form.table)
            if str(fault):
                refuse(fault.line, fault.column, str(fault))
        except OSError as error:
            self._folder.unread.add(form.table)
            refuse(None, "", _unreadable(error))
        return rows

    def _record(self, form: Form, values: list[_Values], row: Row) -> AnyRecord | None:
        if not row.spoilt:
            try:
                return form.make([of[cell] for of, cell in zip(values, row.cells, strict=True)])
            except RowFault as fault:
                self._folder.refusals.add(form.file, row.line, fault.column, str(fault))
            except ValueError:
                self._refuse_cells(form, values, row)
        self._remember(form, row)
        return None

    def _refuse_cells(self, form: Form, values: list[_Values], row: Row) -> None:
        """Name every cell of a row that cannot be read."""
        for column, of, cell in zip(form.columns, values, row.cells, strict=True):
            try:
                _ = of[cell]
            except ValueError as error:
                self._folder.refusals.add(form.file, row.line, column.name, str(error))

    def _remember(self, form: Form, row: Row) -> None:
        """Keep the key of a refused row, so that what hangs on it is not refused as well."""
        self._folder.refused_keys[form.table].add(row.cells[0].strip())
        if form.table == "reweighs":
            self._folder.refused_keys["bodies"].add(row.cells[0].strip())

    def _keep(self, form: Form, rows: Rows, record: AnyRecord, line: int) -> None:
        key = row_key(record)
        first = rows.lines.setdefault(key, line)
        if first == line:
            rows.records.append(record)
            return
        name = repr(key[0]) if len(key) == 1 else f"the same row for {key[0]!r}"
        message = f"{name} is already on line {first}, expected each once"
        if form.table == "pieces":
            message += " (a piece comes from one stage)"
        self._folder.refusals.add(
            form.file, line, KEY_COLUMNS.get(form.table, form.header[0]), message
        )
