"""A trace: from something that a word names back to the dockets, and forward to the trays.

The frame in the law, for information and not as advice: a food business must be able to say who
supplied it and which businesses it supplied ("one step back, one step forward"), article 18 of
Regulation (EC) 178/2002, as recitals 1 to 3 of Implementing Regulation (EU) 931/2011 tell it; that
regulation's article 3 wants for food of animal origin what it is, how much, from whom, to whom, the
lot and the day. Who buys over the counter need not be known (the British food authority's training
on traceability, module 2). What happens to meat inside a shop is not prescribed; it is what makes a
recall small.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from gambrel.domain.costing.takes import BodyFate, Take
from gambrel.domain.review.trace_keys import Subject
from gambrel.domain.review.trace_ways import Ways
from gambrel.domain.review.trace_weights import (
    Balance,
    Grams,
    Spread,
    in_grams,
    share_percent,
    spread,
)
from gambrel.domain.trade.catalogue import CutKind
from gambrel.domain.trade.records import (
    Input,
    Piece,
    Source,
    Stage,
    Void,
    WriteOff,
    body_order,
    pieces_in_order,
    stage_order,
)


@dataclass(frozen=True, slots=True)
class TracedStage:
    """A stage on the way: what it took, and on the way forward how much of that is traced.

    ``input_g`` is all that went in; ``takes`` and ``added`` are all of it on the way back, what is
    traced on the way forward.
    """

    stage: Stage
    takes: tuple[Take, ...]
    added: tuple[Input, ...]
    input_g: int
    share_percent: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True)
class TracedPiece:
    """A piece that holds, or may hold, something of what is traced. Weights are grams.

    ``left_g`` is what no stage took and nobody wrote off; a shop's sales are not in its book.
    ``traced_left_g`` and ``traced_off_g`` are how much of it is traced, by calculation.
    """

    piece: Piece
    kind: CutKind
    takes: tuple[Take, ...]
    written_off: tuple[WriteOff, ...]
    left_g: int
    share_percent: Decimal
    traced_left_g: int
    traced_off_g: int

    @property
    def taken_g(self) -> int:
        """Grams that stages took."""
        return sum(take.grams for take in self.takes)

    @property
    def stands_at_end(self) -> bool:
        """Whether a stage did not take the whole of it."""
        return self.taken_g < self.piece.net_g

    @property
    def written_off_g(self) -> int:
        """Grams thrown away."""
        return sum(row.grams for row in self.written_off)


@dataclass(frozen=True, slots=True)
class TakenBack:
    """A weighing at a traced stage that was taken back; it holds nothing, but may bear a label."""

    piece: Piece
    void: Void


@dataclass(frozen=True, slots=True)
class Back:
    """All that went into something: bodies, stages, and the pieces between them, oldest first."""

    bodies: tuple[BodyFate, ...]
    stages: tuple[TracedStage, ...]
    pieces: tuple[Piece, ...]
    added: tuple[Input, ...]


@dataclass(frozen=True, slots=True)
class Forward:
    """All that took of something: stages, and every piece that they made, oldest first."""

    stages: tuple[TracedStage, ...]
    pieces: tuple[TracedPiece, ...]
    taken_back: tuple[TakenBack, ...]

    @property
    def ends(self) -> list[TracedPiece]:
        """The pieces that no stage took the whole of."""
        return [each for each in self.pieces if each.stands_at_end]


@dataclass(frozen=True, slots=True)
class Trace:
    """One subject with its ways back and forward, and the balance of its weight.

    ``at_end_g`` parts the balance's weight at the end by kind of cut.
    """

    subject: Subject
    back: Back
    forward: Forward
    balance: Balance
    at_end_g: Mapping[CutKind, int]


def trace(ways: Ways, subject: Subject) -> Trace:
    """Follow one subject both ways."""
    after = ways.after(subject)
    found = spread(ways, subject, after)
    grams = in_grams(ways, subject, found)
    forward = Forward(
        stages=_forward_stages(ways, subject, found, after),
        pieces=_pieces(ways, found, grams),
        taken_back=_taken_back(ways, subject, after),
    )
    at_end = dict.fromkeys(CutKind, 0)
    for each in forward.pieces:
        at_end[each.kind] += each.traced_left_g
    return Trace(subject, _back(ways, subject), forward, grams.balance, at_end)


def _back(ways: Ways, subject: Subject) -> Back:
    stages = sorted(ways.before(subject), key=stage_order)
    takes = [take for stage in stages for take in ways.takes(stage.key)]
    bodies = {take.key for take in takes if take.source is Source.BODY} | {*subject.bodies}
    pieces = {take.key for take in takes if take.source is Source.PIECE}
    own = frozenset(subject.added)
    added = [row for key in {stage for stage, _ in own} for row in ways.added(key)]
    return Back(
        bodies=tuple(
            sorted(
                (ways.flow.bodies[key] for key in bodies), key=lambda fate: body_order(fate.body)
            )
        ),
        stages=tuple(
            TracedStage(
                stage,
                tuple(ways.takes(stage.key)),
                tuple(ways.added(stage.key)),
                ways.input_g(stage.key),
            )
            for stage in stages
        ),
        pieces=tuple(pieces_in_order(ways.pieces[key] for key in pieces)),
        added=tuple(
            sorted(
                [row for row in added if (row.stage, row.key) in own]
                + [row for stage in stages for row in ways.added(stage.key)],
                key=lambda row: (row.key, row.stage),
            )
        ),
    )


def _forward_stages(
    ways: Ways, subject: Subject, found: Spread, after: Sequence[Stage]
) -> tuple[TracedStage, ...]:
    bodies, added = frozenset(subject.bodies), frozenset(subject.added)

    def is_traced(take: Take) -> bool:
        return take.key in (bodies if take.source is Source.BODY else found.pieces)

    told = []
    for stage in sorted(after, key=stage_order):
        key, input_g = stage.key, ways.input_g(stage.key)
        whole = key in subject.stages
        takes = tuple(take for take in ways.takes(key) if whole or is_traced(take))
        goods = tuple(row for row in ways.added(key) if whole or (key, row.key) in added)
        share = share_percent(found.stage_in[key], input_g)
        told.append(TracedStage(stage, takes, goods, input_g, share))
    return tuple(told)


def _pieces(ways: Ways, found: Spread, grams: Grams) -> tuple[TracedPiece, ...]:
    kinds = {cut.key: cut.kind for cut in ways.trade.cuts}
    made = []
    for piece in pieces_in_order(ways.pieces[key] for key in found.pieces):
        thrown = tuple(ways.thrown[piece.key])
        takes = tuple(ways.taken_of(piece.key))
        gone = sum(take.grams for take in takes) + sum(row.grams for row in thrown)
        made.append(
            TracedPiece(
                piece=piece,
                kind=kinds[piece.cut],
                takes=takes,
                written_off=thrown,
                left_g=max(piece.net_g - gone, 0),
                share_percent=share_percent(found.pieces[piece.key], piece.net_g),
                traced_left_g=grams.left[piece.key],
                traced_off_g=sum(grams.thrown[piece.key]),
            )
        )
    return tuple(made)


def _taken_back(ways: Ways, subject: Subject, after: Sequence[Stage]) -> tuple[TakenBack, ...]:
    stages = {stage.key for stage in after}
    pieces = ways.pieces
    return tuple(
        TakenBack(pieces[void.piece], void)
        for void in sorted(ways.trade.voids, key=lambda void: (void.at, void.piece))
        if pieces[void.piece].stage in stages or void.piece in subject.pieces
    )
