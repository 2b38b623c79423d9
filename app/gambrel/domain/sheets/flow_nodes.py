"""A money flow as few enough nodes to be drawn: in order, the small ones put together by name."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise

from gambrel.domain.drawing.flow_layout import Link
from gambrel.domain.numbers.money import round_half_up
from gambrel.domain.sheets.money_flow import Level, MoneyFlow, Spot, SpotKind, at
from gambrel.domain.trade.catalogue import CutKind
from gambrel.domain.trade.formats import Formats

LEVELS = tuple(Level)

_PORTIONS, _COSTS, _CUTS, _BLENDS = "portions", "costs", "cuts", "blends"
_STANDING, _LOST = "standing", "lost"

_FAMILIES = {
    Level.SOURCE: {
        SpotKind.BODY: _PORTIONS,
        **dict.fromkeys(
            (
                SpotKind.BEFORE,
                SpotKind.BOUGHT_IN,
                SpotKind.WORK,
                SpotKind.FINISH,
                SpotKind.FEES,
                SpotKind.SURPLUS,
            ),
            _COSTS,
        ),
    },
    Level.MIDDLE: {SpotKind.CUT: _CUTS},
    Level.END: {
        SpotKind.BLEND: _BLENDS,
        **dict.fromkeys((SpotKind.TRIM, SpotKind.BLOCK), _STANDING),
        **dict.fromkeys((SpotKind.STRANDED, SpotKind.THROWN, SpotKind.LOSS), _LOST),
    },
}
"""What may be put together with its like where there are too many."""

_NAMES = {
    _STANDING: "Still standing",
    _LOST: "Lost or thrown away",
}
"""Families that have a name of their own; others are "12 other cuts"."""

_PASSING = {SpotKind.BLOCK, SpotKind.STRANDED, SpotKind.LOSS}
"""Middles of what was never cut."""

NOT_CUT, ADDED = "Lost or not cut yet", "Added later"
"""Names of the middles that stand for no cut: always one of each at most."""

_ORDER = {kind: place for place, kind in enumerate(SpotKind)}

_COLOURS = {
    SpotKind.BODY: "weighed",
    SpotKind.TRAY: "tray",
    SpotKind.BLEND: "trim",
    SpotKind.TRIM: "trim",
    SpotKind.CREDIT: "byproduct",
    SpotKind.BLOCK: "waste",
    SpotKind.STRANDED: "waste",
    SpotKind.THROWN: "stop",
    SpotKind.LOSS: "loss",
}


RIBBONS = {"loss": "stop", "waste": "byproduct"}
"""Colours that are too near to the paper for a pale ribbon, and what it takes instead."""


@dataclass(frozen=True, slots=True)
class FlowNode:
    """One spot, or several small ones together. ``money`` is minor units.

    ``colour`` is a role of the tokens or a kind of cut.
    """

    spots: tuple[Spot, ...]
    name: str
    money: int
    colour: str


@dataclass(frozen=True, slots=True)
class FlowColumns:
    """Sources, cuts and ends from top to bottom, and what goes between them."""

    columns: tuple[tuple[FlowNode, ...], ...]
    links: tuple[Link, ...]

    @property
    def counts(self) -> tuple[int, ...]:
        """How many nodes each column has."""
        return tuple(len(column) for column in self.columns)


def flow_share(money: int, total: int, formats: Formats) -> str:
    """A part of all the money, with a decimal where it is small."""
    part = Decimal(money) / total
    if part < Decimal("0.0005"):
        return f"under {formats.percent(Decimal('0.001'))}"
    return formats.percent(part, 0 if part >= Decimal("0.01") else 1)


def flow_columns(flow: MoneyFlow, most: int) -> FlowColumns:
    """Put a flow's spots into nodes.

    Args:
        flow: A week's money.
        most: How many nodes each column may have; with fewer than five there may be more.
    """
    source, middle, end = LEVELS
    ends = _fewer(_single(flow, end), end, most)
    cuts = [node for node in _single(flow, middle) if node.spots[0].kind is SpotKind.CUT]
    passing = _passing(flow)
    middles = [*_fewer(cuts, middle, max(most - len(passing), 1)), *passing]
    columns = [
        _fewer(_single(flow, source), source, most),
        _by_where_they_go(flow, middles, ends),
        ends,
    ]
    places = [
        {spot: number for number, node in enumerate(column) for spot in node.spots}
        for column in columns
    ]
    sums: dict[tuple[int, int, int], int] = {}
    for way, money in flow.ways.items():
        for side, (left, right) in enumerate(pairwise(LEVELS)):
            pair = side, places[side][at(way, left)], places[side + 1][at(way, right)]
            sums[pair] = sums.get(pair, 0) + money
    links = tuple(Link(*pair, money) for pair, money in sorted(sums.items()))
    return FlowColumns(tuple(tuple(column) for column in columns), links)


def _single(flow: MoneyFlow, level: Level) -> list[FlowNode]:
    """A node for every spot of a level, by kind, the most money first."""
    amounts = flow.amounts(level)
    spots = sorted(amounts, key=lambda spot: (_ORDER[spot.kind], -amounts[spot], spot.key))
    return [
        FlowNode((spot,), flow.name(spot), amounts[spot], _colour(flow, spot)) for spot in spots
    ]


def _passing(flow: MoneyFlow) -> list[FlowNode]:
    """What passes the middle without being a cut: what was added to blends, what was never cut."""
    single = [
        node for node in _single(flow, Level.MIDDLE) if node.spots[0].kind is not SpotKind.CUT
    ]
    never = [node for node in single if node.spots[0].kind in _PASSING]
    added = [node for node in single if node not in never]
    return [_joined(nodes, name) for nodes, name in ((added, ADDED), (never, NOT_CUT)) if nodes]


def _fewer(nodes: list[FlowNode], level: Level, most: int) -> list[FlowNode]:
    """Put the smallest nodes together with the small ones of their family until they are few."""
    families = _FAMILIES[level]
    small: dict[str, list[FlowNode]] = {}
    alone = list(nodes)
    while len(alone) + len(small) > most:
        family_of = {node: families.get(node.spots[0].kind, "") for node in alone}
        sizes = Counter(family_of.values())
        may = [
            node
            for node in alone
            if (family := family_of[node]) and sizes[family] + (family in small) > 1
        ]
        if not may:
            break
        least = min(may, key=lambda node: (node.money, node.spots))
        small.setdefault(family_of[least], []).append(least)
        alone.remove(least)
    for family, members in small.items():
        place = [n for n, node in enumerate(alone) if families.get(node.spots[0].kind) == family]
        many = f"{len(members)} {'other ' if place else ''}{family}"
        joined = _joined(members, _NAMES.get(family) or many)
        after = place[-1] + 1 if place else _place_for(alone, joined)
        alone.insert(after, joined)
    return alone


def _place_for(nodes: list[FlowNode], joined: FlowNode) -> int:
    """Where a family stands of which no member is left alone."""
    order = min(_ORDER[spot.kind] for spot in joined.spots)
    return sum(_ORDER[node.spots[0].kind] < order for node in nodes)


def _joined(members: list[FlowNode], name: str) -> FlowNode:
    """Several nodes as one, in the colour of most of the money; one alone keeps its name."""
    if len(members) == 1:
        return members[0]
    order = sorted(members, key=lambda node: -node.money)
    by_colour: Counter[str] = Counter()
    for node in order:
        by_colour[node.colour] += node.money
    spots = tuple(spot for node in order for spot in node.spots)
    [(colour, _)] = by_colour.most_common(1)
    return FlowNode(spots, name, by_colour.total(), colour)


def _colour(flow: MoneyFlow, spot: Spot) -> str:
    if spot.kind is SpotKind.CUT:
        return CutKind(flow.cut_kinds[spot.key]).value
    return _COLOURS.get(spot.kind, "edge")


def _by_where_they_go(
    flow: MoneyFlow, middles: list[FlowNode], ends: list[FlowNode]
) -> list[FlowNode]:
    """Cuts in the order of where they end, so that few ribbons cross; the most money first."""
    place = {spot: number for number, node in enumerate(ends) for spot in node.spots}
    heights: dict[Spot, list[int]] = {}
    for way, money in flow.ways.items():
        sums = heights.setdefault(way.middle, [0, 0])
        sums[0] += place[way.end] * money
        sums[1] += money

    def key(node: FlowNode) -> tuple[int, bool, int]:
        above = sum(heights[spot][0] for spot in node.spots)
        return round_half_up(above, node.money), len(node.spots) > 1, -node.money

    return sorted(middles, key=key)
