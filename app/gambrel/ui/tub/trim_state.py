"""The tub's left side: what stands free, and what is being taken of one class. Pure: no Qt."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from gambrel.domain.bench.trim import FreeClass, FreePiece, Mark
from gambrel.domain.trade.catalogue import CutKind
from gambrel.domain.trade.formats import Formats
from gambrel.ui.tub.picking import Pad, Picking
from gambrel.ui.tub.words import age, lean_of, lean_of_class, marked, marked_class

LONG_PAST_DAYS = 2
"""A tray past its use-by for longer was sold or thrown away (common practice, no source)."""

NOT_TOLD = "The book is not told of sales: take only what you see unsold."


@dataclass(frozen=True, slots=True)
class RowText:
    """One class, or one piece of it. ``mark`` is a meaning's name."""

    key: str
    name: str
    kilos: str
    under: str
    mark: str
    word: str
    taken: str = ""
    chosen: bool = False

    @property
    def spoken(self) -> str:
        """For a screen reader."""
        kilos = f"{self.kilos} kg" if self.kilos else ""
        parts = (self.name, kilos, self.under, self.word, self.taken)
        return ", ".join(part for part in parts if part)


@dataclass(frozen=True, slots=True)
class OpenText:
    """The class that is open: its pieces, the keypad, and what the act would do."""

    key: str
    title: str
    summary: str
    rows: tuple[RowText, ...]
    pad: Pad
    typed: str
    unit: str
    act: str
    can_act: bool
    hint: str
    aside: str
    """What the other key does: change what the keypad types, or work trays back to trim."""


@dataclass(frozen=True, slots=True)
class TrimState:
    """All classes, the open one if any, and one line about all."""

    summary: str = ""
    rows: tuple[RowText, ...] = ()
    opened: OpenText | None = None


def describe_trim(
    classes: Sequence[FreeClass],
    picking: Picking,
    formats: Formats,
    drafted: Mapping[str, int] | None = None,
) -> TrimState:
    """The left side.

    Args:
        classes: What stands free.
        picking: What is in hand.
        formats: How the shop writes its numbers.
        drafted: Grams of each piece that are in the blend already.
    """
    taken = drafted or {}
    oldest_first = sorted(classes, key=lambda row: row.pieces[0].piece.weighed_at)
    rows = tuple(_class_row(row, taken, formats) for row in oldest_first)
    opened = next((row for row in classes if row.cut.key == picking.cut), None)
    text = _opened(opened, picking, taken, formats) if opened else None
    return TrimState(_summary(classes, formats), rows, text)


def unsold(trays: Sequence[FreeClass]) -> tuple[FreeClass, ...]:
    """Trays that may be unsold: the book is not told of sales, so what is long past is left out."""
    found = []
    for row in trays:
        pieces = [p for p in row.pieces if p.days_left is None or p.days_left >= -LONG_PAST_DAYS]
        if pieces:
            found.append(replace(row, pieces=tuple(pieces)))
    return tuple(found)


def _summary(classes: Sequence[FreeClass], formats: Formats) -> str:
    if classes and classes[0].cut.kind is CutKind.TRAY:
        return NOT_TOLD
    free = sum(row.usable_g for row in classes)
    past = sum(row.free_g for row in classes) - free
    near = sum(p.free_g for row in classes for p in row.pieces if p.mark is Mark.WATCH)
    parts = [f"{formats.kg(free, 1)} kg stands free"]
    if near:
        parts.append(f"{formats.kg(near, 1)} kg near its last day")
    if past:
        parts.append(f"{formats.kg(past, 1)} kg past it")
    return " · ".join(parts) if classes else ""


def _class_row(row: FreeClass, drafted: Mapping[str, int], formats: Formats) -> RowText:
    mark = marked_class(row, formats)
    grams = sum(drafted.get(piece.piece.key, 0) for piece in row.pieces)
    count = f", {len(row.pieces)} pieces" if len(row.pieces) > 1 else ""
    return RowText(
        key=row.cut.key,
        name=row.cut.name,
        kilos=formats.kg(row.free_g, 2),
        under=f"{_lean(row, formats)}{age(row.pieces[0])}{count}",
        mark=mark.meaning,
        word=mark.word,
        taken=f"{formats.kg(grams, 2)} kg in the blend" if grams else "",
        chosen=bool(grams),
    )


