"""The block's questions with their answers. Pure but for the words: no Qt widgets are made here."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from gambrel.domain.bench.block import PieceOnBlock
from gambrel.domain.bench.cautions import CARE
from gambrel.domain.trade.catalogue import CutKind
from gambrel.domain.trade.formats import Formats
from gambrel.domain.trade.records import Void
from gambrel.services.bench.looking import Look, Waiting
from gambrel.services.bench.weighing import VOID_REASONS
from gambrel.ui.block.choices import Choice, Question
from gambrel.ui.block.pins import BACK, ENTER, NOBODY, PinPad
from gambrel.ui.block.state import Hands, Panel, PieceText, piece_text

FURTHER = "further"
"""The answer that takes a piece apart instead of taking it back."""
WHAT_IF = "what if"
"""The answer that asks what a piece would earn as another cut."""


PIN_SIZE = 34
"""Pixels of a digit."""

WHAT_IF_CHOICE = Choice(WHAT_IF, "What if", "as another cut")


@dataclass(frozen=True, slots=True)
class Asking:
    """What questions are made of beside the look: who is known, the PIN that is typed, the time."""

    now: datetime
    people: tuple[str, ...] = ()
    pad: PinPad = NOBODY


def what_waits(rows: Sequence[Waiting], formats: Formats) -> Question:
    """What can be put on the block, or gone on with."""
    choices = tuple(
        Choice(
            f"stage:{row.stage}" if row.stage else f"body:{row.body}",
            row.title,
            _how_it_waits(row, formats),
            main=bool(row.stage) and not row.finished,
        )
        for row in rows
    )
    if all(row.finished for row in rows):
        words = "Nothing hangs. Receive a body on the rail first."
        return Question("The block is free", words, choices, 3, closes=False, foot=CARE)
    words = "Tap what you break next. What is on a block already goes on where it was."
    return Question("The block is free", words, choices, 3, closes=False, foot=CARE)


def _how_it_waits(row: Waiting, formats: Formats) -> str:
    if row.finished:
        return "finished · look or reopen"
    kilos = f"{formats.kg(row.grams, 2)} kg"
    return f"on a block · {kilos} left" if row.stage else kilos


def who_cuts(names: Sequence[str], now: str) -> Question:
    """Whose weighings follow."""
    choices = tuple(Choice(name, name, main=name == now) for name in names)
    more = "Each weighing keeps the name." if names else "Nobody has weighed here lately."
    return Question("Who cuts?", more, choices, 3, entry="Another name")


def pin_of(pad: PinPad, now: datetime) -> Question:
    """The PIN of whoever wants to cut."""
    locked = pad.locked(now) > 0
    signs = ("7", "8", "9", BACK, "4", "5", "6", "0", "1", "2", "3", ENTER)
    names = {BACK: "Take a digit back", ENTER: "OK"}
    keys = tuple(
        Choice(
            sign,
            names.get(sign, sign),
            main=sign == ENTER,
            enabled=not locked and (sign != ENTER or pad.can_enter),
            size=PIN_SIZE,
            icon="delete" if sign == BACK else "",
        )
        for sign in signs
    )
    return Question(pad.name, pad.sentence(now), keys, 4)


def which_list(look: Look) -> Question:
    """By which list the body is cut from here on."""
    now = look.on_block.stage.list
    choices = tuple(Choice(name, name, main=name == now) for name in look.lists)
    more = "What was weighed stays; the norms change."
    if not choices:
        more = "There is none for this portion, so every cut is offered. Make one under Setup."
    return Question("By which cutting list?", more, choices, 2)


def all_pieces(look: Look, formats: Formats) -> Question:
    """Every weighing of this body, newest first, those taken back too."""
    rows = [piece_text(row, look, formats) for row in look.on_block.pieces]
    choices = tuple(
        Choice(row.key, f"{row.kg} {row.name}", "taken back" if row.void else row.time)
        for row in rows
    )
    return Question("All pieces", "Tap one to take it back or to cut it further.", choices, 3)


def _taken_back(void: Void, look: Look, formats: Formats) -> str:
    """When, by whom and why a weighing was taken back."""
    by = f" by {void.person}" if void.person else ""
    return f"Taken back at {formats.time(void.at, look.trade.shop)}{by}: {void.reason}."


def one_piece(row: PieceOnBlock, text: PieceText, look: Look, formats: Formats) -> Question:
    """What can be done with a piece."""
    piece = row.piece
    more = " · ".join(
        part
        for part in (
            text.time,
            f"gross {formats.kg(piece.gross_g)}",
            f"tub {formats.kg(piece.tare_g)}",
            piece.person,
            piece.station,
        )
        if part
    )
    title = f"{text.name} {text.kg} kg"
    if row.void is not None:
        return Question(title, f"{more}. {_taken_back(row.void, look, formats)}", (), 3)
    if row.held:
        words = f"{more}. It has gone on (cut further, blended or written off) and stays as it is."
        return Question(title, words, (WHAT_IF_CHOICE,), 3)
    choices = [Choice(reason, reason.capitalize()) for reason in VOID_REASONS]
    if row.cut.kind in (CutKind.TRAY, CutKind.TRIM):
        choices.append(Choice(FURTHER, "Cut it further", "into finer pieces", main=True))
    choices.append(WHAT_IF_CHOICE)
    return Question(
        title, f"{more}. Why is it taken back, or what becomes of it?", tuple(choices), 3
    )


def question_for(look: Look, hands: Hands, asking: Asking, formats: Formats) -> Question | None:
    """The question that stands in place of the cuts; none where the cuts do."""
    if hands.panel is Panel.PIN:
        return pin_of(asking.pad, asking.now)
    if hands.panel is Panel.PEOPLE:
        return who_cuts(asking.people, hands.person)
    if hands.panel is Panel.LISTS:
        return which_list(look)
    if hands.panel is Panel.PIECES:
        return all_pieces(look, formats)
    if hands.panel is Panel.PIECE:
        rows = [row for row in look.on_block.pieces if row.piece.key == hands.piece]
        if rows:
            return one_piece(rows[0], piece_text(rows[0], look, formats), look, formats)
    return None
