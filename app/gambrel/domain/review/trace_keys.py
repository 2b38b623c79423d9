"""What a word can mean to somebody who traces: a body, a docket, a piece, a stage, a lot.

One word may name several things. All of them are told; none is guessed away.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from typing import TypeVar

from gambrel.domain.trade.around import Ingredient, IngredientLot
from gambrel.domain.trade.catalogue import Cut
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.keys import lot_of
from gambrel.domain.trade.records import Body, Source, Trade, body_order

Named = TypeVar("Named")


class SubjectKind(StrEnum):
    """What is traced. A label's lot is a body or a stage, and is found as such."""

    BODY = "body"
    PIECE = "piece"
    STAGE = "stage"
    SUPPLIER_REF = "supplier_ref"
    KILLED_ON = "killed_on"
    RECEIVED_ON = "received_on"
    ABATTOIR = "abattoir"
    SUPPLIER = "supplier"
    INGREDIENT_LOT = "ingredient_lot"
    INGREDIENT = "ingredient"
    LABEL_NUMBER = "label_number"


@dataclass(frozen=True, slots=True)
class Subject:
    """One thing that a word names, and where its meat or goods come into the book.

    One of the four is filled, or none where nothing was bought or used. ``added`` holds pairs of a
    stage and an ingredient.
    """

    kind: SubjectKind
    name: str
    bodies: tuple[str, ...] = ()
    pieces: tuple[str, ...] = ()
    stages: tuple[str, ...] = ()
    added: tuple[tuple[str, str], ...] = ()
    of: str = ""
    """Whose it is, where a name alone would not say: a docket's supplier, a lot's ingredient."""


@dataclass(frozen=True, slots=True)
class Known:
    """What is known beside the trade, for tracing.

    ``abattoirs`` gives the plant of slaughter by body, ``numbers`` the pieces by what the code on
    their printed labels says.
    """

    lots: tuple[IngredientLot, ...] = ()
    ingredients: tuple[Ingredient, ...] = ()
    abattoirs: Mapping[str, str] = field(default_factory=dict)
    numbers: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


def subjects_named(word: str, trade: Trade, known: Known) -> list[Subject]:
    """Everything that a word names, by kind; empty where it names nothing.

    Spaces around it do not count. Within a kind, names that are written exactly so come alone;
    where there are none, upper and lower case and runs of spaces count as equal.
    """
    found: list[Subject] = []
    for kind, names in (
        (SubjectKind.BODY, [body.key for body in trade.bodies]),
        (SubjectKind.PIECE, [piece.key for piece in trade.pieces]),
        (SubjectKind.STAGE, [stage.key for stage in trade.stages]),
    ):
        meant = _meant(word, names) or _of_lot(word, kind, names)
        found += [_single(kind, name) for name in sorted(meant)]
    found += _of_bodies(word, trade, known)
    found += _of_ingredients(word, trade, known)
    for number in sorted(_meant(word, known.numbers)):
        # Each piece by itself: one may have been made of another.
        for key in known.numbers[number]:
            found.append(Subject(SubjectKind.LABEL_NUMBER, number, pieces=(key,), of=key))
    return found


def cuts_named(word: str, cuts: Iterable[Cut]) -> list[Cut]:
    """Cuts by key, name or number; a cut is no lot, but people try it."""
    wanted = plain(word)
    return [cut for cut in cuts if wanted and wanted in {plain(cut.key), plain(cut.name), cut.plu}]


def plain(word: str) -> str:
    """A word without what people do not heed: case, and more than one space."""
    return " ".join(word.casefold().split())


def _meant(word: str, names: Iterable[str]) -> set[str]:
    """The names that are written as the word is; else those that differ in case and spaces."""
    wanted = plain(word)
    near = {name for name in names if wanted and plain(name) == wanted}
    exact = near & {word, word.strip()}
    return exact or near


