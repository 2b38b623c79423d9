"""What lies on the block: the state of one stage while it is being cut. Pure."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal

from gambrel.domain.costing.takes import Flow, settle
from gambrel.domain.numbers.money import round_half_up
from gambrel.domain.trade.catalogue import Cut, CutKind, ListLine
from gambrel.domain.trade.records import (
    Body,
    Input,
    Piece,
    Source,
    Stage,
    StageKind,
    Trade,
    Void,
    piece_order,
)

NEXT = timedelta(microseconds=1)
"""The least that the book can tell two moments apart by."""


@dataclass(frozen=True, slots=True)
class CutOnBlock:
    """A cut as it stands on this stage: grams weighed in how many pieces, against its norm.

    ``norm_g`` is what the cutting list expects of this input, None where it expects nothing.
    """

    cut: Cut
    norm_g: int | None = None
    weighed_g: int = 0
    pieces: int = 0

    @property
    def share(self) -> float:
        """Weighed over norm, for a bar; 1.0 where there is weight and no norm."""
        if not self.norm_g:
            return 1.0 if self.weighed_g else 0.0
        return self.weighed_g / self.norm_g


@dataclass(frozen=True, slots=True)
class PieceOnBlock:
    """A weighing of this stage. It is held once a later stage or a write-off took of it."""

    piece: Piece
    cut: Cut
    void: Void | None = None
    held: bool = False

    @property
    def stands(self) -> bool:
        """Whether it counts."""
        return self.void is None


@dataclass(frozen=True, slots=True)
class OnBlock:
    """One stage on the block. Weights are grams; ``pieces`` are newest first, taken back ones too.

    ``cuts`` are those of the cutting list in the order in which they come off, then others that
    were weighed all the same; ``more`` is the rest of the catalogue of that species.
    """

    stage: Stage
    body: Body | None
    taken: tuple[PieceOnBlock, ...]
    input_g: int
    cuts: tuple[CutOnBlock, ...]
    more: tuple[CutOnBlock, ...]
    pieces: tuple[PieceOnBlock, ...]

    @property
    def species(self) -> str:
        """The species of what is being cut."""
        if self.body is not None:
            return self.body.species
        return self.taken[0].cut.species if self.taken else ""

    @property
    def standing(self) -> tuple[PieceOnBlock, ...]:
        """The pieces that count, newest first."""
        return tuple(piece for piece in self.pieces if piece.stands)

    @property
    def last(self) -> PieceOnBlock | None:
        """The newest piece that counts."""
        return next((row for row in self.pieces if row.stands), None)

    def after_own(self, station: str, now: datetime) -> datetime:
        """The moment of a station's next weighing: never before its last one.

        A clock that was put back would make what was weighed last an old piece, and Undo would take
        back another.
        """
        own = [row.piece.weighed_at for row in self.pieces if row.piece.station == station]
        return max(now, max(own) + NEXT) if own else now

    @property
    def output_g(self) -> int:
        """Net grams weighed so far."""
        return sum(row.weighed_g for row in self.cuts)

    @property
    def left_g(self) -> int:
        """What is still on the block; below zero where more came off than lay there."""
        return self.input_g - self.output_g

    @property
    def by_kind(self) -> dict[CutKind, int]:
        """Net grams weighed, for every kind of cut."""
        sums = dict.fromkeys(CutKind, 0)
        for row in self.cuts:
            sums[row.cut.kind] += row.weighed_g
        return sums

    def cut(self, key: str) -> CutOnBlock | None:
        """One cut of this stage, or of the rest of the catalogue."""
        return next((row for row in (*self.cuts, *self.more) if row.cut.key == key), None)


def block_state(trade: Trade, stage_key: str) -> OnBlock:
    """The state of one stage.

    Args:
        trade: The book, or the part of it that bears on the stage: its inputs with everything
            else that took of them, its pieces, and what took of those.
        stage_key: A stage of the trade.
    Raises:
        KeyError: The trade has no such stage.
    """
    stage = next((stage for stage in trade.stages if stage.key == stage_key), None)
    if stage is None:
        raise KeyError(stage_key)
    flow = settle(trade)
    rows = [row for row in trade.inputs if row.stage == stage_key]
    body = _body_of(trade, rows)
    taken = _taken(trade, rows)
    input_g = sum(take.grams for take in flow.by_stage.get(stage_key, ()))
    input_g += sum(row.grams or 0 for row in flow.ingredients.get(stage_key, ()))
    pieces = _pieces_of(trade, stage_key, flow)
    lines = [] if body is None else list_lines(trade.lists, stage.list, body)
    cuts, more = _cuts(trade, lines, pieces, input_g, _species(body, taken))
    return OnBlock(stage, body, taken, input_g, cuts, more, pieces)


def list_lines(lists: Iterable[ListLine], name: str, body: Body) -> list[ListLine]:
    """The lines of one cutting list for a body's portion, in the order of work."""
    lines = [
        line
        for line in lists
        if (line.list, line.species, line.portion) == (name, body.species, body.portion)
    ]
    return sorted(lines, key=lambda line: (line.position, line.cut))


