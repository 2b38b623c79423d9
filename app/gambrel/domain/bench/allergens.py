"""The allergens that must be named, and the words by which a shop names them.

Source: Regulation (EU) 1169/2011, Annex II, its fourteen groups read at farrp.unl.edu. Other
countries' lists differ (the United States name nine, Australia and New Zealand name wheat and each
nut by itself), so a shop may write words of its own; only what looks like a slip is refused.
"""

from __future__ import annotations

from collections.abc import Iterable

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.near import nearest

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