def _lean(row: FreeClass, formats: Formats) -> str:
    """Trays are told by their dates alone."""
    return "" if row.cut.kind is CutKind.TRAY else f"{lean_of_class(row, formats)} · "


def _piece_row(
    row: FreePiece, picking: Picking, drafted: Mapping[str, int], formats: Formats
) -> RowText:
    mark = marked(row, formats)
    grams = drafted.get(row.piece.key, 0)
    return RowText(
        key=row.piece.key,
        name=f"{age(row)}".capitalize(),
        kilos=formats.kg(row.free_g),
        under="" if row.cut.kind is CutKind.TRAY else lean_of(row, formats),
        mark=mark.meaning,
        word=mark.word,
        taken=f"{formats.kg(grams)} kg in the blend" if grams else "",
        chosen=row.piece.key in picking.chosen,
    )


def _opened(
    row: FreeClass, picking: Picking, drafted: Mapping[str, int], formats: Formats
) -> OpenText:
    act, can_act, hint = (_take_act if picking.pad is Pad.KILOS else _lean_act)(
        row, picking, formats
    )
    return OpenText(
        key=row.cut.key,
        title=row.cut.name,
        summary=NOT_TOLD if row.cut.kind is CutKind.TRAY else _within(row, formats),
        rows=tuple(_piece_row(piece, picking, drafted, formats) for piece in row.pieces),
        pad=picking.pad,
        typed=picking.typed,
        unit="kg" if picking.pad is Pad.KILOS else "% lean",
        act=act,
        can_act=can_act,
        hint=hint or _past(row, formats),
        aside=_aside(row, picking),
    )


def _within(row: FreeClass, formats: Formats) -> str:
    return f"{formats.kg(row.usable_g)} kg within its dates · oldest first"


def _aside(row: FreeClass, picking: Picking) -> str:
    if row.cut.kind is CutKind.TRAY:
        return "Work back to trim"
    return "Enter lean" if picking.pad is Pad.KILOS else "Take kilos"


def _past(row: FreeClass, formats: Formats) -> str:
    """What is not to be taken any more; nothing while all may be."""
    grams = sum(piece.free_g for piece in row.pieces if piece.mark is Mark.STOP)
    if not grams:
        return ""
    return f"{formats.kg(grams)} kg is past its last day: tap it to read what to do."


def _take_act(row: FreeClass, picking: Picking, formats: Formats) -> tuple[str, bool, str]:
    chosen = [piece for piece in row.pieces if piece.piece.key in picking.chosen]
    grams = picking.grams
    if chosen:
        whole = sum(piece.free_g for piece in chosen)
        pieces = "1 piece" if len(chosen) == 1 else f"{len(chosen)} pieces"
        if 0 < grams < whole:
            return f"Take {formats.kg(grams)} kg of {pieces}", True, ""
        return f"Take {pieces}, {formats.kg(whole)} kg", True, ""
    if grams:
        over = grams - row.usable_g
        hint = f"{formats.kg(over)} kg more than stands free within its dates." if over > 0 else ""
        return f"Take {formats.kg(grams)} kg, oldest first", not hint, hint
    usable = row.usable_g
    if not usable:
        return "Nothing within its dates", False, ""
    return f"Take all, {formats.kg(usable)} kg", True, ""


def _lean_act(row: FreeClass, picking: Picking, formats: Formats) -> tuple[str, bool, str]:
    lean = picking.percent
    of = f"all of {row.cut.name}" if not picking.chosen else f"{len(picking.chosen)} chosen"
    if lean is None:
        hint = "Lean lies between 0 and 100 per cent." if picking.typed else ""
        return "Type the lean", False, hint
    shown = formats.percent(lean / 100, 2 if lean % 1 else 0)
    if picking.chosen:
        return f"Keep {shown} as measured of {of}", True, ""
    return f"Keep {shown} as the class of {of}", True, ""