def lists_of_portion(lists: Iterable[ListLine], species: str, portion: str) -> tuple[str, ...]:
    """The names of the lists by which a portion can be cut, in the order of the book."""
    names = (line.list for line in lists if (line.species, line.portion) == (species, portion))
    return tuple(dict.fromkeys(names))


def _species(body: Body | None, taken: Sequence[PieceOnBlock]) -> str:
    if body is not None:
        return body.species
    return taken[0].cut.species if taken else ""


def _body_of(trade: Trade, rows: Sequence[Input]) -> Body | None:
    keys = {row.key for row in rows if row.source is Source.BODY}
    return next((body for body in trade.bodies if body.key in keys), None)


def _taken(trade: Trade, rows: Sequence[Input]) -> tuple[PieceOnBlock, ...]:
    keys = {row.key for row in rows if row.source is Source.PIECE}
    cuts = {cut.key: cut for cut in trade.cuts}
    return tuple(PieceOnBlock(p, cuts[p.cut]) for p in trade.pieces if p.key in keys)


def _pieces_of(trade: Trade, stage_key: str, flow: Flow) -> tuple[PieceOnBlock, ...]:
    cuts = {cut.key: cut for cut in trade.cuts}
    voids = {void.piece: void for void in trade.voids}
    thrown = {writeoff.piece for writeoff in trade.writeoffs}
    own = [piece for piece in trade.pieces if piece.stage == stage_key]
    own.sort(key=piece_order, reverse=True)
    return tuple(
        PieceOnBlock(
            piece,
            cuts[piece.cut],
            voids.get(piece.key),
            held=bool(flow.by_piece.get(piece.key)) or piece.key in thrown,
        )
        for piece in own
    )


def _cuts(
    trade: Trade,
    lines: Sequence[ListLine],
    pieces: Sequence[PieceOnBlock],
    input_g: int,
    species: str,
) -> tuple[tuple[CutOnBlock, ...], tuple[CutOnBlock, ...]]:
    grams: dict[str, int] = defaultdict(int)
    counts: Counter[str] = Counter()
    for row in pieces:
        if row.stands:
            grams[row.cut.key] += row.piece.net_g
            counts[row.cut.key] += 1
    norms = {line.cut: norm_grams(line.norm_percent, input_g) for line in lines}

    def on_block(cut: Cut) -> CutOnBlock:
        return CutOnBlock(cut, norms.get(cut.key), grams[cut.key], counts[cut.key])

    known = {cut.key: cut for cut in trade.cuts}
    first = [known[key] for key in norms if key in known]
    first += [cut for cut in trade.cuts if grams[cut.key] and cut.key not in norms]
    chosen = {cut.key for cut in first}
    rest = [cut for cut in trade.cuts if cut.species == species and cut.key not in chosen]
    return tuple(map(on_block, first)), tuple(map(on_block, rest))


def norm_grams(percent: Decimal | None, input_g: int) -> int | None:
    """A norm in per cent of an input, as whole grams; None where the list gives none."""
    if percent is None:
        return None
    over, under = (percent * input_g).as_integer_ratio()
    return round_half_up(over, 100 * under)


def open_work(trade: Trade) -> list[Stage]:
    """The stages that are on a block now: breaks and trim-outs not yet finished, newest first."""
    kinds = (StageKind.BREAK, StageKind.TRIMOUT)
    stages = [stage for stage in trade.stages if stage.is_open and stage.kind in kinds]
    return sorted(stages, key=lambda stage: (stage.started_at, stage.key), reverse=True)
