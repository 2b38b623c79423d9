"""The cabinet's trays in the shop's own order: lists, tickets and papers follow it."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.catalogue import Cut


def in_cabinet_order(cuts: Iterable[Cut], order: Sequence[str]) -> list[Cut]:
    """Cuts as their trays stand; those without a place come last, in the order given."""
    places = {key: place for place, key in enumerate(order)}
    return sorted(cuts, key=lambda cut: places.get(cut.key, len(places)))


def moved(order: Sequence[str], shown: Sequence[str], key: str, place: int) -> list[str]:
    """The order after one of the cuts that are shown went to another place among them.

    Args:
        order: Every cut.
        shown: Those that are shown, as they stand in ``order``.
        key: One of them.
        place: Its new place among those shown, from 0; past the end means last.
    """
    without = [each for each in shown if each != key]
    place = min(max(place, 0), len(without))
    rest = [each for each in order if each != key]
    if not without:
        return list(order)
    after = place == len(without)  # else just before the one whose place it takes
    at = rest.index(without[-1]) + 1 if after else rest.index(without[place])
    return [*rest[:at], key, *rest[at:]]


def order_text(order: Sequence[str]) -> str:
    """The order as it is kept."""
    return json.dumps(list(order))


def read_order(text: str) -> list[str]:
    """Read back what `order_text` wrote.

    Raises:
        Refusal: It is anything else.
    """
    try:
        found = json.loads(text)
    except (ValueError, RecursionError):
        found = None
    if not isinstance(found, list) or not all(isinstance(key, str) for key in found):
        raise Refusal(
            "What was kept about the order of the trays cannot be read. Arrange them again."
        )
    return found
