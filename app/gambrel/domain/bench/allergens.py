"""The allergens that must be named, and the words by which a shop names them.

Source: Regulation (EU) 1169/2011, Annex II, its fourteen groups read at farrp.unl.edu. Other
countries' lists differ (the United States name nine, Australia and New Zealand name wheat and each
nut by itself), so a shop may write words of its own; only what looks like a slip is refused.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import CutLabel, Ingredient
from gambrel.domain.trade.near import nearest
from gambrel.domain.trade.records import Input, Source, Trade
from gambrel.domain.trade.use_by import makers_first

GROUPS: dict[str, tuple[str, ...]] = {
    "gluten": ("wheat", "rye", "barley", "oats", "spelt", "khorasan wheat"),
    "crustaceans": (),
    "egg": ("eggs",),
    "fish": (),
    "peanut": ("peanuts",),
    "soybean": ("soy", "soya", "soybeans"),
    "milk": ("lactose",),
    "nuts": (
        "almond", "hazelnut", "walnut", "cashew", "pecan", "Brazil nut", "pistachio", "macadamia",
    ),
    "celery": (),
    "mustard": (),
    "sesame": (),
    "sulphites": ("sulphur dioxide", "sulfites"),
    "lupin": (),
    "molluscs": (),
}  # fmt: skip
"""The fourteen groups, with narrower or other words for them (cereals, spellings from memory).

Sulphites count above 10 mg/kg or 10 mg/l.
"""

WORDS = (*GROUPS, *(word for words in GROUPS.values() for word in words))


def allergen_words(text: str) -> tuple[str, ...]:
    """The words of a text in which commas part them, each once."""
    return tuple(dict.fromkeys(word for part in text.split(",") if (word := part.strip())))


def group_of(word: str) -> str | None:
    """The group of the fourteen that a word belongs to; None for a word of the shop's own."""
    folded = word.casefold()
    for group, words in GROUPS.items():
        if folded in (group, *(each.casefold() for each in words)):
            return group
    return None


def checked_allergens(text: str) -> str:
    """The words of a text as they are kept.

    Raises:
        Refusal: A word that is nearly one of those known: a slip in an allergen does harm.
    """
    words = allergen_words(text)
    for word in words:
        if group_of(word) is None and (near := nearest(word, WORDS)):
            raise Refusal(f"{word!r} is no allergen that is known here. Did you mean {near!r}?")
    return ", ".join(words)


def together(texts: Iterable[str]) -> tuple[str, ...]:
    """The allergens of several ingredients, each once, in their order."""
    return tuple(dict.fromkeys(word for text in texts for word in allergen_words(text)))


@dataclass(frozen=True, slots=True)
class Contents:
    """The allergens in what a stage took, and ingredients in it of which nothing is known."""

    allergens: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()


def contents_of_stages(
    trade: Trade, ingredients: Mapping[str, Ingredient], labels: Mapping[str, CutLabel]
) -> dict[str, Contents]:
    """What every stage has in it, from its own ingredients and from those of all before it.

    Crumbed trays that are worked back bring their crumb along; so does what their labels name.

    Args:
        trade: A book, or a part of it that is closed under its inputs.
        ingredients: Those that are written down, by key.
        labels: What is written on labels, by cut.
    Raises:
        Refusal: Stages take each other's pieces in a circle.
    """
    pieces = {piece.key: piece for piece in trade.pieces}
    inputs: dict[str, list[Input]] = defaultdict(list)
    for row in trade.inputs:
        inputs[row.stage].append(row)
    found: dict[str, Contents] = {}
    for stage in makers_first(trade):
        texts: list[str] = []
        unknown: list[str] = []
        for row in inputs[stage]:
            if row.source is Source.INGREDIENT:
                known = ingredients.get(row.key)
                texts += [known.allergens] if known else []
                unknown += [] if known else [row.key]
            elif row.source is Source.PIECE and row.key in pieces:
                piece = pieces[row.key]
                before, label = found[piece.stage], labels.get(piece.cut)
                texts += [*before.allergens, label.allergens if label else ""]
                unknown += before.unknown
        found[stage] = Contents(together(texts), tuple(dict.fromkeys(unknown)))
    return found
