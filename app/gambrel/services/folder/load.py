"""Loading a folder into a book: every row is good and all of it is in, or nothing is."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from pathlib import Path

from gambrel.domain.trade.around import Beside
from gambrel.services.books import Book
from gambrel.services.folder.beside import Held, enter_beside, held_beside, new_beside
from gambrel.services.folder.beside_forms import BESIDE
from gambrel.services.folder.merge import Merge, merge
from gambrel.services.folder.read import Folder, read_folder


@dataclass(frozen=True, slots=True)
class LoadResult:
    """Rows by table: added, and there already with the same content; stages that were finished.

    ``ignored`` names files of the folder that are none of ours.
    """

    added: dict[str, int]
    same: dict[str, int]
    finished: int = 0
    ignored: tuple[str, ...] = ()


def load_folder(book: Book, folder: Path) -> LoadResult:
    """Load a folder in the plain-file form.

    A row that the book holds already is passed over, one with other content is refused; only a
    stage that is open in the book and finished in the folder becomes finished.

    Raises:
        RowsRefused: Every row that cannot be taken, a sentence each; the book is as it was.
        Refusal: Not such a folder, or the book cannot be written.
    """
    with book.reading() as work:
        shop = work.shop()
    return enter(book, read_folder(folder, shop))


def check_folder(folder: Path) -> Folder:
    """Read a folder as for a new, empty book, and refuse what such a book would refuse.

    Raises:
        RowsRefused: Every row that cannot be taken.
        Refusal: Not such a folder.
    """
    rows = read_folder(folder, None)
    _look_beside(rows, merge(rows, None), {})
    rows.refusals.raise_any()
    return rows


def enter(book: Book, folder: Folder) -> LoadResult:
    """Write a folder's rows into a book, in one transaction.

    Raises:
        RowsRefused: As `load_folder`.
    """
    with book.transaction() as work:
        held = work.trade() if work.shop() is not None else None
        _refuse_cancelled(folder, work.cancelled_stages())
        result = merge(folder, held)
        beside = _look_beside(folder, result, held_beside(work))
        folder.refusals.raise_any()
        if result.shop is not None:
            work.set_shop(result.shop)
        work.add(record for records in result.added.values() for record in records)
        for stage in result.finished:
            assert stage.finished_at is not None
            work.finish_stage(stage.key, stage.finished_at, stage.minutes, stage.person)
        enter_beside(work, beside)
    return _result(folder, result, beside)


def _refuse_cancelled(folder: Folder, cancelled: list[str]) -> None:
    """The key of a cancelled stage is taken for ever, though the stage is not shown any more."""
    stages = folder.tables.get("stages")
    for key in cancelled if stages else ():
        line = stages.lines.get((key,)) if stages else None
        if line is not None:
            message = f"{key!r} was cancelled in the book, expected a key of its own"
            folder.refusals.add("stages.csv", line, "stage", message)


def _look_beside(folder: Folder, result: Merge, held: Held) -> list[Beside]:
    """What is new beside the trade; nothing is looked at where there is no trade at all."""
    if result.whole is None or not folder.beside:
        return []
    return new_beside(folder, held, result.whole)


def _result(folder: Folder, result: Merge, beside: list[Beside]) -> LoadResult:
    added = {table: len(records) for table, records in result.added.items()}
    added |= Counter(BESIDE[type(record)].table for record in beside)
    return LoadResult(added, dict(result.same), len(result.finished), tuple(folder.ignored))
