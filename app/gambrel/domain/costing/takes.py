"""What each stage really took: grams of bodies and pieces, and what is left of each.

Stages are walked in the order in which they started. "All that is left" is settled here, once,
for the costing, for the rail and for every paper.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from operator import attrgetter
from typing import NamedTuple

from gambrel.domain.numbers.apportion import apportion
from gambrel.domain.numbers.mass import kg_text
from gambrel.domain.refusals import Problem
from gambrel.domain.trade.records import (
    Body,
    Input,
    Piece,
    Reweigh,
    Source,
    Stage,
    Trade,
    WriteOff,
    body_order,
    stage_order,
)

Wanted = defaultdict[str, list[Input]]
"""What stages want of each body, or of each piece, in the order in which they started."""


class Take(NamedTuple):
    """Grams that one stage took of one body or piece, and for a body what they cost."""

    stage: str
    source: Source
    key: str
    grams: int
    cost: int = 0


@dataclass(slots=True)
class BodyFate:
    """How a body's weight and money went: to stages, to the air, and what still hangs."""

    body: Body
    takes: list[Take] = field(default_factory=list)
    hang_loss_g: int = 0
    left_g: int = 0
    left_cost: int = 0


@dataclass(slots=True)
class Flow:
    """All takes of a trade, settled; ``problems`` is empty where every take was possible.

    ``taken_of`` has the takes of ``by_piece`` again, piece by piece under the stage that made them.
    """

    by_stage: dict[str, list[Take]] = field(default_factory=lambda: defaultdict(list))
    by_piece: dict[str, list[Take]] = field(default_factory=lambda: defaultdict(list))
    taken_of: dict[str, dict[str, list[Take]]] = field(default_factory=lambda: defaultdict(dict))
    bodies: dict[str, BodyFate] = field(default_factory=dict)
    ingredients: dict[str, list[Input]] = field(default_factory=lambda: defaultdict(list))
    problems: list[Problem] = field(default_factory=list)


def settle(trade: Trade) -> Flow:
    """Work out every take of a trade."""
    flow = Flow()
    stages = {stage.key: stage for stage in trade.stages}
    of_bodies: Wanted = defaultdict(list)
    of_pieces: Wanted = defaultdict(list)
    for row in _in_order_of_work(trade):
        if row.source is Source.PIECE:
            of_pieces[row.key].append(row)
        elif row.source is Source.BODY:
            of_bodies[row.key].append(row)
        else:
            flow.ingredients[row.stage].append(row)
    _settle_bodies(trade, stages, of_bodies, flow)
    _settle_pieces(trade, stages, of_pieces, flow)
    return flow


def _in_order_of_work(trade: Trade) -> Iterator[Input]:
    """Every input, stage by stage as they started; within one by source and key."""
    by_stage: dict[str, list[Input]] = defaultdict(list)
    for row in trade.inputs:
        by_stage[row.stage].append(row)
    order = {stage.key: n for n, stage in enumerate(sorted(trade.stages, key=stage_order))}
    for stage in sorted(by_stage, key=lambda stage: order.get(stage, -1)):
        yield from sorted(by_stage[stage], key=attrgetter("source", "key"))


def _settle_bodies(trade: Trade, stages: dict[str, Stage], wanted: Wanted, flow: Flow) -> None:
    reweighs: dict[str, list[Reweigh]] = defaultdict(list)
    for reweigh in sorted(trade.reweighs, key=lambda reweigh: reweigh.at):
        reweighs[reweigh.body].append(reweigh)
    for body in sorted(trade.bodies, key=body_order):
        rows = wanted.get(body.key, [])
        fate = _BodyWalk(body, flow.problems).walk(reweighs[body.key], rows, stages)
        flow.bodies[body.key] = fate
        for take in fate.takes:
            flow.by_stage[take.stage].append(take)


