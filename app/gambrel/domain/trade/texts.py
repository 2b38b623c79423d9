"""How long a text of the book may be: what the plain files can hold, and no more. Pure.

The book asks this of all that is written into it, and the plain files read by it, so that whatever
was typed at any screen can be written into a folder and loaded again.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import (
    CutLabel,
    CutLean,
    Ingredient,
    IngredientLot,
    Origin,
    Person,
    PieceLean,
    Recipe,
    RecipeLine,
)
from gambrel.domain.trade.catalogue import Cut, ListLine, Supplier
from gambrel.domain.trade.keys import LONGEST_KEY, fits_key
from gambrel.domain.trade.records import (
    Body,
    Input,
    Piece,
    PriceChange,
    Reweigh,
    Stage,
    Void,
    WriteOff,
)

LONGEST_TEXT = 2_000
"""Characters of a text that names nothing: a reason, a note, who and where."""

LONGEST_SETTING = 600_000
"""A shop's logo is kept as text in its settings, four letters for three of its bytes."""

_NAMES: Mapping[type, tuple[str, ...]] = {
    Supplier: ("key",),
    Cut: ("key", "species", "plu", "unece"),
    ListLine: ("list", "species", "portion", "cut"),
    Body: ("key", "species", "portion", "supplier"),
    Reweigh: ("body",),
    Stage: ("key", "list"),
    Input: ("stage", "key"),
    Piece: ("key", "stage", "cut"),
    Void: ("piece",),
    PriceChange: ("cut",),
    WriteOff: ("piece",),
    Person: ("name",),
    Ingredient: ("key",),
    IngredientLot: ("stage", "key", "lot"),
    CutLean: ("cut",),
    PieceLean: ("piece",),
    Recipe: ("key", "product"),
    RecipeLine: ("recipe", "cut", "ingredient"),
    CutLabel: ("cut",),
    Origin: ("key",),
}
"""The fields that name something: short, and no unseen character in them."""

_WORDS: Mapping[type, tuple[str, ...]] = {
    Supplier: ("name", "contact"),
    Cut: ("name",),
    Body: ("supplier_ref",),
    Stage: ("person",),
    Piece: ("person", "station"),
    Void: ("person", "reason"),
    PriceChange: ("reason",),
    WriteOff: ("reason",),
    Ingredient: ("name", "allergens"),
    PieceLean: ("person",),
    Recipe: ("name", "note"),
    CutLabel: ("ingredients", "allergens", "storage", "cooking"),
    Origin: ("born", "reared", "slaughtered", "abattoir", "cut_in", "plant"),
}
"""The fields that hold other words."""

_CALLED = {
    "key": "name",
    "supplier_ref": "docket number",
    "person": "person's name",
    "station": "station's name",
    "plu": "PLU",
    "unece": "UNECE code",
    "cut_in": "place of cutting",
}
"""What a person calls a field where its own name is not what they would say."""


def refuse_unfit(records: Iterable[object]) -> None:
    """Say no to records with a text that the plain files could not hold.

    Raises:
        Refusal: A name is longer than `LONGEST_KEY` or has an unseen character in it, other words
            are longer than `LONGEST_TEXT` or are no text; the sentence names the first such thing.
    """
    for record in records:
        kind = type(record)
        for field in _NAMES.get(kind, ()):
            text = getattr(record, field)
            if not fits_key(text):
                raise Refusal(_too_long(field, text, LONGEST_KEY) or _unseen(field))
        for field in _WORDS.get(kind, ()):
            if text := getattr(record, field):
                refuse_unfit_words(field, text)


def refuse_unfit_words(field: str, text: str, longest: int = LONGEST_TEXT) -> None:
    """Say no to words that the plain files could not hold.

    Raises:
        Refusal: They are too long, or hold what is no character.
    """
    if sentence := _too_long(field, text, longest):
        raise Refusal(sentence)
    if "\0" in text or not (text.isascii() or _is_text(text)):
        raise Refusal(_unseen(field))


def refuse_unfit_setting(name: str, value: str) -> None:
    """Say no to a setting that the plain files could not hold.

    Raises:
        Refusal: Its name or its value is too long, or holds what is no character.
    """
    if not fits_key(name):
        raise Refusal(_too_long("name", name, LONGEST_KEY) or _unseen("name"))
    refuse_unfit_words("setting", value, LONGEST_SETTING)


def _is_text(text: str) -> bool:
    """Whether every character is a whole one; half of a pair is not."""
    return not any("\ud800" <= letter <= "\udfff" for letter in text)


def _too_long(field: str, text: str, longest: int) -> str:
    if len(text) <= longest:
        return ""
    return f"The {_called(field)} is longer than {longest} letters. Shorten it."


def _unseen(field: str) -> str:
    return f"The {_called(field)} has an unseen character in it. Type it again."


def _called(field: str) -> str:
    return _CALLED.get(field, field)
