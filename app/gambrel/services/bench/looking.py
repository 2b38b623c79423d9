"""Looking at the block: what lies there, what could, by which lists, in which tubs; who cuts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from gambrel.domain.bench import growing
from gambrel.domain.bench.block import OnBlock, block_state, lists_of_portion, open_work
from gambrel.domain.bench.cautions import (
    OFF_RAIL_SETTING,
    PAUSE_SETTING,
    minutes_kept,
    off_rail_limit,
)
from gambrel.domain.bench.tub_edits import tubs_in
from gambrel.domain.bench.tubs import Tub, tubs_text
from gambrel.domain.bench.worktime import PAUSE_AFTER, WorkClock, work_clock
from gambrel.domain.costing.takes import Flow, settle
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import Person
from gambrel.domain.trade.records import (
    Body,
    Input,
    Piece,
    Source,
    Stage,
    StageKind,
    Trade,
    Void,
    body_order,
)
from gambrel.domain.trade.retired import RETIRED, read_retired
from gambrel.domain.trade.titles import body_title
from gambrel.services.bench.act import Act, open_stage

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book

TUBS = "tubs"
USUAL_OFF_RAIL = off_rail_limit(None)
LATELY, MOST_LATELY = timedelta(hours=24), 3
"""So long after it was finished a body is still offered at the block, and no more than so many
(common practice, no source)."""

RECENT = timedelta(days=60)
"""Whoever weighed in this time is offered at the block."""


@dataclass(frozen=True, slots=True)
class Look:
    """One stage on the block, with all that its screen shows beside it."""

    trade: Trade
    on_block: OnBlock
    lists: tuple[str, ...]
    tubs: tuple[Tub, ...]
    off_rail: timedelta = USUAL_OFF_RAIL
    """How long the shop lets something be out of the cold before the block says so."""
    pause_after: timedelta = PAUSE_AFTER
    retired: frozenset[str] = frozenset()
    """Cuts that the shop offers no more."""

    @property
    def title(self) -> str:
        """What is being cut, as the shop calls it."""
        if self.on_block.body is not None:
            return body_title(self.on_block.body)
        return ", ".join(row.cut.name for row in self.on_block.taken)

    @property
    def supplier(self) -> str:
        """Who sold the body; empty for a piece."""
        body = self.on_block.body
        return next((s.name for s in self.trade.suppliers if body and s.key == body.supplier), "")

    def clock(self, now: datetime) -> WorkClock:
        """The work clock of the stage."""
        stage = self.on_block.stage
        moments = [stage.started_at, *(row.piece.weighed_at for row in self.on_block.pieces)]
        return work_clock(moments, stage.finished_at or now, self.pause_after)

    def with_piece(self, piece: Piece) -> Look:
        """The same look after a weighing that is on the disk, without reading again."""
        trade = replace(self.trade, pieces=(*self.trade.pieces, piece))
        return self._after(trade, growing.with_piece(self.on_block, piece))

    def with_void(self, void: Void) -> Look:
        """The same look after a piece was taken back, without reading again."""
        trade = replace(self.trade, voids=(*self.trade.voids, void))
        return self._after(trade, growing.with_void(self.on_block, void))

    def _after(self, trade: Trade, grown: OnBlock | None) -> Look:
        on_block = grown or block_state(trade, self.on_block.stage.key)
        return replace(self, trade=trade, on_block=on_block)


@dataclass(frozen=True, slots=True)
class Waiting:
    """Something that can be worked on: open work, or a body that hangs (then ``stage`` is empty).

    ``grams`` is what is left of it. What is ``finished`` can be looked at again, and reopened.
    """

    title: str
    stage: str
    body: str
    grams: int
    since: datetime
    finished: bool = False


def look(book: Book, stage: str) -> Look:
    """What lies on the block now: one quick look, small enough for after every weighing.

    Raises:
        Refusal: There is no such stage.
    """
    with book.reading() as work:
        trade = work.nearby(stage)
        lists = work.lists()
        tubs = tubs_in(work.setting(TUBS))
        cold = off_rail_limit(work.setting(OFF_RAIL_SETTING))
        pause = minutes_kept(work.setting(PAUSE_SETTING), PAUSE_AFTER)
        retired = read_retired(work.setting(RETIRED))
    on_block = block_state(trade, stage)
    offered = tuple(row for row in on_block.more if row.cut.key not in retired)
    on_block = replace(on_block, more=offered)
    body = on_block.body
    names = lists_of_portion(lists, body.species, body.portion) if body else ()
    return Look(trade, on_block, names, tubs, cold, pause, retired)


def lists_for(book: Book, species: str, portion: str) -> tuple[str, ...]:
    """The lists by which a portion can be cut."""
    with book.reading() as work:
        return lists_of_portion(work.lists(), species, portion)


def change_list(book: Book, stage: str, name: str, act: Act) -> None:
    """Cut by another list from here on; what was weighed stays.

    Raises:
        Refusal: The stage is not open, or there is no such list for what lies there.
    """
    with book.transaction() as work:
        found = open_stage(work, stage)
        body = next(iter(work.stage_trade(stage).bodies), None)
        if body is None or name not in lists_of_portion(work.lists(), body.species, body.portion):
            raise Refusal(f"There is no list {name!r} for what is on the block. Choose another.")
        if name != found.list:
            work.relist_stage(stage, name, max(act.now, found.started_at), act.person)


def waiting(book: Book, now: datetime | None = None) -> list[Waiting]:
    """What can be worked on: open work first, then what hangs, longest first.

    After them comes what was finished in the last `LATELY` before a moment, newest first and no
    more than `MOST_LATELY`; without a moment it is left out.

    Reads the whole book: call it off the window's thread.
    """
    with book.reading() as work:
        trade = work.trade()
    flow = settle(trade)
    bodies = {body.key: body for body in trade.bodies}
    pieces = {piece.key: piece for piece in trade.pieces}
    names = {cut.key: cut.name for cut in trade.cuts}
    output: dict[str, int] = {}
    for piece in trade.standing:
        output[piece.stage] = output.get(piece.stage, 0) + piece.net_g

    def row(stage: Stage) -> Waiting:
        taken = [row for row in trade.inputs if row.stage == stage.key]
        body = next((bodies[row.key] for row in taken if row.source is Source.BODY), None)
        title = body_title(body) if body else _piece_title(taken, pieces, names)
        left = _input_g(flow, stage) - output.get(stage.key, 0)
        key = body.key if body else ""
        return Waiting(title, stage.key, key, left, stage.started_at, not stage.is_open)

    found = [row(stage) for stage in open_work(trade)]
    busy = {each.body for each in found}
    hanging = sorted((body for body in trade.bodies if body.key not in busy), key=body_order)
    found += [_hangs(body, flow) for body in hanging if flow.bodies[body.key].left_g > 0]
    return found + [row(stage) for stage in _lately(trade, now)]


def _lately(trade: Trade, now: datetime | None) -> list[Stage]:
    """Breaks and trim-outs that were finished a little before a moment, newest first."""
    if now is None:
        return []
    ended = [
        (stage.finished_at, stage)
        for stage in trade.stages
        if stage.finished_at is not None
        and stage.kind is not StageKind.BLEND
        and now - stage.finished_at <= LATELY
    ]
    ended.sort(key=lambda each: (each[0], each[1].key), reverse=True)
    return [stage for _, stage in ended[:MOST_LATELY]]


def _hangs(body: Body, flow: Flow) -> Waiting:
    left = flow.bodies[body.key].left_g
    return Waiting(body_title(body), "", body.key, left, body.received_at)


def _input_g(flow: Flow, stage: Stage) -> int:
    return sum(take.grams for take in flow.by_stage.get(stage.key, ()))


def _piece_title(taken: Sequence[Input], pieces: dict[str, Piece], names: dict[str, str]) -> str:
    return ", ".join(names[pieces[row.key].cut] for row in taken if row.key in pieces)


def people(book: Book, now: datetime) -> tuple[str, ...]:
    """Who may be cutting: the team, who cut lately first; then other names of late.

    Whoever left the team is not offered. Reads the whole book: call it off the window's thread.
    """
    with book.reading() as work:
        known = work.every(Person)
        trade = work.trade()
    gone = {person.name for person in known if not person.active}
    team = {person.name: None for person in known if person.active}
    lately = [name for name in recent_people(trade, now) if name not in gone]
    of_team = [name for name in lately if name in team]
    return tuple(dict.fromkeys([*of_team, *team, *lately]))


def recent_people(trade: Trade, now: datetime) -> tuple[str, ...]:
    """Who cut or weighed in the last `RECENT`, the most recent first."""
    seen = [(piece.weighed_at, piece.person) for piece in trade.pieces]
    seen += [(stage.started_at, stage.person) for stage in trade.stages]
    seen.sort(reverse=True)
    return tuple(dict.fromkeys(name for at, name in seen if name and now - at <= RECENT))


def set_tubs(book: Book, tubs: Sequence[Tub]) -> None:
    """Change the shop's tubs.

    Raises:
        Refusal: One of them cannot be.
    """
    text = tubs_text(tubs)
    tubs_in(text)
    with book.transaction() as work:
        work.set_setting(TUBS, text)
