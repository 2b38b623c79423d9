"""A cutting list as it is put in order: each edit as the lines it makes, or why not. Pure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from typing import NamedTuple

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.catalogue import ListLine

Lines = tuple[ListLine, ...]


class ListKey(NamedTuple):
    """What a cutting list is known by: its name, and what is cut by it."""

    name: str
    species: str
    portion: str


def lists_in(lines: Sequence[ListLine]) -> dict[ListKey, Lines]:
    """The lists of a book with their lines, in the order given."""
    found: dict[ListKey, list[ListLine]] = {}
    for line in lines:
        found.setdefault(ListKey(line.list, line.species, line.portion), []).append(line)
    return {key: tuple(each) for key, each in found.items()}


def with_cut(lines: Lines, key: ListKey, cut: str) -> Lines:
    """The list with one more cut at its end, which has no norm yet.

    Raises:
        Refusal: The cut stands on it already.
    """
    if any(line.cut == cut for line in lines):
        raise Refusal("The cut stands on this list already. Look for it there.")
    return _numbered((*lines, ListLine(*key, 0, cut)))


def without_cut(lines: Lines, cut: str) -> Lines:
    """The list without one of its cuts."""
    return _numbered(tuple(line for line in lines if line.cut != cut))


def in_order(lines: Lines, cuts: Sequence[str]) -> Lines:
    """The list in another order of work; a cut that is not named comes last."""
    places = {cut: place for place, cut in enumerate(cuts)}
    return _numbered(tuple(sorted(lines, key=lambda line: places.get(line.cut, len(places)))))


def with_norms(lines: Lines, norms: Mapping[str, Decimal | None]) -> Lines:
    """The list with other norms, in per cent; a cut that is not named keeps its own."""
    return tuple(
        replace(line, norm_percent=norms.get(line.cut, line.norm_percent)) for line in lines
    )


def as_list(lines: Lines, key: ListKey) -> Lines:
    """The same lines as another list's."""
    return tuple(
        replace(line, list=key.name, species=key.species, portion=key.portion) for line in lines
    )


def norm_sum(lines: Sequence[ListLine]) -> Decimal:
    """What the norms of a list add up to, in per cent; a cut without one counts for nothing."""
    return sum((line.norm_percent or Decimal(0) for line in lines), Decimal(0))


def _numbered(lines: Lines) -> Lines:
    return tuple(replace(line, position=place) for place, line in enumerate(lines, 1))