def _of_lot(word: str, kind: SubjectKind, names: Iterable[str]) -> set[str]:
    """The bodies or stages for which a label gives a lot that is shorter than the key."""
    if kind is SubjectKind.PIECE:
        return set()
    return {name for name in names if lot_of(name) != name and plain(lot_of(name)) == plain(word)}


def _single(kind: SubjectKind, name: str) -> Subject:
    match kind:
        case SubjectKind.BODY:
            return Subject(kind, name, bodies=(name,))
        case SubjectKind.PIECE:
            return Subject(kind, name, pieces=(name,))
        case _:
            return Subject(kind, name, stages=(name,))


def _of_bodies(word: str, trade: Trade, known: Known) -> Iterator[Subject]:
    """Bodies that came together: by docket, by day, by plant, by supplier."""
    bodies = sorted(trade.bodies, key=body_order)
    by_ref = _grouped(((body.supplier, body.supplier_ref), body) for body in bodies)
    meant = _meant(word, {reference for _, reference in by_ref})
    for supplier, reference in sorted(by_ref):
        if reference in meant:
            keys = by_ref[supplier, reference]
            yield Subject(SubjectKind.SUPPLIER_REF, reference, bodies=keys, of=supplier)
    yield from _of_days(word, trade, bodies)
    by_plant = _grouped((known.abattoirs.get(body.key, ""), body) for body in bodies)
    for plant in sorted(_meant(word, by_plant)):
        yield Subject(SubjectKind.ABATTOIR, plant, bodies=by_plant[plant])
    by_supplier = _grouped((body.supplier, body) for body in bodies)
    for supplier in _keys_meant(word, {each.key: each.name for each in trade.suppliers}):
        keys = by_supplier.get(supplier, ())
        yield Subject(SubjectKind.SUPPLIER, supplier, bodies=keys)


def _of_days(word: str, trade: Trade, bodies: list[Body]) -> Iterator[Subject]:
    try:
        day = date.fromisoformat(word.strip())
    except ValueError:
        return
    killed = tuple(body.key for body in bodies if body.killed_on == day)
    received = tuple(
        body.key for body in bodies if business_day(body.received_at, trade.shop) == day
    )
    if killed:
        yield Subject(SubjectKind.KILLED_ON, day.isoformat(), bodies=killed)
    if received:
        yield Subject(SubjectKind.RECEIVED_ON, day.isoformat(), bodies=received)


def _of_ingredients(word: str, trade: Trade, known: Known) -> Iterator[Subject]:
    stages = {stage.key for stage in trade.stages}
    lots: dict[tuple[str, str], list[tuple[str, str]]] = defaultdict(list)
    for row in sorted(known.lots, key=lambda row: (row.stage, row.key)):
        if row.stage in stages:
            lots[row.key, row.lot].append((row.stage, row.key))
    meant = _meant(word, {lot for _, lot in lots})
    for ingredient, lot in sorted(lots):
        if lot in meant:
            added = tuple(lots[ingredient, lot])
            yield Subject(SubjectKind.INGREDIENT_LOT, lot, added=added, of=ingredient)
    used: dict[str, list[tuple[str, str]]] = defaultdict(list)
    for taken in sorted(trade.inputs):
        if taken.source is Source.INGREDIENT:
            used[taken.key].append((taken.stage, taken.key))
    names = {key: key for key in used} | {each.key: each.name for each in known.ingredients}
    for key in _keys_meant(word, names):
        yield Subject(SubjectKind.INGREDIENT, key, added=tuple(used.get(key, ())))


def _keys_meant(word: str, names: Mapping[str, str]) -> list[str]:
    """Keys that are meant by themselves or by their names."""
    by_key, by_name = _meant(word, names), _meant(word, names.values())
    return sorted(key for key, name in names.items() if key in by_key or name in by_name)


def _grouped(pairs: Iterable[tuple[Named, Body]]) -> dict[Named, tuple[str, ...]]:
    groups: dict[Named, list[str]] = defaultdict(list)
    for name, body in pairs:
        groups[name].append(body.key)
    return {name: tuple(keys) for name, keys in groups.items()}
