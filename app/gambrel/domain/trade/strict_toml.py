"""Reading TOML strictly: what is missing or unknown is refused by its name and place."""

from __future__ import annotations

import tomllib
from collections.abc import Collection
from typing import Any


def toml_table(text: str, what: str) -> dict[str, Any]:
    """Parse TOML text; `what` names it in the refusal, like ``the body map``.

    Raises:
        ValueError: The text is not TOML, or nests deeper than the parser goes.
    """
    try:
        return tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise ValueError(f"Cannot read {what}, the text is not TOML: {error}") from error


def exact_table(value: object, names: Collection[str], place: str) -> dict[str, Any]:
    """Return `value` as a table that has exactly these names.

    Raises:
        ValueError: Not a table, or one with a name missing or unknown.
    """
    if not isinstance(value, dict):
        raise ValueError(f"In {place} there should be a table, not {value!r}.")
    for name in names:
        if name not in value:
            raise ValueError(f"In {place}, {name!r} is missing: add it.")
    for name in value:
        if name not in names:
            known = ", ".join(names)
            raise ValueError(f"In {place}, {name!r} is not known: use only {known}.")
    return value


def text_in(value: object, place: str) -> str:
    """Return `value` as text that says something.

    Raises:
        ValueError: Not text, or only blanks.
    """
    if not isinstance(value, str) or not value.strip():
        raise ValueError(f"In {place} there should be text, not {value!r}.")
    return value


def list_in(value: object, place: str) -> list[Any]:
    """Return `value` as a list.

    Raises:
        ValueError: Not a list.
    """
    if not isinstance(value, list):
        raise ValueError(f"In {place} there should be a list, not {value!r}.")
    return value
