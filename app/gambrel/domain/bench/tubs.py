"""The tubs that stand on the scale with the meat: their names, weights, and how they are kept."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass

HEAVIEST_TUB_G = 50_000
MOST_TUBS = 12
LONGEST_NAME = 24


@dataclass(frozen=True, slots=True)
class Tub:
    """Something to weigh in, by the name that the shop calls it, and its empty weight."""

    name: str
    grams: int


NO_TUB = Tub("no tub", 0)

USUAL_TUBS = (NO_TUB, Tub("tray", 120), Tub("tub", 650), Tub("bone crate", 1450))
"""What a new book starts with. Invented weights: each shop weighs its own tubs."""


def tubs_text(tubs: Sequence[Tub]) -> str:
    """Tubs as the book's setting keeps them."""
    return json.dumps([[tub.name, tub.grams] for tub in tubs], ensure_ascii=False)


def read_tubs(text: str) -> tuple[Tub, ...]:
    """Read tubs back from `tubs_text`; a tub of no weight always comes first.

    Raises:
        ValueError: Not such a list, a weight that is none, too many tubs, or the same name twice;
            the message says which.
    """
    try:
        rows = json.loads(text)
    except json.JSONDecodeError as error:
        raise ValueError(f"the list of tubs cannot be read ({error}); write it again") from None
    if not isinstance(rows, list):
        raise ValueError("the list of tubs is no list; write it as names and grams")
    tubs = [NO_TUB, *(_tub(row) for row in rows if row != [NO_TUB.name, 0])]
    if len(tubs) > MOST_TUBS:
        raise ValueError(f"there are {len(tubs)} tubs; expected at most {MOST_TUBS}")
    if len({tub.name for tub in tubs}) < len(tubs):
        raise ValueError("two tubs have the same name; give each its own")
    return tuple(tubs)


def _tub(row: object) -> Tub:
    match row:
        case [str(name), int(grams)] if type(grams) is int and 0 <= grams <= HEAVIEST_TUB_G:
            pass
        case _:
            raise ValueError(f"{row!r} is no tub; expected a name and grams, like ['tub', 650]")
    cleaned = name.strip()
    if not 1 <= len(cleaned) <= LONGEST_NAME:
        raise ValueError(f"{name!r} is no name for a tub; expected 1 to {LONGEST_NAME} letters")
    return Tub(cleaned, grams)