class _BodyWalk:
    """One body through time. Between two weighings its money is shared by grams taken and left."""

    def __init__(self, body: Body, problems: list[Problem]) -> None:
        self._body = body
        self._problems = problems
        self._left = body.received_g
        self._money = body.bought
        self._pending: list[tuple[str, int]] = []
        self._fate = BodyFate(body)

    def walk(
        self, reweighs: list[Reweigh], rows: list[Input], stages: dict[str, Stage]
    ) -> BodyFate:
        later = list(reweighs)
        for row in rows:
            started = stages[row.stage].started_at
            if started < self._body.received_at:
                self._refuse(row, f"{self._body.key} had not been received when it started")
            while later and later[0].at <= started:
                self._reweigh(later.pop(0))
            self._take(row)
        for reweigh in later:
            self._reweigh(reweigh)
        self._share()
        self._fate.left_g, self._fate.left_cost = self._left, self._money
        return self._fate

    def _take(self, row: Input) -> None:
        grams = self._left if row.grams is None else row.grams
        if grams > self._left or not grams:
            self._refuse(row, _overtaken(self._body.key, grams, self._left))
            return
        self._left -= grams
        self._pending.append((row.stage, grams))

    def _reweigh(self, reweigh: Reweigh) -> None:
        if not self._left:
            where = (self._body.key, reweigh.at.isoformat())
            message = f"nothing of {self._body.key} was left to weigh; take this reweigh out"
            self._problems.append(Problem("reweighs", where, "kg", message))
            return
        self._share()
        self._fate.hang_loss_g += self._left - reweigh.grams
        self._left = reweigh.grams

    def _share(self) -> None:
        if not self._pending:
            return
        parts = apportion(self._money, [grams for _, grams in self._pending] + [self._left])
        for (stage, grams), cost in zip(self._pending, parts, strict=False):
            self._fate.takes.append(Take(stage, Source.BODY, self._body.key, grams, cost))
        self._money = parts[-1]
        self._pending = []

    def _refuse(self, row: Input, message: str) -> None:
        self._problems.append(Problem("inputs", input_key(row), "kg", message))


def _settle_pieces(trade: Trade, stages: dict[str, Stage], wanted: Wanted, flow: Flow) -> None:
    writeoffs: dict[str, list[WriteOff]] = defaultdict(list)
    for writeoff in sorted(trade.writeoffs, key=lambda writeoff: writeoff.at):
        writeoffs[writeoff.piece].append(writeoff)
    asked = wanted.keys() | writeoffs.keys() if writeoffs else wanted
    pieces = {piece.key: piece for piece in trade.pieces if piece.key in asked}
    voided = trade.voided
    for key, rows in wanted.items():
        piece = pieces.get(key)
        if piece is None:
            continue
        if key in voided:
            message = f"piece {key} was taken back (void); take the input out or weigh it again"
            flow.problems.extend(Problem("inputs", input_key(r), "piece", message) for r in rows)
            continue
        _settle_piece(piece, rows, writeoffs.pop(key, []), stages, flow)
    for key, thrown in writeoffs.items():
        if key in pieces:
            _throw(pieces[key], thrown, pieces[key].net_g, flow)


def _settle_piece(
    piece: Piece,
    rows: list[Input],
    thrown: list[WriteOff],
    stages: dict[str, Stage],
    flow: Flow,
) -> None:
    left = piece.gross_g - piece.tare_g
    takes: list[Take] = []
    for row in rows:
        taker, source, key, grams, _ = row
        if thrown:
            started = stages[taker].started_at
            before = [writeoff for writeoff in thrown if writeoff.at <= started]
            left = _throw(piece, before, left, flow)
            thrown = thrown[len(before) :]
        if grams is None:
            grams = left
        if grams > left or not grams:
            message = _overtaken(f"piece {key}", grams, left)
            flow.problems.append(Problem("inputs", input_key(row), "kg", message))
            continue
        left -= grams
        take = Take(taker, source, key, grams)
        flow.by_stage[taker].append(take)
        takes.append(take)
    if takes:
        flow.by_piece[piece.key] = takes
        flow.taken_of[piece.stage][piece.key] = takes
    if thrown:
        _throw(piece, thrown, left, flow)


def _throw(piece: Piece, thrown: list[WriteOff], left: int, flow: Flow) -> int:
    for writeoff in thrown:
        if writeoff.grams > left:
            message = _overtaken(f"piece {piece.key}", writeoff.grams, left)
            where = (piece.key, writeoff.at.isoformat())
            flow.problems.append(Problem("writeoffs", where, "kg", message))
        else:
            left -= writeoff.grams
    return left


def _overtaken(what: str, wanted: int, left: int) -> str:
    if not left:
        return f"nothing is left of {what}; take something else or less earlier"
    return f"{kg_text(wanted)} kg of {what} is wanted, but only {kg_text(left)} kg is left"


def input_key(row: Input) -> tuple[str, ...]:
    """How a problem names an input: its stage, what kind of source, and which."""
    return row.stage, row.source.value, row.key


def grams_gone(trade: Trade) -> defaultdict[str, int]:
    """What stages took and people threw away of each piece, in grams; zero for all others."""
    gone: defaultdict[str, int] = defaultdict(int)
    for key, takes in settle(trade).by_piece.items():
        gone[key] += sum(take.grams for take in takes)
    for row in trade.writeoffs:
        gone[row.piece] += row.grams
    return gone
