"""What a row beside the trade may hold, as the screens that write such rows have it.

The book's own guards stand behind these rules and speak to nobody; here every fault is a sentence.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from gambrel.domain.bench.allergens import checked_allergens
from gambrel.domain.bench.lean import FINEST
from gambrel.domain.bench.legal import COUNTRY_SETTING, country_code
from gambrel.domain.bench.recipes import refuse_if_unfit
from gambrel.domain.bench.shop_limits import SHOP_LIMITS
from gambrel.domain.bench.trim import MINCED
from gambrel.domain.numbers.money import DEAREST_MINOR
from gambrel.domain.prices.body_limits import BODY_DAYS_SETTING, read_body_days
from gambrel.domain.prices.ticket_setting import TICKET_SETTING, read_ticket_setting
from gambrel.domain.refusals import Refusal, RowsRefused
from gambrel.domain.trade.around import (
    Beside,
    CutLean,
    Ingredient,
    IngredientLot,
    PieceLean,
    Recipe,
    RecipeLine,
    Setting,
)
from gambrel.domain.trade.catalogue import Cut
from gambrel.domain.trade.records import Source, Trade
from gambrel.domain.trade.rows import row_key
from gambrel.services.folder.read import Folder, Rows

Fault = tuple[str, str]
"""A column, and what is wrong there."""


class RowRules:
    """What one row may hold, beside a trade; made once for a folder."""

    def __init__(self, trade: Trade, folder: Folder) -> None:
        self._kinds = {cut.key: cut.kind for cut in trade.cuts}
        self._pieces = {piece.key: piece for piece in trade.pieces}
        self._added = {
            (row.stage, row.key) for row in trade.inputs if row.source is Source.INGREDIENT
        }
        self._inputs_sound = _sound(folder, "inputs", "stages")

    def faults(self, record: Beside) -> Iterator[Fault]:
        """What cannot be in a row, by its column."""
        match record:
            case Ingredient():
                yield from _ingredient_faults(record)
            case IngredientLot(stage, key):
                if self._inputs_sound and (stage, key) not in self._added:
                    message = f"{stage!r} took no {key!r}, expected an ingredient of its inputs"
                    yield "ingredient", message
            case CutLean() | PieceLean():
                yield from self._lean_faults(record)
            case RecipeLine():
                yield from _line_faults(record)
            case Setting():
                yield from _setting_faults(record)

    def _lean_faults(self, record: CutLean | PieceLean) -> Iterator[Fault]:
        percent = record.percent
        if not 0 <= percent <= 100 or percent % FINEST:
            expected = "expected 0 to 100, to a hundredth"
            yield "lean_percent", f"{percent} is no per cent of lean, {expected}"
        if isinstance(record, CutLean):
            if self._kinds.get(record.cut, MINCED[0]) not in MINCED:
                yield "cut", f"{record.cut!r} has no class of lean, expected trim or a by-product"
            return
        piece = self._pieces.get(record.piece)
        if piece is not None and record.at < piece.weighed_at:
            yield "measured_at", "the piece was not weighed yet then, expected a later time"


def _ingredient_faults(record: Ingredient) -> Iterator[Fault]:
    if not 0 <= record.price <= DEAREST_MINOR:
        yield "price_per_kg", "no ingredient has such a price, expected zero or more"
    try:
        checked_allergens(record.allergens)
    except Refusal as no:
        yield "allergens", f"{no} Expected allergens parted by commas"


def _line_faults(record: RecipeLine) -> Iterator[Fault]:
    if bool(record.cut) == bool(record.ingredient):
        yield "cut", "expected either a cut or an ingredient"
    if not 1 <= record.grams_per_kg <= 1000:
        yield "grams_per_kg", f"{record.grams_per_kg} g in a kilogram, expected 1 to 1000"
    if record.position < 0:
        yield "position", f"{record.position} is no place in a list, expected zero or more"


_SETTINGS: dict[str, Callable[[str], object]] = {
    **{limit.setting: limit.parse for limit in SHOP_LIMITS},
    COUNTRY_SETTING: country_code,
    BODY_DAYS_SETTING: read_body_days,
    TICKET_SETTING: read_ticket_setting,
}
"""How the settings are read that a screen would say no to; others are read leniently."""


def _setting_faults(record: Setting) -> Iterator[Fault]:
    read = _SETTINGS.get(record.name)
    if read is None or not record.value:
        return
    try:
        read(record.value)
    except Refusal as no:
        yield "value", f"{no} Expected what {record.name} can be"


def recipe_faults(
    folder: Folder, held: Mapping[type, Sequence[Any]], trade: Trade
) -> Iterator[tuple[str, int, Fault]]:
    """What is wrong with whole recipes that a folder brings or adds to: a file, a line, a fault.

    Rows are looked at together only where each alone is sound.

    Args:
        folder: With rows beside the trade in which nothing was refused.
        held: What the book holds beside its trade.
        trade: The book's trade with the folder's rows in it.
    """
    if not _sound(folder, "recipes", "recipe_lines", "ingredients", "cuts"):
        return
    new, new_lines = _rows(folder, Recipe), _rows(folder, RecipeLine)
    recipes = _joined(held.get(Recipe, ()), new.records)
    lines = _joined(held.get(RecipeLine, ()), new_lines.records)
    known = {row.key for row in (*held.get(Ingredient, ()), *_rows(folder, Ingredient).records)}
    cuts = {cut.key: cut for cut in trade.cuts}
    places = {
        row.recipe: ("recipe_lines.csv", new_lines.lines[row_key(row)])
        for row in reversed(new_lines.records)
    }
    places |= {row.key: ("recipes.csv", new.lines[row_key(row)]) for row in new.records}
    names: dict[str, str] = {}
    for recipe in recipes:
        key = recipe.key
        first = names.setdefault(recipe.name.casefold(), key)
        if key not in places:
            continue
        said = _unfit(recipe, [line for line in lines if line.recipe == key], cuts, known)
        if first != key:
            said.append(f"{first!r} has its name already. Give this one another.")
        file, line = places[key]
        yield from ((file, line, ("recipe", f"{key!r}: {each}")) for each in said)


def _unfit(
    recipe: Recipe, lines: Sequence[RecipeLine], cuts: Mapping[str, Cut], known: set[str]
) -> list[str]:
    try:
        refuse_if_unfit(recipe, lines, cuts, known)
    except RowsRefused as no:
        return list(no.sentences)
    return []


def _joined(held: Sequence[Any], new: Sequence[Any]) -> list[Any]:
    """The book's rows and the folder's; one that stands in both once."""
    return list({row_key(row): row for row in (*held, *new)}.values())


def _rows(folder: Folder, kind: type) -> Rows:
    return folder.beside.get(kind, Rows())


def _sound(folder: Folder, *tables: str) -> bool:
    """Whether every row of these files could be read."""
    return not any(table in folder.unread or folder.refused_keys.get(table) for table in tables)
