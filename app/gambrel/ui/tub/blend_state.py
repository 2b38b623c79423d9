"""The tub's right side: the blend that is being put together, as texts and flags. Pure: no Qt."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from gambrel.domain.bench.trim import FreeClass, FreePiece
from gambrel.domain.trade.catalogue import Cut
from gambrel.domain.trade.formats import DASH, Formats
from gambrel.ui.tub.draft import Draft, Extra, pieces_by_key
from gambrel.ui.tub.words import UNKNOWN, Marked, named, percent

CUT, INGREDIENT = "cut:", "ingredient:"
"""Before the key of a line, what it is of."""

COLD = "Keep it cold, under the limit of your code."
GUARD = "Mincer guard on, pusher in hand."
CODES = "Follow local codes and your training."


@dataclass(frozen=True, slots=True)
class LineText:
    """One line: trim by class, or an ingredient. ``mark`` is empty where there is nothing to say.

    ``strong`` are its allergens, shown in bold.
    """

    key: str
    name: str
    kilos: str
    under: str
    strong: str = ""
    mark: str = ""
    word: str = ""

    @property
    def spoken(self) -> str:
        """For a screen reader."""
        strong = f"contains {self.strong}" if self.strong else ""
        parts = (self.name, f"{self.kilos} kg", self.under, strong, self.word)
        return ", ".join(part for part in parts if part)


@dataclass(frozen=True, slots=True)
class BlendState:
    """All that stands on the right while a blend is put together."""

    title: str
    product: str
    lines: tuple[LineText, ...]
    kilos: str
    lean: str
    lean_caption: str
    lean_mark: str
    cost: str
    allergens: str
    cautions: str
    act: str
    can_start: bool
    empty: bool


@dataclass(frozen=True, slots=True)
class Beside:
    """What a blend is described with: costs per kilo by piece, the catalogue, the last species."""

    costs: Mapping[str, Decimal]
    cuts: Mapping[str, Cut]
    work_per_hour: int = 0
    species_before: str = ""


def describe_blend(
    draft: Draft, classes: Sequence[FreeClass], beside: Beside, formats: Formats
) -> BlendState:
    """The right side while a blend is put together."""
    pieces = pieces_by_key(classes)
    lean = draft.lean(pieces)
    mark = lean_mark(lean, draft)
    cost = draft.cost_per_kilo(beside.costs, beside.work_per_hour)
    kilos = formats.kg(draft.weight_g)
    meat = bool(draft.takes)
    product = beside.cuts.get(draft.product)
    return BlendState(
        title=draft.name or "New blend",
        product=product.name if product else "",
        lines=_lines(draft, pieces, beside, formats),
        kilos=kilos,
        lean=DASH if lean is None else percent(lean, formats, 2),
        lean_caption=_target(draft, formats) if meat else "lean of the meat",
        lean_mark=mark.meaning if meat else "",
        cost=formats.per_kilo(cost),
        allergens=", ".join(draft.allergens),
        cautions=cautions(draft, pieces, beside.species_before),
        act=f"Start the blend · {kilos} kg" if meat else "Take trim from the left first",
        can_start=meat,
        empty=draft.empty,
    )


def lean_mark(lean: Decimal | None, draft: Draft) -> Marked:
    """Whether the lean of the mix lies where it is wanted."""
    least, most = draft.lean_least, draft.lean_most
    if least is None and most is None:
        return Marked("", "")
    if lean is None:
        return Marked("info", UNKNOWN)
    if least is not None and lean < least:
        return Marked("watch", "too fat")
    if most is not None and lean > most:
        return Marked("watch", "too lean")
    return Marked("fine", "as wished")


def _target(draft: Draft, formats: Formats) -> str:
    least, most = draft.lean_least, draft.lean_most
    if least is None and most is None:
        return "lean of the meat"
    if least is not None and least == most:
        return f"lean, wished {percent(least, formats, 2)}"
    parts = []
    if least is not None:
        parts.append(f"from {percent(least, formats, 2)}")
    if most is not None:
        parts.append(f"to {percent(most, formats, 2)}")
    return f"lean, wished {' '.join(parts)}"


def _lines(
    draft: Draft, pieces: Mapping[str, FreePiece], beside: Beside, formats: Formats
) -> tuple[LineText, ...]:
    taken, wished = draft.grams_of(pieces), dict(draft.wished)
    keys = [key for key in beside.cuts if key in taken or key in wished]
    meat = [_cut_line(key, draft, pieces, beside, formats) for key in keys]
    return (*meat, *(_extra_line(extra, formats) for extra in draft.extras))


def _cut_line(
    key: str, draft: Draft, pieces: Mapping[str, FreePiece], beside: Beside, formats: Formats
) -> LineText:
    own = [(pieces[p.piece], p.grams) for p in draft.takes if _is_of(p.piece, key, pieces)]
    grams, wished = sum(g for _, g in own), dict(draft.wished).get(key)
    count = "1 piece" if len(own) == 1 else f"{len(own)} pieces"
    parts = [count if own else "nothing taken"]
    leans = {row.lean.percent if row.lean else None for row, _ in own}
    if len(leans) == 1 and (lean := leans.pop()) is not None:
        parts.append(f"{percent(lean, formats, 2)} lean")
    mark = Marked("", "")
    if wished is not None and wished != grams:
        off = formats.kg(abs(wished - grams))
        word = f"{off} kg short" if grams < wished else f"{off} kg more than wished"
        mark = Marked("watch", word)
    if wished is not None:
        parts.append(f"wished {formats.kg(wished)} kg")
    name = beside.cuts[key].name
    return LineText(CUT + key, name, formats.kg(grams), " · ".join(parts), "", *mark)


def _is_of(piece: str, cut: str, pieces: Mapping[str, FreePiece]) -> bool:
    return piece in pieces and pieces[piece].cut.key == cut


def _extra_line(extra: Extra, formats: Formats) -> LineText:
    ingredient = extra.ingredient
    parts = [f"lot {extra.lot}" if extra.lot else "no lot given"]
    if extra.use_by is not None:
        parts.append(f"use by {formats.short_day(extra.use_by)}")
    parts.append(formats.money(extra.cost))
    mark = Marked("", "") if extra.lot else Marked("info", "give its lot")
    return LineText(
        INGREDIENT + ingredient.key,
        ingredient.name,
        formats.kg(extra.grams),
        " · ".join(parts),
        ingredient.allergens,
        *mark,
    )


def cautions(draft: Draft, pieces: Mapping[str, FreePiece], species_before: str) -> str:
    """What to mind, in a few words; nothing while there is nothing to mind."""
    species = {pieces[p.piece].cut.species for p in draft.takes if p.piece in pieces}
    said = []
    if species and species_before and species != {species_before}:
        what = named(sorted(species)).capitalize()
        said.append(f"{what} after {species_before}: wash mincer, tubs and hands first.")
    if draft.allergens:
        said.append(f"Clean down after it: {named(draft.allergens)}.")
    if draft.takes:
        said += [COLD, GUARD]
    return " ".join((*said, CODES)) if said else ""
