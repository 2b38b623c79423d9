"""Letters that the papers' typeface has, and a refusal of words that it could not draw.

A missing letter comes out as an empty box: a ticket or a label that nobody can read, and that looks
right to whoever sent it to the printer.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Sequence
from functools import cache

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from gambrel.domain.refusals import Refusal
from gambrel.reports.fitting import clean
from gambrel.reports.fonts import BOLD, REGULAR, SEMIBOLD, register_fonts

_SHOWN = 8
"""How many things, and how many letters of each, a refusal names."""


def undrawable(words: str) -> tuple[str, ...]:
    """The letters of a text that would be drawn as boxes or in the wrong place, each once.

    Marks that stand on a letter before them are among them where the two have no joined form: the
    papers put every letter beside the other.
    """
    if words.isascii():
        return ()
    known = _letters()
    return tuple(
        letter
        for letter in dict.fromkeys(clean(words))
        if ord(letter) not in known or unicodedata.category(letter) in ("Mn", "Me")
    )


def see_letters(things: Iterable[tuple[str, Sequence[str]]]) -> None:
    """See that all words can be drawn.

    Args:
        things: What is to be printed, by its name, and the words that stand on it.
    Raises:
        Refusal: Some cannot; all are named with the letters in question.
    """
    found: dict[str, None] = {}
    for name, words in things:
        lacking = dict.fromkeys(letter for each in words for letter in undrawable(each))
        if lacking:
            found[f"{' '.join([*lacking][:_SHOWN])} on “{clean(name)}”"] = None
    if found:
        raise Refusal(
            f"The papers' typeface cannot draw {'; '.join([*found][:_SHOWN])}"
            f"{'; and others' if len(found) > _SHOWN else ''}. Nothing was printed; write it in "
            "Latin, Greek or Cyrillic letters."
        )


@cache
def _letters() -> frozenset[int]:
    """The characters that all three weights have."""
    register_fonts()
    fonts = [pdfmetrics.getFont(name) for name in (REGULAR, SEMIBOLD, BOLD)]
    return frozenset.intersection(
        *(frozenset(font.face.charToGlyph) for font in fonts if isinstance(font, TTFont))
    )
