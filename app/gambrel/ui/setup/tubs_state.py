"""What the Tubs section shows, as texts and flags. Pure: no Qt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from gambrel.domain.bench.tubs import MOST_TUBS, NO_TUB, Tub
from gambrel.domain.trade.formats import Formats
from gambrel.ui.setup.rows_state import RowState

CARE = "The block takes a tub's weight off at a tap, in this order. Weigh each one clean and dry."
TAP_ONE = "Tap a tub to weigh it, to name it or to move it."
NO_TUBS = "There is no tub yet. Weigh the first as a new tub."
NEW = "\n"
"""Chosen while a new tub is made; no tub has such a name."""


@dataclass(frozen=True, slots=True)
class Draft:
    """The tub that is chosen, or `NEW`, and what was typed for it. ``name`` None is untouched."""

    chosen: str = ""
    name: str | None = None
    kilos: str = ""
    refusal: str = ""

    @property
    def grams(self) -> int | None:
        """What the typed kilos weigh; None for nothing typed."""
        return int(Decimal(self.kilos) * 1000) if self.kilos else None

    def type(self, kilos: str) -> Draft:
        """With other kilos."""
        return self if kilos == self.kilos else replace(self, kilos=kilos, refusal="")


@dataclass(frozen=True, slots=True)
class TubsState:
    """All of the section. With no tub chosen ``title`` is empty and ``about`` says what to do."""

    rows: tuple[RowState, ...]
    can_begin: bool
    full: str
    title: str
    about: str
    name: str
    kilos: str
    refusal: str
    act: str
    can_act: bool
    new: bool
    can_earlier: bool
    can_later: bool
    from_scale: str


def describe(
    tubs: Sequence[Tub], draft: Draft, formats: Formats, scale_g: int | None = None
) -> TubsState:
    """The section's texts.

    Args:
        tubs: The shop's tubs, the one of no weight first.
        draft: What is chosen and typed.
        formats: How the shop writes weights.
        scale_g: What stands on the scale at rest; None where it may not be taken.
    """
    new = draft.chosen == NEW
    found = next((tub for tub in tubs if tub.name == draft.chosen and tub != NO_TUB), None)
    place = tubs.index(found) if found else 0
    name = found.name if found and draft.name is None else draft.name or ""
    grams = found.grams if found and draft.grams is None else draft.grams
    whole = bool(name.strip()) and grams is not None
    same = found is not None and (name.strip(), grams) == (found.name, found.grams)
    full = len(tubs) >= MOST_TUBS
    return TubsState(
        rows=tuple(_row(tub, draft.chosen, formats) for tub in tubs),
        can_begin=not full,
        full=f"The block has room for {MOST_TUBS} tubs." if full else "",
        title="A new tub" if new else (found.name if found else ""),
        about="" if new or found else (TAP_ONE if len(tubs) > 1 else NO_TUBS),
        name=name,
        kilos=draft.kilos or (formats.kg(found.grams) if found else ""),
        refusal=draft.refusal,
        act="Add" if new else "Keep",
        can_act=whole if new else found is not None and not same,
        new=new,
        can_earlier=place > 1,
        can_later=0 < place < len(tubs) - 1,
        from_scale="" if scale_g is None else f"Take {formats.kg(scale_g)} kg from the scale",
    )


def _row(tub: Tub, chosen: str, formats: Formats) -> RowState:
    if tub == NO_TUB:
        return RowState(tub.name, "No tub", "always first", formats.kg(0), "kg", fixed=True)
    return RowState(tub.name, tub.name, "", formats.kg(tub.grams), "kg", chosen=tub.name == chosen)
