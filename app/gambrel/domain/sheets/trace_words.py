"""A trace in words, the same on a screen and on paper.

Moments stand on the shop's clock with their whole date: a trace is read where months are in doubt.
Weights are kilograms with three decimals.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

from gambrel.domain.costing.takes import BodyFate, Take
from gambrel.domain.numbers.mass import kg_text
from gambrel.domain.prices.prints import LogLine
from gambrel.domain.review.trace import TakenBack, Trace, TracedPiece, TracedStage
from gambrel.domain.sheets.trace_sheet import STAGE_KINDS, TraceSheet
from gambrel.domain.trade.catalogue import CutKind
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.formats import whole
from gambrel.domain.trade.records import Input, Piece, Source, Stage

KINDS = {
    CutKind.TRAY: "trays",
    CutKind.TRIM: "trim",
    CutKind.BYPRODUCT: "by-products",
    CutKind.WASTE: "waste",
}


@dataclass(frozen=True, slots=True)
class Group:
    """The traced pieces of one stage, with those that were taken back there.

    ``itself`` says that the stage is not traced, only a piece of it. ``took`` is what the stage
    took of what is traced, and what share of its inputs that is; empty for ``itself``.
    """

    stage: Stage
    itself: bool
    took: str
    pieces: tuple[TracedPiece, ...]
    taken_back: tuple[TakenBack, ...]


class TraceWords:
    """Says one trace."""

    def __init__(self, sheet: TraceSheet, found: Trace) -> None:
        self._sheet = sheet
        self._found = found
        self._zone = ZoneInfo(sheet.shop.time_zone)
        self._cut_of = {piece.key: piece.cut for piece in found.back.pieces}
        self._cut_of |= {each.piece.key: each.piece.cut for each in found.forward.pieces}

    def body(self, fate: BodyFate) -> list[str]:
        """What is on file of a body: what and from whom, its docket and days, weights, origin."""
        body = fate.body
        came = [f"docket {body.supplier_ref}" if body.supplier_ref else "no docket reference"]
        if body.killed_on is not None:
            came.append(f"slaughtered {body.killed_on}")
        came.append(f"received {self.at(body.received_at)}")
        weights = [f"weighed {kg_text(body.received_g)} kg"]
        if body.docket_g is not None:
            weights.insert(0, f"docket {kg_text(body.docket_g)} kg")
        if fate.left_g:
            weights.append(f"{kg_text(fate.left_g)} kg still hangs")
        told = [self._sheet.body_words(body), ", ".join(came), ", ".join(weights)]
        return [*told, *filter(None, [self.origin(body.key)])]

    def origin(self, body: str) -> str:
        """Where a body was born, reared and slaughtered, as far as it is on file."""
        origin = self._sheet.origins.get(body)
        if origin is None:
            return ""
        told: dict[str, list[str]] = defaultdict(list)
        for what in ("born", "reared", "slaughtered"):
            if place := getattr(origin, what):
                told[place].append(what)
        parts = [f"{', '.join(what)} in {place}" for place, what in told.items()]
        if origin.abattoir:
            parts.append(f"abattoir {origin.abattoir}")
        return "; ".join(parts)

    def stage(self, stage: Stage) -> str:
        """A stage's kind, its time and who worked at it."""
        when, end = self.at(stage.started_at), stage.finished_at
        when += ", still open" if end is None else f" to {self.near(end, stage)}"
        return ", ".join(filter(None, (STAGE_KINDS[stage.kind], when, stage.person)))

    def took(self, each: TracedStage) -> str:
        """What a stage took, all of it on the way back."""
        return self._took(each.takes, each.added)

    def added(self, row: Input) -> str:
        """An ingredient that a stage took, with its lot."""
        lot = self._sheet.lots.get((row.stage, row.key))
        told = "no lot kept" if lot is None else f"lot {lot.lot}"
        if lot is not None and lot.use_by is not None:
            told += f", use by {lot.use_by}"
        return f"{kg_text(row.grams or 0)} kg of {self._sheet.ingredient(row.key)} ({told})"

    def groups(self) -> list[Group]:
        """The way forward, stage by stage; the subject's own piece first."""
        forward = self._found.forward
        pieces: dict[str, list[TracedPiece]] = defaultdict(list)
        for each in forward.pieces:
            pieces[each.piece.stage].append(each)
        back: dict[str, list[TakenBack]] = defaultdict(list)
        for gone in forward.taken_back:
            back[gone.piece.stage].append(gone)
        reached = {each.stage.key for each in forward.stages}
        makers = {each.stage.key: each.stage for each in self._found.back.stages}
        own = [(makers[key], True, "") for key in {*pieces, *back} - reached]
        others = [(each.stage, False, self._share(each)) for each in forward.stages]
        return [
            Group(stage, itself, took, tuple(pieces[stage.key]), tuple(back[stage.key]))
            for stage, itself, took in own + others
        ]

    def _share(self, each: TracedStage) -> str:
        tenths = whole(each.share_percent * 10)
        share = f"{Decimal(tenths) / 10:.1f}" if tenths else "less than 0.1"
        of = f"{share} % of the {kg_text(each.input_g)} kg that went in"
        if each.stage.key in self._found.subject.stages:
            return f"itself: {of}"
        return f"took {self._took(each.takes, each.added)}: {of}"

    def _took(self, takes: Sequence[Take], added: Sequence[Input]) -> str:
        parts = [self._take(take) for take in takes] + [self.added(row) for row in added]
        return "; ".join(parts) or "nothing"

    def _take(self, take: Take) -> str:
        said = f"{kg_text(take.grams)} kg of {take.key}"
        if take.source is Source.BODY:
            return said
        return f"{said} ({self._sheet.cut(self._cut_of[take.key])})"

    def ends(self) -> str:
        """How many pieces stand at the end, and what is left of them."""
        ends = self._found.forward.ends
        if not ends:
            return "No stage has taken of it." if not self._found.forward.stages else ""
        count = "1 piece" if len(ends) == 1 else f"{len(ends)} pieces"
        return f"At the end: {count}, {kg_text(sum(each.left_g for each in ends))} kg left"

    def use_by(self, piece: Piece) -> str:
        """A piece's last day; a hyphen where nothing says one."""
        day = self._sheet.use_by.get(piece.key)
        return "-" if day is None else day.isoformat()

    def weights(self, each: TracedPiece) -> tuple[str, str, str]:
        """A piece's net weight, what is left of it, and how much of that is traced."""
        grams = (each.piece.net_g, each.left_g, each.traced_left_g)
        net, left, traced = map(kg_text, grams)
        return net, left, traced

    def remarks(self, each: TracedPiece) -> list[str]:
        """Where a piece went, what of it was thrown away, and what was printed of it."""
        said = []
        if each.takes:
            stages = ", ".join(f"{kg_text(take.grams)} kg to {take.stage}" for take in each.takes)
            said.append(f"of {kg_text(each.piece.net_g)} kg: {stages}")
        for row in each.written_off:
            why = f": {row.reason}" if row.reason else ""
            said.append(f"{kg_text(row.grams)} kg written off {self.at(row.at)}{why}")
        return [*said, *self.labels(each.piece)]

    def taken_back(self, gone: TakenBack) -> str:
        """A weighing that was taken back: which cut, when, by whom, why."""
        by = f" by {gone.void.person}" if gone.void.person else ""
        why = f": {gone.void.reason}" if gone.void.reason else ""
        cut = self._sheet.cut(gone.piece.cut)
        return f"{cut}, taken back {self.at(gone.void.at)}{by}{why}"

    def labels(self, piece: Piece) -> list[str]:
        """What was printed of a piece, the newest first."""
        return [self._label(line) for line in self._sheet.printed.get(piece.key, ())]

    def _label(self, line: LogLine) -> str:
        job, item = line.job.job, line.item
        assert item is not None  # a label is of a piece
        parts = [f"label {line.job.state.value} {self.at(job.at)}"]
        if item.grams is not None:
            parts.append(f"{kg_text(item.grams)} kg")
        parts.append(f"lot {item.lot}" if item.lot else "no lot")
        if item.use_by is not None:
            parts.append(f"use by {item.use_by}")
        return ", ".join(parts)

    def balance(self) -> list[tuple[str, str]]:
        """Where the traced weight is, in kilograms: what is nothing is left out."""
        balance, left = self._found.balance, self._found.at_end_g
        rows = [
            ("dried on the rail", balance.hang_loss_g),
            ("still hangs", balance.on_rail_g),
            ("on the block", balance.on_block_g),
            ("lost at work" if balance.lost_g >= 0 else "gained at work", balance.lost_g),
            ("written off", balance.written_off_g),
            *((f"left as {name}", left[kind]) for kind, name in KINDS.items()),
        ]
        return [
            ("came in", kg_text(balance.went_in_g)),
            *((name, kg_text(grams)) for name, grams in rows if grams),
            ("difference", kg_text(balance.difference_g)),
        ]

    def next_bodies(self) -> list[str]:
        """Bodies to be traced next, where the subject is not bodies itself."""
        if self._found.subject.bodies:
            return []
        return [fate.body.key for fate in self._found.back.bodies]

    def at(self, moment: datetime) -> str:
        """A moment on the shop's clock."""
        return f"{moment.astimezone(self._zone):%Y-%m-%d %H:%M}"

    def near(self, moment: datetime, stage: Stage) -> str:
        """A time of the day; with its date where that is not the stage's own."""
        shop = self._sheet.shop
        if business_day(moment, shop) == business_day(stage.started_at, shop):
            return f"{moment.astimezone(self._zone):%H:%M}"
        return self.at(moment)
