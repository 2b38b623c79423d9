"""What the same kilos would earn as another cut, as the block shows it. Pure: no Qt."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from gambrel.domain.bench.block import PieceOnBlock
from gambrel.domain.bench.choice_words import choice_sentence
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.catalogue import Cut, CutKind
from gambrel.domain.trade.formats import Formats
from gambrel.services.bench.choices import choice_between, choices_for, whole_as
from gambrel.services.bench.looking import Look
from gambrel.ui.block.choices import Choice, Question

MOST_MINUTES = 240


@dataclass(frozen=True, slots=True)
class Wish:
    """What is compared: grams as one cut (with extra minutes) against the same as another."""

    grams: int = 0
    way: str = ""
    other: str = ""
    minutes: int = 0


@dataclass(frozen=True, slots=True)
class WhatIfState:
    """The answer as texts. ``meaning`` is that of the figure; no figure where there is none."""

    title: str
    way: str
    other: str
    minutes: str
    figure: str
    caption: str
    meaning: str
    sentence: str


def first_wish(look: Look, piece: PieceOnBlock, now: datetime) -> Wish:
    """A piece as it is against the trim that fetches most, or else against another cut."""
    wish = Wish(piece.piece.net_g, piece.cut.key)
    last = next(iter(look.on_block.standing), None)
    found = []
    if last is not None and last.piece.key == piece.piece.key:
        try:
            found = [choice.other.parts[0].cut.key for choice in choices_for(look, now)]
        except Refusal:
            found = []  # a price is missing; the sentence will name it
    others = found or [cut.key for cut in _by_kind(look, piece.cut) if cut.key != piece.cut.key]
    return Wish(wish.grams, wish.way, others[0] if others else "")


def _by_kind(look: Look, cut: Cut) -> list[Cut]:
    """Cuts of a species for sale, trim first."""
    rows = [row.cut for row in (*look.on_block.cuts, *look.on_block.more)]
    sold = [row for row in rows if row.kind.bears_cost and row.species == cut.species]
    return sorted(sold, key=lambda row: row.kind is not CutKind.TRIM)


def describe_what_if(look: Look, wish: Wish, now: datetime, formats: Formats) -> WhatIfState:
    """What the way earns against the other, in money and in a sentence."""
    names = {row.cut.key: row.cut.name for row in (*look.on_block.cuts, *look.on_block.more)}
    figure, caption, meaning = "", "", "info"
    try:
        way = whole_as(wish.way, Decimal(wish.minutes))
        choice = choice_between(look.trade, wish.grams, way, whole_as(wish.other), now)
        figure = formats.money(choice.earns, signed=True)
        meaning = "fine" if choice.earns > 0 else "watch" if choice.earns < 0 else "info"
        caption = "more" if choice.earns > 0 else "less" if choice.earns < 0 else "no difference"
        sentence = choice_sentence(choice, formats)
    except Refusal as refusal:
        sentence = str(refusal)
    return WhatIfState(
        title=f"What if: {formats.kg(wish.grams)} kg",
        way=names.get(wish.way, "?"),
        other=names.get(wish.other, "?"),
        minutes=f"{wish.minutes} min",
        figure=figure,
        caption=caption,
        meaning=meaning,
        sentence=sentence,
    )


def which_cut(look: Look, chosen: str, title: str) -> Question:
    """Which cut to compare: those for sale, in the order of the keys."""
    rows = [row.cut for row in (*look.on_block.cuts, *look.on_block.more)]
    choices = tuple(Choice(cut.key, cut.name, main=cut.key == chosen) for cut in rows)
    return Question(title, "Any cut of the list, or of the catalogue below it.", choices, 4)
