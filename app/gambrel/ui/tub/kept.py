"""The blend in hand as a text, so that a sudden stop comes back to it. Pure: no Qt."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from typing import Any

from gambrel.domain.bench.trim import Portion
from gambrel.domain.trade.around import Ingredient
from gambrel.ui.tub.draft import Draft, Extra

NAME = "tub:"
"""With the station after it, the setting that keeps the blend."""


def draft_text(draft: Draft) -> str:
    """A blend as a setting keeps it; nothing for an empty one."""
    if draft == Draft():
        return ""
    values = {
        "recipe": draft.recipe,
        "name": draft.name,
        "product": draft.product,
        "takes": draft.takes,
        "wished": draft.wished,
        "extras": [
            [each.ingredient.key, each.grams, each.lot, each.use_by and each.use_by.isoformat()]
            for each in draft.extras
        ],
        "lean": [_written(draft.lean_least), _written(draft.lean_most)],
        "minutes": str(draft.minutes_per_kg),
    }
    return json.dumps(values, ensure_ascii=False)


def read_draft(text: str, ingredients: Mapping[str, Ingredient]) -> Draft:
    """A blend read back; an empty one where nothing was kept or it cannot be read.

    Ingredients that are written down no more are left out.
    """
    try:
        return _read(json.loads(text), ingredients)
    except (ArithmeticError, KeyError, TypeError, ValueError):  # JSONDecodeError is a ValueError
        return Draft()


def _read(values: dict[str, Any], ingredients: Mapping[str, Ingredient]) -> Draft:
    least, most = (None if bound is None else Decimal(bound) for bound in values["lean"])
    return Draft(
        recipe=str(values["recipe"]),
        name=str(values["name"]),
        product=str(values["product"]),
        takes=tuple(Portion(str(piece), int(grams)) for piece, grams in values["takes"]),
        wished=tuple((str(cut), int(grams)) for cut, grams in values["wished"]),
        extras=tuple(
            Extra(ingredients[key], int(grams), str(lot), day and date.fromisoformat(day))
            for key, grams, lot, day in values["extras"]
            if key in ingredients
        ),
        lean_least=least,
        lean_most=most,
        minutes_per_kg=Decimal(values["minutes"]),
    )


def _written(bound: Decimal | None) -> str | None:
    return None if bound is None else str(bound)
