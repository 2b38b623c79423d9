"""Reading a folder: every file that is there, as records with the lines on which they stand.

A single file of the form counts as a folder that holds nothing else.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Collection
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
from gambrel.domain.trade.near import did_you_mean, nearest
from gambrel.domain.trade.rows import AnyRecord, RowKey, row_key
from gambrel.services.folder.beside_forms import ALL_FILES, BESIDE
from gambrel.services.folder.cells import Terms
from gambrel.services.folder.forms import (
    FILES,
    FORMS,
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

Watch = Callable[[int, int], bool]
"""Told how many bytes are read, and of how many; says whether to go on."""


class LoadStopped(Exception):
    """Somebody asked for a stop while a folder was read or taken in; the book is as it was."""


def unwatched(_done: int, _total: int) -> bool:
    """Go on to the end."""
    return True


@dataclass(slots=True)
class Rows:
    """The good rows of one file, and the line of each by its key."""

    records: list[Any] = field(default_factory=list)
    lines: dict[RowKey, int] = field(default_factory=dict)


@dataclass(slots=True)
class Folder:
    """What a folder holds, and everything that was wrong with it so far."""

    path: Path
    read_for: Shop | None = None
    """The shop that the book had while the folder was read."""
    shop: Shop | None = None
    """What the folder's own file says of the shop."""
    files: tuple[str, ...] = ()
    """Files of the form that are there, in its order."""
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


def read_folder(path: Path, shop: Shop | None, watch: Watch = unwatched) -> Folder:
    """Read every file of a folder. Nothing is raised for what is wrong inside the files.

    Args:
        path: The folder, or one of its files, which is then read alone.
        shop: The shop of the book that the rows are for, or None where it has none yet.
        watch: Asked now and then whether to go on.
    Raises:
        Refusal: It is not a folder, or none of the files is in it.
        LoadStopped: ``watch`` said no.
    """
    names = _names(path)
    folder = Folder(path if path.is_dir() else path.parent, shop)
    _check_names(folder, names)
    if SHOP_FILE in names:
        folder.shop = _read_shop_file(folder)
    elif shop is None:
        message = "the file is missing, expected it, since the book has no shop yet"
        folder.refusals.add(SHOP_FILE, None, "", message)
    folder.files = tuple(file for file in ALL_FILES if file in names)
    sizes = {file: _size(folder.path / file) for file in folder.files}
    reader = _Reader(folder, Terms(folder.shop or shop or _NO_SHOP), sizes, watch)
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
        return _the_one_name(path)
    except (OSError, ValueError) as error:  # a path with a NUL in it is no path
        why = getattr(error, "strerror", None) or error
        raise Refusal(f"The folder {path} cannot be read ({why}); give another one.") from None
    if not names.intersection(ALL_FILES):
        raise Refusal(f"The folder {path} holds none of {', '.join(FILES)}; give another one.")
    return names


def _the_one_name(path: Path) -> set[str]:
    if path.name in ALL_FILES:
        return {path.name}
    guess = did_you_mean(path.name, ALL_FILES)
    raise Refusal(
        f"{path} is a file, and none of {', '.join(FILES)}; give one of them, or the folder "
        f"in which they lie{guess or '.'}"
    )


def _size(path: Path) -> int:
    try:
        return path.stat().st_size
    except OSError:  # whoever reads it says so
        return 0


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

    def __missing__(self, cell: str) -> Any:  # noqa: ANN401 - a cell may hold anything
        value = self._column.value(self._terms, cell)
        if len(self) < MOST_REMEMBERED:
            self[cell] = value
        return value


class _Reader:
    """Turns the rows of files into records, by one shop's terms."""

    def __init__(self, folder: Folder, terms: Terms, sizes: dict[str, int], watch: Watch) -> None:
        self._folder = folder
        self._terms = terms
        self._sizes = sizes
        self._watch = watch
        self._before = sizes.get(SHOP_FILE, 0)

    def _look(self, here: int) -> None:
        """Tell how far all files are read.

        Raises:
            LoadStopped: Nobody wants the rest.
        """
        if not self._watch(self._before + here, sum(self._sizes.values())):
            raise LoadStopped

    def read(self, form: Form) -> Rows:
        """Read one file; what is wrong with it goes to the folder's refusals."""
        rows = Rows()
        refuse = partial(self._folder.refusals.add, form.file)
        values = [_Values(column, self._terms) for column in form.columns]
        try:
            for row in read_sheet(self._folder.path / form.file, form, refuse, self._look):
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
        self._before += self._sizes[form.file]
        self._look(0)
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
