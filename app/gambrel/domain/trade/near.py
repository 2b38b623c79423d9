"""Guessing what somebody meant to write."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

MOST_KNOWN = 500
"""Past so many known words a guess would take longer than it helps."""


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word nearest to one that is not known, or None where nothing is near.

    Upper and lower case count as equal.
    """
    words = list(known)
    if len(words) > MOST_KNOWN or len(word) > MOST_KNOWN:
        return None
    by_fold = {each.casefold(): each for each in reversed(words)}
    found = get_close_matches(word.casefold(), by_fold, n=1, cutoff=0.7)
    return by_fold[found[0]] if found else None


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """A clause to end a refusal with, ``; did you mean 'rump'?``, or nothing."""
    near = nearest(word, known)
    return "" if near is None else f"; did you mean {near!r}?"
