"""The shop's tubs: reading them, and each edit as the list it makes or the reason why not. Pure."""

from __future__ import annotations

from collections.abc import Sequence

from gambrel.domain.bench.tubs import (
    HEAVIEST_TUB_G,
    LONGEST_NAME,
    MOST_TUBS,
    NO_TUB,
    USUAL_TUBS,
    Tub,
    read_tubs,
)
from gambrel.domain.numbers.mass import kg_text
from gambrel.domain.refusals import Refusal

Tubs = tuple[Tub, ...]


def tubs_in(kept: str | None) -> Tubs:
    """The tubs that a book keeps; what a new book starts with where it keeps none.

    Raises:
        Refusal: What is kept cannot be read.
    """
    if not kept:
        return USUAL_TUBS
    try:
        return read_tubs(kept)
    except ValueError as error:
        words = str(error)
        raise Refusal(f"{words[:1].upper()}{words[1:]}.") from error


def added(tubs: Sequence[Tub], name: str, grams: int) -> Tubs:
    """The tubs with one more at their end.

    Raises:
        Refusal: No such name or weight, or too many tubs.
    """
    if len(tubs) >= MOST_TUBS:
        raise Refusal(f"The block has room for {MOST_TUBS} tubs. Remove one that you do not use.")
    return (*tubs, Tub(_free_name(tubs, name), _weight(grams)))


def changed(tubs: Sequence[Tub], old: str, name: str, grams: int) -> Tubs:
    """The tubs with another name and weight for one of them, in the same place.

    Raises:
        Refusal: There is no such tub, or no such name or weight.
    """
    place = _place(tubs, old)
    others = [tub for tub in tubs if tub.name != old]
    new = Tub(_free_name(others, name), _weight(grams))
    return (*tubs[:place], new, *tubs[place + 1 :])


def removed(tubs: Sequence[Tub], name: str) -> Tubs:
    """The tubs without one of them; what was weighed in it keeps its tare.

    Raises:
        Refusal: There is no such tub.
    """
    place = _place(tubs, name)
    return (*tubs[:place], *tubs[place + 1 :])


def moved(tubs: Sequence[Tub], name: str, steps: int) -> Tubs:
    """The tubs with one of them so many places later, or earlier where negative, within the list.

    Raises:
        Refusal: There is no such tub.
    """
    place = _place(tubs, name)
    rest = [*tubs[:place], *tubs[place + 1 :]]
    there = min(max(place + steps, 1), len(rest))  # the tub of no weight stays first
    return (*rest[:there], tubs[place], *rest[there:])


def _place(tubs: Sequence[Tub], name: str) -> int:
    for place, tub in enumerate(tubs):
        if tub.name == name and tub != NO_TUB:
            return place
    raise Refusal(f"There is no tub {name!r} any more. Look at the list again.")


def _free_name(others: Sequence[Tub], name: str) -> str:
    name = " ".join(name.split())
    if not name:
        raise Refusal("A tub needs a name. Type what you call it, for example blue tub.")
    if len(name) > LONGEST_NAME:
        raise Refusal(f"The name is longer than {LONGEST_NAME} letters. Shorten it.")
    if name.casefold() in {tub.name.casefold() for tub in (NO_TUB, *others)}:
        raise Refusal(f"There is a tub {name!r} already. Give this one another name.")
    return name


def _weight(grams: int) -> int:
    if not 0 < grams <= HEAVIEST_TUB_G:
        raise Refusal(
            f"A tub weighs more than nothing and at most {kg_text(HEAVIEST_TUB_G)} kg. "
            "Weigh it empty, and type what the scale shows."
        )
    return grams
