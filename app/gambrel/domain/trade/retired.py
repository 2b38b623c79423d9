"""Cuts that a shop has retired: what was weighed keeps them, nothing new is made of them.

They are kept in the setting `RETIRED`, so that they come and go with a book's plain files.
"""

from __future__ import annotations

import json
from collections.abc import Iterable

RETIRED = "retired_cuts"
"""The setting that holds their keys."""


def read_retired(kept: str | None) -> frozenset[str]:
    """The keys that are kept; what cannot be read counts as nothing kept."""
    try:
        found = json.loads(kept or "[]")
    except (ValueError, RecursionError):
        return frozenset()
    if not isinstance(found, list):
        return frozenset()
    return frozenset(key for key in found if isinstance(key, str))


def retired_text(keys: Iterable[str]) -> str:
    """The keys as they are kept; an empty text for none."""
    found = sorted(keys)
    return json.dumps(found, ensure_ascii=False) if found else ""
