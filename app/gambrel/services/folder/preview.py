"""What taking a folder in would change, said before anything changes; and taking in just that."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from enum import Enum, auto
from pathlib import Path
from typing import NamedTuple

from gambrel.domain.trade.catalogue import Shop
from gambrel.domain.trade.rows import AnyRecord, RowKey, row_key
from gambrel.services.books import Book
from gambrel.services.folder.beside_forms import BESIDE
from gambrel.services.folder.cells import Terms
from gambrel.services.folder.forms import FORMS, SHOP_FILE, Form
from gambrel.services.folder.load import LoadResult, Plan, plan_for, write_plan
from gambrel.services.folder.read import LoadStopped, Rows, Watch, read_folder, unwatched
from gambrel.services.folder.refusals import RefusedLine, file_place

_STAGES = FORMS["stages"].file
_BY_FILE: dict[str, Form] = {form.file: form for form in (*FORMS.values(), *BESIDE.values())}


class NewRow(NamedTuple):
    """A row that the book would gain; or a stage, open there, that the row would finish.

    ``record`` is None for the shop itself, which stands on no line.
    """

    file: str
    line: int
    record: AnyRecord | None
    finishes: bool = False

    @property
    def name(self) -> str:
        """What the row is known by."""
        return " ".join(row_key(self.record)) if self.record else "the shop"


@dataclass(frozen=True, slots=True)
class FileCount:
    """How many rows of a file are new, finish a stage, are there already, and are refused.

    What is wrong with a file as a whole counts as one row.
    """

    file: str
    new: int = 0
    finished: int = 0
    same: int = 0
    refused: int = 0


@dataclass(frozen=True, slots=True)
class Preview:
    """What a folder would change in a book. Two that are equal change the same.

    ``path`` is what was asked for; ``ignored`` names files that are none of the form's; ``shop``
    is the one that the book would have, None where there is none.
    """

    path: Path
    files: tuple[FileCount, ...]
    new: tuple[NewRow, ...]
    refused: tuple[RefusedLine, ...]
    ignored: tuple[str, ...]
    shop: Shop | None

    @property
    def changes(self) -> int:
        """How many rows would come in, or finish a stage."""
        return len(self.new)

    @property
    def can_be_taken(self) -> bool:
        """Whether it changes something, and nothing of it is refused."""
        return bool(self.new) and not self.refused

    def cells(self, row: NewRow) -> list[tuple[str, str]]:
        """The cells of a row that say more than an empty one would, each with its column."""
        if self.shop is None or row.record is None:
            return []
        form, terms = _BY_FILE[row.file], Terms(self.shop)
        values, cells = form.take(row.record), form.cells(terms, row.record)
        return [
            (column.name, cell)
            for column, value, cell in zip(form.columns, values, cells, strict=True)
            if cell and value != column.empty
        ]


class PreviewChanged(Exception):
    """The folder or the book is not as it was shown: ``now`` says what it would change by now."""

    def __init__(self, now: Preview) -> None:
        super().__init__("the folder or the book has changed")
        self.now = now


def preview_folder(book: Book | None, path: Path, watch: Watch = unwatched) -> Preview:
    """Say what taking a folder in would change; nothing is written.

    Args:
        book: The book, or None for one that is still to be made.
        path: The folder, or one of its files alone.
        watch: Asked now and then whether to go on.
    Raises:
        Refusal: Not such a folder, or the book cannot be read.
        LoadStopped: ``watch`` said no.
    """
    if book is None:
        return _preview(path, plan_for(read_folder(path, None, watch), None))
    with book.reading() as work:
        shop = work.shop()
    folder = read_folder(path, shop, watch)
    with book.reading() as work:
        return _preview(path, plan_for(folder, work))


def take_in(book: Book, shown: Preview, watch: Watch = unwatched) -> LoadResult:
    """Take in what a preview has shown: just that, in one transaction, or nothing.

    Raises:
        PreviewChanged: The folder or the book would give another preview by now.
        RowsRefused: Something of it is refused.
        Refusal: Not such a folder any more, or the book cannot be written.
        LoadStopped: ``watch`` said no.
    """
    with book.reading() as work:
        shop = work.shop()
    folder = read_folder(shown.path, shop, watch)
    with book.transaction() as work:
        plan = plan_for(folder, work)
        now = _preview(shown.path, plan)
        if now != shown:
            raise PreviewChanged(now)
        folder.refusals.raise_any()
        result = write_plan(work, plan)
        if not watch(1, 1):
            raise LoadStopped
    return result


def _preview(path: Path, plan: Plan) -> Preview:
    folder, made = plan.folder, plan.trade
    refused = folder.refusals.in_order()
    spoilt: dict[str, set[int]] = {file: set() for file in folder.files}
    for each in refused:
        spoilt.setdefault(each.file, set()).add(each.line)
    new: list[NewRow] = []
    counts: list[FileCount] = []
    fates = _Fates(plan)
    for file in sorted(spoilt, key=file_place):
        found = list(fates.of(file, spoilt[file]))
        comes_in = [row for row, fate in found if fate is not Fate.SAME]
        new += comes_in
        count = Counter(fate for _, fate in found)
        counts.append(
            FileCount(
                file, count[Fate.NEW], count[Fate.FINISHED], count[Fate.SAME], len(spoilt[file])
            )
        )
    whole = made.whole.shop if made.whole else folder.shop
    return Preview(path, tuple(counts), tuple(new), tuple(refused), tuple(folder.ignored), whole)


class Fate(Enum):
    """What becomes of a row that is not refused."""

    NEW = auto()
    FINISHED = auto()
    SAME = auto()


class _Fates:
    """Tells rows that come in from those that are there already."""

    def __init__(self, plan: Plan) -> None:
        folder, made = plan.folder, plan.trade
        self._plan = plan
        self._rows: dict[str, Rows] = {
            FORMS[table].file: rows for table, rows in folder.tables.items()
        } | {BESIDE[kind].file: rows for kind, rows in folder.beside.items()}
        self._added: dict[str, set[RowKey]] = {
            FORMS[table].file: {row_key(record) for record in records}
            for table, records in made.added.items()
        }
        for record in plan.beside:
            self._added.setdefault(BESIDE[type(record)].file, set()).add(row_key(record))
        self._finished = {row_key(stage) for stage in made.finished}

    def of(self, file: str, spoilt: Collection[int]) -> Iterator[tuple[NewRow, Fate]]:
        """The rows of a file that are not refused, in its order."""
        if file == SHOP_FILE:
            yield from self._of_the_shop(spoilt)
        rows = self._rows.get(file)
        for record in rows.records if rows else ():
            key = row_key(record)
            line = rows.lines[key] if rows else 0
            if line not in spoilt:
                fate = self._fate(file, key)
                yield NewRow(file, line, record, fate is Fate.FINISHED), fate

    def _of_the_shop(self, spoilt: Collection[int]) -> Iterator[tuple[NewRow, Fate]]:
        if not spoilt and self._plan.folder.shop is not None:
            new = self._plan.trade.shop is not None
            yield NewRow(SHOP_FILE, 0, None), Fate.NEW if new else Fate.SAME

    def _fate(self, file: str, key: RowKey) -> Fate:
        # With no shop yet, neither in the book nor in the folder, nothing can be there already.
        if self._plan.trade.whole is None or key in self._added.get(file, ()):
            return Fate.NEW
        if file == _STAGES and key in self._finished:
            return Fate.FINISHED
        return Fate.SAME
