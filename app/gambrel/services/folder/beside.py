"""What stands beside the trade: out of a book into files, and from files into a book."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from itertools import groupby
from typing import TYPE_CHECKING, Any

from gambrel.domain.trade.around import (
    Beside,
    CutLabel,
    CutLean,
    Ingredient,
    IngredientLot,
    Origin,
    OriginOf,
    Person,
    PieceLean,
    Recipe,
    RecipeLine,
    Setting,
)
from gambrel.domain.trade.near import did_you_mean
from gambrel.domain.trade.records import Trade
from gambrel.domain.trade.rows import row_key
from gambrel.services.folder.beside_forms import BESIDE
from gambrel.services.folder.beside_rules import RowRules, recipe_faults
from gambrel.services.folder.read import Folder

if TYPE_CHECKING:
    from gambrel.storage.work import Work

Held = dict[type, Sequence[Any]]
"""Records beside the trade by their kinds."""


def held_beside(work: Work) -> Held:
    """All that a book holds beside its trade and tells in files; PINs are not told."""
    kinds = [kind for kind in BESIDE if kind is not Setting]
    found: Held = {kind: work.every(kind) for kind in kinds}
    found[Person] = [Person(person.name) for person in found[Person] if person.active]
    settings = [Setting(name, value) for name, value in work.settings().items()]
    found[Setting] = [setting for setting in settings if setting.of_the_shop]
    return found


def of_what_stands(held: Held, trade: Trade) -> Held:
    """The same without what belongs to cancelled stages, which no file tells of."""
    stages = {stage.key for stage in trade.stages}
    pieces = {piece.key for piece in trade.pieces}
    lots = [lot for lot in held[IngredientLot] if lot.stage in stages]
    leans = [lean for lean in held[PieceLean] if lean.piece in pieces]
    return held | {IngredientLot: lots, PieceLean: leans}


def new_beside(folder: Folder, held: Held, trade: Trade) -> list[Beside]:
    """The folder's rows that the book has not got; what is wrong goes to its refusals.

    Args:
        folder: With the rows beside the trade that could be read.
        held: What the book holds beside its trade.
        trade: The book's trade with the folder's rows in it.
    """
    known, rules = _known(folder, held, trade), RowRules(trade, folder)
    before = len(folder.refusals)
    added: list[Beside] = []
    for kind, rows in folder.beside.items():
        there = {row_key(record): record for record in held.get(kind, ())}
        file = BESIDE[kind].file
        for record in rows.records:
            key = row_key(record)
            line = rows.lines[key]
            unknown = _unknown(record, known, folder.unread)
            for column, message in (*unknown, *rules.faults(record)):
                folder.refusals.add(file, line, column, message)
            old = there.get(key)
            if old is None:
                added.append(record)
            elif old != record:
                message = f"{' '.join(key)!r} is in the book with other content, expected the same"
                folder.refusals.add(file, line, BESIDE[kind].header[0], message)
    if len(folder.refusals) == before:
        for file, line, (column, message) in recipe_faults(folder, held, trade):
            folder.refusals.add(file, line, column, message)
    return added


def enter_beside(work: Work, records: Sequence[Beside]) -> None:
    """Write rows beside the trade into a book."""
    lines = [record for record in records if isinstance(record, RecipeLine)]
    of_recipe = {
        key: list(group)
        for key, group in groupby(sorted(lines, key=row_key), key=lambda line: line.recipe)
    }
    for record in records:
        match record:
            case Setting(name, value):
                work.set_setting(name, value)
            case Recipe():
                work.put_recipe(record, of_recipe.pop(record.key, []))
            case IngredientLot() | PieceLean():
                work.note([record])
            case Person() | CutLabel() | Origin() | Ingredient() | CutLean():
                work.put(record)


Known = dict[str, set[str]]


def _known(folder: Folder, held: Held, trade: Trade) -> Known:
    """Keys by what they are of: in the book, in the folder, or refused there already."""
    mine: dict[str, set[str]] = {
        "suppliers": {row.key for row in trade.suppliers},
        "cuts": {row.key for row in trade.cuts},
        "bodies": {row.key for row in trade.bodies},
        "stages": {row.key for row in trade.stages},
        "pieces": {row.key for row in trade.pieces},
    }
    for name, kind in (("ingredients", Ingredient), ("recipes", Recipe)):
        rows = folder.beside[kind].records if kind in folder.beside else ()
        mine[name] = {row.key for row in (*held.get(kind, ()), *rows)}
    return {name: keys | folder.refused_keys[name] for name, keys in mine.items()}


def _unknown(
    record: Beside, known: Known, unread: Collection[str]
) -> Iterator[tuple[str, str]]:  # fmt: skip
    """What a row names and is nowhere; a file that could not be read may have it."""
    for table, column, key in _REFERENCES.get(type(record), lambda _: [])(record):
        if key not in known[table] and table not in unread:
            hint = did_you_mean(key, known[table])
            yield column, f"{key!r} is not among the {table}, expected one of them{hint}"


def _of_origin(row: Origin) -> list[tuple[str, str, str]]:
    return [("suppliers" if row.kind is OriginOf.SUPPLIER else "bodies", "key", row.key)]


def _of_line(row: RecipeLine) -> list[tuple[str, str, str]]:
    named = [("cuts", "cut", row.cut), ("ingredients", "ingredient", row.ingredient)]
    return [("recipes", "recipe", row.recipe), *(each for each in named if each[2])]


_REFERENCES: dict[type, Callable[[Any], list[tuple[str, str, str]]]] = {
    IngredientLot: lambda row: [("stages", "stage", row.stage)],
    CutLean: lambda row: [("cuts", "cut", row.cut)],
    PieceLean: lambda row: [("pieces", "piece", row.piece)],
    Recipe: lambda row: [("cuts", "product", row.product)],
    RecipeLine: _of_line,
    CutLabel: lambda row: [("cuts", "cut", row.cut)],
    Origin: _of_origin,
}
"""What each kind of row refers to: a table, the row's column, and the key."""
