"""A list of ingredients with its allergens set apart, so that they are printed in bold.

Source: Regulation (EU) 1169/2011, article 21: allergens stand out in the list of ingredients, and
where there is no list, "Contains" and their names (from memory; local codes differ).
"""

from __future__ import annotations

import re

Run = tuple[str, bool]
"""Words, and whether they are bold."""


def ingredient_runs(ingredients: str, allergens: str) -> tuple[Run, ...]:
    """A label's line of ingredients.

    Args:
        ingredients: The list as printed, empty for meat and nothing else.
        allergens: Words parted by commas. Each is bold wherever it stands in the list as a word of
            its own, in any case; one that stands nowhere in it is named behind "Contains".
    Returns:
        Nothing where there is nothing to say.
    """
    named = [word for part in allergens.split(",") if (word := part.strip())]
    listed: list[str] = []
    unlisted: list[str] = []
    for word in dict.fromkeys(named):
        (listed if _pattern([word]).search(ingredients) else unlisted).append(word)
    runs: list[Run] = []
    if ingredients.strip():
        runs.append(("Ingredients: ", False))
        runs.extend(_bold(ingredients.strip().rstrip("."), listed))
        runs.append((". " if unlisted else ".", False))
    if unlisted:
        runs.append(("Contains ", False))
        for n, word in enumerate(unlisted):
            runs += [(", ", False)] if n else []
            runs.append((word, True))
        runs.append((".", False))
    return tuple(runs)


def _bold(text: str, words: list[str]) -> list[Run]:
    if not words:
        return [(text, False)]
    runs: list[Run] = []
    at = 0
    for found in _pattern(words).finditer(text):
        if found.start() > at:
            runs.append((text[at : found.start()], False))
        runs.append((found[0], True))
        at = found.end()
    if at < len(text):
        runs.append((text[at:], False))
    return runs


def _pattern(words: list[str]) -> re.Pattern[str]:
    longest_first = sorted(words, key=len, reverse=True)
    return re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, longest_first))})(?!\w)", re.IGNORECASE)
