"""What people call a body: its portion and its number, as it is said across the shop."""

from __future__ import annotations

import re

from gambrel.domain.trade.records import Body

WHOLE = "whole"
"""The portion of an animal that is broken in one: it is called by its species."""

_NUMBER = re.compile(r"(\d+)$", re.ASCII)


def body_title(body: Body) -> str:
    """For example ``Hindquarter 17`` for HQ-17; the whole key where it ends in no number."""
    portion = body.species if body.portion == WHOLE else body.portion
    number = _NUMBER.search(body.key)
    return f"{portion.capitalize()} {number[1] if number else body.key}"


def portion_title(species: str, portion: str) -> str:
    """What bodies of a kind are called together, for example ``Beef hindquarter`` or ``Lamb``."""
    return (species if portion == WHOLE else f"{species} {portion}").capitalize()
