"""What the block shows, as texts and flags. Pure: no Qt."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from enum import StrEnum
from itertools import islice

from gambrel.domain.bench.block import OnBlock, PieceOnBlock
from gambrel.domain.bench.cautions import care_at_start
from gambrel.domain.bench.rail import day_words
from gambrel.domain.bench.steady import LiveWeight
from gambrel.domain.bench.tubs import Tub
from gambrel.domain.numbers.mass import parse_kg
from gambrel.domain.trade.catalogue import CutKind
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.formats import Formats
from gambrel.services.bench.looking import Look
from gambrel.ui.block.pages import CutText, cut_texts
from gambrel.ui.block.weight_state import WeighText, tub_of, weigh_text

NO_SCALE = LiveWeight()

SHOWN = 4
"""So many pieces have room under the cuts."""


class Panel(StrEnum):
    """What stands in place of the map and the cuts."""

    NONE = ""
    PEOPLE = "people"
    PIN = "pin"
    LISTS = "lists"
    PIECES = "pieces"
    PIECE = "piece"
    WHAT_IF = "what if"
    WHICH_WAY = "which way"
    WHICH_OTHER = "which other"


@dataclass(frozen=True, slots=True)
class Hands:
    """What the person at the block has chosen and typed, and what was said to them last.

    ``by_hand`` is true where the weight is typed although a scale answers, ``by_tap`` where the
    scale answers only when it is asked, ``can_zero`` where it can be told to set itself to zero.
    """

    cut: str = ""
    tub: str = ""
    person: str = ""
    typed: str = ""
    by_hand: bool = False
    by_tap: bool = False
    can_zero: bool = False
    panel: Panel = Panel.NONE
    piece: str = ""
    asked: bool = False
    meaning: str = ""
    sentence: str = ""

    def quiet(self) -> Hands:
        """The same hands, with nothing said and no question open."""
        return replace(self, asked=False, meaning="", sentence="")

    @property
    def gross_g(self) -> int:
        """What was typed, in grams; zero where that is no weight."""
        try:
            return parse_kg(self.typed.rstrip(".") or "0")
        except ValueError:
            return 0


@dataclass(frozen=True, slots=True)
class TopText:
    """The top line."""

    title: str = ""
    more: str = ""
    weight: str = ""
    person: str = ""
    clock: str = ""
    off_rail: str = ""
    paused: bool = False
    long_off: bool = False


@dataclass(frozen=True, slots=True)
class PieceText:
    """A weighed piece in the list."""

    key: str
    time: str
    name: str
    kg: str
    void: str
    spoken: str


@dataclass(frozen=True, slots=True)
class Part:
    """One part of the balance."""

    name: str
    figure: str
    grams: int
    kind: str


@dataclass(frozen=True, slots=True)
class BlockState:
    """Everything that stands on the block's screen while something lies there.

    ``last`` are the newest `SHOWN` pieces that stand, of ``standing`` in all.
    """

    top: TopText
    cuts: tuple[CutText, ...]
    cut: str
    cut_name: str
    list_name: str
    weigh: WeighText
    tubs: tuple[Tub, ...]
    tub: str
    asked: bool
    meaning: str
    sentence: str
    parts: tuple[Part, ...]
    total_g: int
    left: str
    over: bool
    care: str
    last: tuple[PieceText, ...]
    standing: int
    undo: str
    end: tuple[str, str]
    panel: Panel
    piece: str


def describe(
    look: Look,
    hands: Hands,
    formats: Formats,
    now: datetime,
    live: LiveWeight = NO_SCALE,
) -> BlockState:
    """The screen of what lies on the block; ``live`` is what the scale says."""
    block = look.on_block
    row = block.cut(hands.cut)
    name = row.cut.name if row else ""
    left = block.left_g
    newest = islice((row for row in block.pieces if row.stands), SHOWN)
    last = tuple(piece_text(row, look, formats) for row in newest)
    return BlockState(
        top=top_text(look, hands, formats, now),
        cuts=cut_texts(block),
        cut=hands.cut if row else "",
        cut_name=name,
        list_name=block.stage.list,
        weigh=weigh_text(look, hands, live, formats),
        tubs=look.tubs,
        tub=tub_of(look, hands).name,
        asked=hands.asked,
        meaning=hands.meaning,
        sentence=hands.sentence,
        parts=_parts(block, formats),
        total_g=block.input_g,
        left=f"{formats.kg(abs(left), 2)} kg " + ("more than lay there" if left < 0 else "left"),
        over=left < 0,
        care="" if last else care_at_start(block),
        last=last,
        standing=sum(row.pieces for row in block.cuts),
        undo=f"{last[0].name} {last[0].kg}" if last else "",
        end=_end(block),
        panel=hands.panel,
        piece=hands.piece,
    )


def _end(block: OnBlock) -> tuple[str, str]:
    """What the last key does: what was cut is finished, what was not is put back."""
    what = "body" if block.body else "piece"
    if block.last is not None:
        return "Finish", what
    return "Put back", "on the rail" if block.body else "as it was"


def top_text(look: Look, hands: Hands, formats: Formats, now: datetime) -> TopText:
    """The top line of what lies on the block."""
    block = look.on_block
    clock = look.clock(now)
    off = off_rail(look, now)
    return TopText(
        title=look.title,
        more=_about(look, formats, now),
        weight=f"{formats.kg(block.input_g, 2)} kg",
        person=hands.person,
        clock=hours(clock.worked),
        off_rail=f"off the rail {hours(off)}",
        paused=clock.paused,
        long_off=off >= look.off_rail,
    )


def off_rail(look: Look, now: datetime) -> timedelta:
    """How long what lies on the block has been out of the cold."""
    stage = look.on_block.stage
    return (stage.finished_at or now) - stage.started_at


def _about(look: Look, formats: Formats, now: datetime) -> str:
    body = look.on_block.body
    if body is None:
        return "cut further"
    shop = look.trade.shop
    day = (business_day(now, shop) - business_day(body.received_at, shop)).days
    parts = (look.supplier, day_words(day), f"received {formats.kg(body.received_g, 2)} kg")
    return " · ".join(part for part in parts if part)


def hours(span: timedelta) -> str:
    """A time worked as ``0:21``."""
    minutes = max(span, timedelta(0)) // timedelta(minutes=1)
    return f"{minutes // 60}:{minutes % 60:02d}"


def _parts(block: OnBlock, formats: Formats) -> tuple[Part, ...]:
    grams = block.by_kind
    names = {
        CutKind.TRAY: "Tray",
        CutKind.TRIM: "Trim",
        CutKind.BYPRODUCT: "Fat, bone",
        CutKind.WASTE: "Waste",
    }
    return tuple(
        Part(name, formats.kg(grams[kind], 1), grams[kind], kind.value)
        for kind, name in names.items()
        if grams[kind]
    )


def piece_text(row: PieceOnBlock, look: Look, formats: Formats) -> PieceText:
    """A piece of the list; ``void`` tells why it was taken back."""
    piece = row.piece
    time = formats.time(piece.weighed_at, look.trade.shop)
    kg = formats.kg(piece.net_g)
    void = f"taken back: {row.void.reason}" if row.void else ""
    spoken = f"{time} {row.cut.name} {kg} kg"
    return PieceText(piece.key, time, row.cut.name, kg, void, spoken)
