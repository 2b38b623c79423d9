"""A folder's rows beside a book's: what is new, what is there already, what would be changed."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any

from gambrel.domain.refusals import Problem
from gambrel.domain.review.whole import KEY_COLUMNS, review
from gambrel.domain.trade.catalogue import Shop
from gambrel.domain.trade.records import Stage, Trade
from gambrel.domain.trade.rows import TABLES, Record, RowKey, row_key, rows_of
from gambrel.services.folder.cells import Terms
from gambrel.services.folder.forms import FORMS, SHOP_FILE, Form
from gambrel.services.folder.read import Folder, Rows
from gambrel.services.folder.shop_file import shop_text


@dataclass(slots=True)
class Merge:
    """What a load would do: rows to add, stages to finish, and rows that are there already."""

    shop: Shop | None = None
    added: dict[str, list[Record]] = field(default_factory=dict)
    same: dict[str, int] = field(default_factory=dict)
    finished: list[Stage] = field(default_factory=list)
    whole: Trade | None = None
    """The book's trade with the folder's rows in it."""


def merge(folder: Folder, held: Trade | None) -> Merge:
    """Compare a folder with what the book holds, and review both together.

    What is wrong goes to the folder's refusals; a merge may be written only when there are none.

    Args:
        folder: Rows that could be read.
        held: The whole book, or None where it has no shop yet.
    """
    result = Merge()
    if held is None:
        if folder.shop is None:
            return result
        result.shop = folder.shop
        held = Trade(folder.shop)
    elif folder.shop is not None:
        _compare_shops(folder, folder.shop, held.shop)
    terms = Terms(held.shop)
    for table, rows in folder.tables.items():
        _merge_table(folder, result, FORMS[table], rows, held, terms)
    _review_whole(folder, result, held)
    return result


def _compare_shops(folder: Folder, new: Shop, old: Shop) -> None:
    if new == old:
        return
    there = dict(_settings(old))
    for name, value in _settings(new):
        if value != there[name]:
            message = f"{value} is given, but the book has {there[name]}, expected the same"
            if name == "currency":
                message += "; a book has one currency"
            folder.refusals.add(SHOP_FILE, None, name, message)


def _settings(shop: Shop) -> list[tuple[str, str]]:
    return [
        (name, value)
        for name, _, value in (line.partition(" = ") for line in shop_text(shop).splitlines())
    ]


def _merge_table(
    folder: Folder, result: Merge, form: Form, rows: Rows, held: Trade, terms: Terms
) -> None:
    there = {row_key(record): record for record in rows_of(held, form.table)}
    added: list[Record] = []
    for record in rows.records:
        old = there.get(row_key(record)) if there else None
        if old is None:
            added.append(record)
        elif old == record:
            result.same[form.table] = result.same.get(form.table, 0) + 1
        elif isinstance(record, Stage) and _finishes(old, record):
            result.finished.append(record)
        else:
            column, message = _difference(form, record, old, terms)
            line = rows.lines[row_key(record)]
            folder.refusals.add(form.file, line, column, message)
    if added:
        result.added[form.table] = added


def _finishes(old: Any, new: Stage) -> bool:  # noqa: ANN401 - whatever stands under the key
    """Whether an open stage of the book is the same one, finished."""
    if not isinstance(old, Stage) or not old.is_open or new.is_open:
        return False
    return replace(new, finished_at=None, minutes=old.minutes) == old


def _difference(form: Form, new: Record, old: Record, terms: Terms) -> tuple[str, str]:
    """The first column that differs, and a sentence with all of them."""
    pairs = zip(form.header, form.cells(terms, new), form.cells(terms, old), strict=True)
    differing = [(name, here, there) for name, here, there in pairs if here != there]
    said = "; ".join(
        f"{name} is {here or 'empty'} here and {there or 'empty'} in the book"
        for name, here, there in differing
    )
    key = " ".join(row_key(new))
    column = differing[0][0] if differing else KEY_COLUMNS[form.table]
    return column, f"{key!r} is in the book with other content, expected the same: {said}"


def _review_whole(folder: Folder, result: Merge, held: Trade) -> None:
    finished = {stage.key: stage for stage in result.finished}
    fields: dict[str, Any] = {
        field: (*rows_of(held, table), *result.added.get(table, ()))
        for table, (_, field) in TABLES.items()
    }
    fields["stages"] = tuple(finished.get(stage.key, stage) for stage in fields["stages"])
    result.whole = replace(held, **fields)
    problems = review(result.whole, folder.refused)
    if not problems:
        return
    lines = {table: _lines_by_key(rows) for table, rows in folder.tables.items()}
    inherited: set[Problem] | None = None
    for problem in problems:
        line = lines.get(problem.table, {}).get(problem.row)
        if line is None:
            if inherited is None:
                inherited = set(review(held))
            if problem in inherited:
                continue
        _refuse(folder, problem, line)


def _lines_by_key(rows: Rows) -> dict[RowKey, int]:
    """Lines by key; a write-off is also found without its reason, as the costing names it."""
    short = {key[:2]: line for key, line in reversed(rows.lines.items()) if len(key) == 3}
    return short | rows.lines


def _refuse(folder: Folder, problem: Problem, line: int | None) -> None:
    file = FORMS[problem.table].file
    if line is not None:
        folder.refusals.add(file, line, problem.column, problem.message)
        return
    row = " ".join(problem.row)
    message = f"{problem.message} (with this folder's rows, for {row!r} in the book)"
    folder.refusals.add(file, None, problem.column, message)
