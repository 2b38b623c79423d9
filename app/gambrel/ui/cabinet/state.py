"""What the Cabinet's lines show, as texts and flags. Pure: no Qt."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from gambrel.domain.costing.methods import Method
from gambrel.domain.prices.cabinet import Cabinet, CabinetLine, LineState
from gambrel.domain.prices.special_days import last_day
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.formats import DASH, Formats, short_day

ALL = "all"
"""The filter that lets every line pass; others are a species or a state's word."""

MEANINGS = {
    LineState.BELOW_COST: "stop",
    LineState.THIN: "watch",
    LineState.FINE: "fine",
    LineState.NO_PRICE: "info",
    LineState.NOT_CUT: "info",
}
"""The theme's meaning of each state."""

MAY_STILL_PAY = "may still pay"
"""Beside a loss by weight: the panel of that cut says what dropping it would do."""

METHOD_WORDS = {
    Method.WEIGHT: "by weight",
    Method.SALES_VALUE: "by sales value",
    Method.NRV: "by net realisable value",
    Method.CONSTANT_MARGIN: "at one margin for all",
}

Costs = Mapping[Method, Mapping[str, Decimal] | None]
"""Each cut's cost per kilo by every method; None where a method lacks a price."""


@dataclass(frozen=True, slots=True)
class RowState:
    """One line of the table. ``words`` tells all of it to who hears instead of sees.

    ``note`` stands small under the name, ``was`` under the price. ``costs`` are those of all four
    methods, empty while they are not asked for. ``history`` are the prices so far; a price that
    never changed stands twice, as a level line.
    """

    key: str
    name: str
    note: str
    kilos: str
    cost: str
    costs: tuple[str, ...]
    price: str
    was: str
    margin: str
    mark_up: str
    norm: str
    word: str
    meaning: str
    history: tuple[int, ...]
    words: str


@dataclass(frozen=True, slots=True)
class Chip:
    """One filter: what it lets pass, and what stands on it."""

    key: str
    text: str


def rows_of(
    cabinet: Cabinet,
    formats: Formats,
    wanted: str = ALL,
    search: str = "",
    costs: Costs | None = None,
) -> tuple[RowState, ...]:
    """The lines that pass a filter and a search, in the order of the trays."""
    sought = search.casefold().strip()
    return tuple(
        _row(cabinet, line, formats, costs)
        for line in cabinet.lines
        if wanted in (ALL, line.cut.species, line.state.value)
        and (sought in line.cut.name.casefold() or sought == line.cut.plu)
    )


def _row(
    cabinet: Cabinet, line: CabinetLine, formats: Formats, costs: Costs | None
) -> RowState:  # fmt: skip
    kilos = f"{formats.kg(line.grams, 2)} kg" if line.grams else DASH
    cost, price = formats.per_kilo(line.cost), formats.money(line.price)
    share, norm = formats.percent(line.margin), formats.percent(line.month_margin)
    mark_up = "" if line.mark_up is None else f"mark-up {formats.percent(line.mark_up, 0)}"
    prices = tuple(price for _since, price in line.history)
    four = _four(line, formats, costs)
    note = special_note(cabinet, line)
    if not note and cabinet.method is Method.WEIGHT and line.state is LineState.BELOW_COST:
        note = MAY_STILL_PAY
    side = ", ".join(
        f"{text} {METHOD_WORDS[method]}" for method, text in zip(Method, four, strict=False)
    )
    return RowState(
        key=line.cut.key,
        name=line.cut.name,
        note=note,
        kilos=kilos,
        cost=cost,
        costs=four,
        price=price,
        was=was_text(cabinet, line, formats),
        margin=share,
        mark_up=mark_up,
        norm=norm,
        word=line.state.value,
        meaning=MEANINGS[line.state],
        history=prices if len(prices) > 1 else prices * 2,
        words=f"{line.cut.name}: cost {side or cost}, price {price} a kilo, margin {share}, "
        f"mark-up {formats.percent(line.mark_up)}, earned {norm} in four weeks, "
        f"{line.state.value}, {kilos} in four weeks{f', {note}' if note else ''}",
    )


def _four(line: CabinetLine, formats: Formats, costs: Costs | None) -> tuple[str, ...]:
    if costs is None:
        return ()
    found = (costs.get(method) for method in Method)
    return tuple(formats.per_kilo((each or {}).get(line.cut.key)) for each in found)


def special_note(cabinet: Cabinet, line: CabinetLine) -> str:
    """That a special runs or is to come, and until when; empty where none does."""
    special = line.special
    if special is None:
        return ""
    if special.since > cabinet.at:
        return f"special from {short_day(business_day(special.since, cabinet.shop))}"
    last = last_day(special, cabinet.shop)
    return "special, no end set" if last is None else f"special until {short_day(last)}"


def was_text(cabinet: Cabinet, line: CabinetLine, formats: Formats) -> str:
    """What was asked before a special that runs; empty where none does."""
    if not line.on_special(cabinet.at) or len(line.history) < 2:
        return ""
    return f"was {formats.money(line.history[-2][1])}"


def chips_of(cabinet: Cabinet) -> tuple[Chip, ...]:
    """Filters that would show something: all, each species, each state that wants a look."""
    species = dict.fromkeys(line.cut.species for line in cabinet.lines)
    chips = [Chip(ALL, "All"), *(Chip(kind, kind.capitalize()) for kind in species if kind)]
    for state in (LineState.BELOW_COST, LineState.THIN, LineState.NO_PRICE):
        count = sum(line.state is state for line in cabinet.lines)
        if count:
            chips.append(Chip(state.value, f"{state.value.capitalize()} {count}"))
    return tuple(chips)


def footer_of(cabinet: Cabinet) -> str:
    """What the figures are of."""
    how = "weight" if cabinet.method is Method.WEIGHT else "value"
    count = f" ({cabinet.left_out})" if cabinet.left_out > 1 else ""
    left = f" Open work is left out{count}." if cabinet.left_out else ""
    return cabinet.note or f"Cost of the last four weeks, shared by {how}.{left}"
