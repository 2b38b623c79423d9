"""The second pass of a review: follow weight from bodies through pieces, and find circles."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Set
from dataclasses import replace

from gambrel.domain.costing.takes import input_key, settle
from gambrel.domain.refusals import Problem
from gambrel.domain.trade.records import Input, Source, Trade
from gambrel.domain.trade.rows import RowKey, row_key


def flow_problems(trade: Trade, bad: Mapping[str, Set[RowKey]]) -> list[Problem]:
    """Takes that cannot be, and stages that take each other's pieces in a circle.

    Args:
        trade: A whole trade.
        bad: Keys of rows that are not sound, by table. They are left out together with the inputs
            that hang on them; leaving an input out only leaves more for the others.
    """
    sound = _sound_part(trade, bad)
    return settle(sound).problems + _circles(sound)


def _sound_part(trade: Trade, bad: Mapping[str, Set[RowKey]]) -> Trade:
    def kept(table: str) -> Set[RowKey]:
        return bad.get(table, frozenset())

    bodies = tuple(body for body in trade.bodies if (body.key,) not in kept("bodies"))
    stages = tuple(stage for stage in trade.stages if (stage.key,) not in kept("stages"))
    pieces = tuple(piece for piece in trade.pieces if (piece.key,) not in kept("pieces"))
    body_keys = {body.key for body in bodies}
    stage_keys = {stage.key for stage in stages}
    piece_keys = {piece.key for piece in pieces}

    def stands(row: Input) -> bool:
        if row.stage not in stage_keys or row_key(row) in kept("inputs"):
            return False
        if row.source is Source.BODY:
            return row.key in body_keys
        return row.source is Source.INGREDIENT or row.key in piece_keys

    return replace(
        trade,
        bodies=bodies,
        stages=stages,
        pieces=pieces,
        inputs=tuple(row for row in trade.inputs if stands(row)),
        reweighs=tuple(r for r in trade.reweighs if row_key(r) not in kept("reweighs")),
        writeoffs=tuple(w for w in trade.writeoffs if row_key(w) not in kept("writeoffs")),
    )


def _circles(trade: Trade) -> list[Problem]:
    """Each input by which a stage takes what is made, in the end, of its own pieces."""
    made_by = {piece.key: piece.stage for piece in trade.pieces}
    steps = [
        (made_by[row.key], row.stage, row) for row in trade.inputs if row.source is Source.PIECE
    ]
    circle_of = _circles_by_stage({(maker, taker) for maker, taker, _ in steps})
    problems = []
    for maker, taker, row in steps:
        circle = circle_of.get(taker, frozenset())
        if maker == taker:
            message = f"{taker} takes its own piece, expected a piece of another stage"
        elif maker in circle:
            names = ", ".join(sorted(circle))
            message = f"{names} take each other's pieces in a circle, expected one to come first"
        else:
            continue
        problems.append(Problem("inputs", input_key(row), "piece", message))
    return problems


def _circles_by_stage(edges: Set[tuple[str, str]]) -> dict[str, frozenset[str]]:
    """Stages that feed each other, together; a stage that feeds nobody back stands alone.

    Source: strongly connected components by two depth-first walks (Kosaraju), from memory.
    """
    takers, makers = defaultdict(list), defaultdict(list)
    for maker, taker in edges:
        takers[maker].append(taker)
        makers[taker].append(maker)
    finished: list[str] = []
    seen: set[str] = set()
    for stage in {stage for edge in edges for stage in edge}:
        finished += _walk(stage, takers, seen)
    circle_of: dict[str, frozenset[str]] = {}
    seen = set()
    for stage in reversed(finished):
        circle = frozenset(_walk(stage, makers, seen))
        circle_of.update(dict.fromkeys(circle, circle))
    return circle_of


def _walk(start: str, steps: Mapping[str, list[str]], seen: set[str]) -> list[str]:
    """What is reached from a stage and was not seen, each after all that it leads to."""
    if start in seen:
        return []
    seen.add(start)
    finished: list[str] = []
    way = [(start, iter(steps.get(start, ())))]
    while way:
        stage, further = way[-1]
        for following in further:
            if following not in seen:
                seen.add(following)
                way.append((following, iter(steps.get(following, ()))))
                break
        else:
            finished.append(stage)
            way.pop()
    return finished
