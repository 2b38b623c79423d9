"""The ways that meat took through the shop's stages, to be walked back and forward."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Collection, Iterable
from itertools import chain

from gambrel.domain.costing.order import stages_in_order
from gambrel.domain.costing.takes import Flow, Take, settle
from gambrel.domain.review.trace_keys import Subject
from gambrel.domain.trade.records import Input, Piece, Source, Stage, Trade, WriteOff


class Ways:
    """A trade looked up from stage to stage, gathered once.

    A piece that was taken back (void) stands on no way: no stage made it, none can have taken it. A
    take that cannot be (of more than was left) weighs nothing here, and yet it is followed: in a
    recall a stage too many does less harm than one too few. ``flow.problems`` has such takes.
    """

    def __init__(self, trade: Trade) -> None:
        self.trade = trade
        self.flow = _followed(trade)
        self.order = stages_in_order(trade, self.flow)
        self.pieces = {piece.key: piece for piece in trade.pieces}
        self.made: dict[str, list[Piece]] = defaultdict(list)
        for piece in trade.standing:
            self.made[piece.stage].append(piece)
        self.thrown: dict[str, list[WriteOff]] = defaultdict(list)
        for row in sorted(trade.writeoffs, key=lambda row: (row.at, row.grams, row.reason)):
            self.thrown[row.piece].append(row)

    def takes(self, stage: str) -> list[Take]:
        """What a stage took of bodies and pieces."""
        return self.flow.by_stage.get(stage, [])

    def added(self, stage: str) -> list[Input]:
        """The ingredients that a stage took."""
        return self.flow.ingredients.get(stage, [])

    def taken_of(self, piece: str) -> list[Take]:
        """What stages took of a piece, in the order in which they started."""
        return self.flow.by_piece.get(piece, [])

    def input_g(self, stage: str) -> int:
        """Grams of bodies, pieces and ingredients that went into a stage."""
        ingredients = sum(row.grams or 0 for row in self.added(stage))
        return sum(take.grams for take in self.takes(stage)) + ingredients

    def before(self, subject: Subject) -> list[Stage]:
        """The stages that something came through, makers first; itself if it is one."""
        ends = {*subject.stages, *(self.pieces[key].stage for key in subject.pieces)}
        return self._walked(ends, self._makers)

    def after(self, subject: Subject) -> list[Stage]:
        """The stages that took of something, makers first; itself if it is one."""
        first = {*subject.stages, *(stage for stage, _ in subject.added)}
        for body in subject.bodies:
            first |= {take.stage for take in self.flow.bodies[body].takes}
        for piece in subject.pieces:
            first |= {take.stage for take in self.taken_of(piece)}
        return self._walked(first, self._takers)

    def _makers(self, stage: str) -> Iterable[str]:
        return (
            self.pieces[take.key].stage for take in self.takes(stage) if take.source is Source.PIECE
        )

    def _takers(self, stage: str) -> Iterable[str]:
        return (take.stage for piece in self.made[stage] for take in self.taken_of(piece.key))

    def _walked(
        self, starts: Collection[str], further: Callable[[str], Iterable[str]]
    ) -> list[Stage]:
        found, edge = set(starts), list(starts)
        while edge:
            for stage in further(edge.pop()):
                if stage not in found:
                    found.add(stage)
                    edge.append(stage)
        return [stage for stage in self.order if stage.key in found]


def _followed(trade: Trade) -> Flow:
    """All takes of a trade, and without weight those that cannot be as they are written."""
    flow = settle(trade)
    if not flow.problems:
        return flow
    settled = {(take.stage, take.source, take.key) for take in chain(*flow.by_stage.values())}
    standing = {piece.key for piece in trade.standing}
    for row in sorted(trade.inputs, key=lambda row: (row.stage, row.source, row.key)):
        take = Take(row.stage, row.source, row.key, 0)
        if (row.stage, row.source, row.key) in settled:
            continue
        if row.source is Source.BODY and row.key in flow.bodies:
            flow.bodies[row.key].takes.append(take)
        elif row.source is Source.PIECE and row.key in standing:
            flow.by_piece[row.key].append(take)
        else:
            continue
        flow.by_stage[row.stage].append(take)
    return flow
