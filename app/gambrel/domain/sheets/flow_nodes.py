"""A money flow as few enough nodes to be drawn: in order, the small ones put together by name."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from gambrel.domain.drawing.flow_layout import Link
from gambrel.domain.numbers.money import round_half_up
from gambrel.domain.sheets.money_flow import Level, MoneyFlow, Spot, SpotKind, at
from gambrel.domain.trade.catalogue import CutKind

LEVELS = tuple(Level)

TOGETHER = {SpotKind.BODY: "portions", SpotKind.CUT: "cuts", SpotKind.BLEND: "blends"}
"""Of these there may be many, so small ones become "12 other cuts"."""

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


def flow_columns(flow: MoneyFlow, most: Sequence[int]) -> FlowColumns:
    """Put a flow's spots into nodes.

    Args:
        flow: A week's money.
        most: How many nodes each level may have; kinds of which there is one are never put
            together, so there may be more.
    """
    columns = [_column(flow, level, count) for level, count in zip(LEVELS, most, strict=True)]
    columns[1] = _by_where_they_go(flow, columns[1], columns[2])
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


def _column(flow: MoneyFlow, level: Level, most: int) -> list[FlowNode]:
    amounts = flow.amounts(level)
    spots = sorted(amounts, key=lambda spot: (_ORDER[spot.kind], -amounts[spot], spot.key))
    over = len(spots) - most
    small: list[Spot] = []
    if over > 0:
        many = [spot for spot in spots if spot.kind in TOGETHER]
        small = sorted(many, key=lambda spot: amounts[spot])[: over + 1]
    nodes: list[FlowNode] = []
    for kind in SpotKind:
        nodes += [
            FlowNode((spot,), flow.name(spot), amounts[spot], _colour(flow, spot))
            for spot in spots
            if spot.kind is kind and (spot not in small or len(small) < 2)
        ]
        rest = tuple(spot for spot in spots if spot.kind is kind and spot in small)
        if len(small) >= 2 and rest:
            nodes.append(_together(flow, rest, sum(amounts[spot] for spot in rest)))
    return nodes


def _together(flow: MoneyFlow, spots: tuple[Spot, ...], money: int) -> FlowNode:
    first = spots[0]
    if len(spots) == 1:
        return FlowNode(spots, flow.name(first), money, _colour(flow, first))
    name = f"{len(spots)} other {TOGETHER[first.kind]}"
    colours = {_colour(flow, spot) for spot in spots}
    return FlowNode(spots, name, money, colours.pop() if len(colours) == 1 else "edge")


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
