"""Loading a folder into a book: every row is good and all of it is in, or nothing is."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import Beside
from gambrel.domain.trade.rows import RowKey
from gambrel.services.books import Book
from gambrel.services.folder.beside import Held, enter_beside, held_beside, new_beside
from gambrel.services.folder.beside_forms import BESIDE
from gambrel.services.folder.gone import withdrawn_prices, withdrawn_writeoffs
from gambrel.services.folder.merge import Merge, merge
from gambrel.services.folder.read import Folder, read_folder

if TYPE_CHECKING:
    from gambrel.storage.work import Work


@dataclass(frozen=True, slots=True)
class LoadResult:
    """Rows by table: added, and there already with the same content; stages that were finished.

    ``ignored`` names files of the folder that are none of ours; ``shop`` says that the book got
    its shop by it.
    """

    added: dict[str, int]
    same: dict[str, int]
    finished: int = 0
    ignored: tuple[str, ...] = ()
    shop: bool = False


@dataclass(frozen=True, slots=True)
class Plan:
    """What a folder would change in a book: written only where nothing of it was refused."""

    folder: Folder
    trade: Merge
    beside: list[Beside]


def load_folder(book: Book, folder: Path) -> LoadResult:
    """Load a folder in the plain-file form, or one of its files alone.

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
    plan_for(rows, None)
    rows.refusals.raise_any()
    return rows


def enter(book: Book, folder: Folder) -> LoadResult:
    """Write a folder's rows into a book, in one transaction.

    Raises:
        RowsRefused: As `load_folder`.
    """
    with book.transaction() as work:
        plan = plan_for(folder, work)
        folder.refusals.raise_any()
        return write_plan(work, plan)


def plan_for(folder: Folder, work: Work | None) -> Plan:
    """What a folder's rows would change; what is wrong goes to the folder's refusals.

    Args:
        folder: As it was read, not planned for yet.
        work: The book as it is now, or None for a new one.
    Raises:
        Refusal: The shop is not the one that the folder was read for.
    """
    if work is None:
        made = merge(folder, None)
        return Plan(folder, made, _look_beside(folder, made, {}))
    shop = work.shop()
    if shop != folder.read_for:
        raise Refusal("The shop's facts were changed while the folder was read. Read it again.")
    _refuse_taken_back(folder, work)
    made = merge(folder, work.trade() if shop is not None else None)
    return Plan(folder, made, _look_beside(folder, made, held_beside(work)))


def write_plan(work: Work, plan: Plan) -> LoadResult:
    """Write what a plan for this very moment says; nothing of it may have been refused."""
    made = plan.trade
    if made.shop is not None:
        work.set_shop(made.shop)
    work.add(record for records in made.added.values() for record in records)
    for stage in made.finished:
        assert stage.finished_at is not None
        work.finish_stage(stage.key, stage.finished_at, stage.minutes, stage.person)
    enter_beside(work, plan.beside)
    return _result(plan)


def _refuse_taken_back(folder: Folder, work: Work) -> None:
    """What was taken back keeps its place in the book, though it is not shown any more."""
    stages: list[RowKey] = [(key,) for key in work.cancelled_stages()]
    _refuse(
        folder, "stages", "stage", stages, "was cancelled in the book, expected a key of its own"
    )
    moment = "was taken back in the book, expected another moment"
    prices, writeoffs = withdrawn_prices(work), withdrawn_writeoffs(work)
    _refuse(folder, "prices", "from", prices, moment)
    _refuse(folder, "writeoffs", "written_off_at", writeoffs, moment)


def _refuse(folder: Folder, table: str, column: str, gone: Iterable[RowKey], message: str) -> None:
    rows = folder.tables.get(table)
    for key in gone if rows else ():
        line = rows.lines.get(key) if rows else None
        if line is not None:
            folder.refusals.add(f"{table}.csv", line, column, f"{key[0]!r} {message}")


def _look_beside(folder: Folder, result: Merge, held: Held) -> list[Beside]:
    """What is new beside the trade; nothing is looked at where there is no trade at all."""
    if result.whole is None or not folder.beside:
        return []
    return new_beside(folder, held, result.whole)


def _result(plan: Plan) -> LoadResult:
    made = plan.trade
    added = {table: len(records) for table, records in made.added.items()}
    added |= Counter(BESIDE[type(record)].table for record in plan.beside)
    ignored = tuple(plan.folder.ignored)
    return LoadResult(
        added, dict(made.same), len(made.finished), ignored, shop=made.shop is not None
    )
