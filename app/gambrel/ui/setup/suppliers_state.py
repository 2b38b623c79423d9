"""What the Suppliers section shows, as texts and flags. Pure: no Qt."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from gambrel.domain.trade.around import Origin, OriginOf
from gambrel.domain.trade.catalogue import Supplier
from gambrel.services.suppliers import ORIGIN_FIELDS, Known, SupplierCard, blank_card
from gambrel.ui.setup.rows_state import RowState

NEW = "\n"
"""Chosen while a new supplier is made; none has such a key."""
NOBODY_YET = "There is no supplier yet. Tap “A new supplier”, and type the name."
TAP_ONE = "Tap a supplier to change it."
ORIGIN_CARE = (
    "The origin holds for all its bodies that have none of their own. Countries by name, plants by "
    "their number. Your local rules say what a label needs."
)
CAPTIONS = {
    "name": "Name",
    "contact": "How to reach it",
    "born": "Born in",
    "reared": "Reared in",
    "slaughtered": "Slaughtered in",
    "abattoir": "Abattoir number",
    "cut_in": "Cut in",
    "plant": "Cutting plant number",
}
"""The lines of the form, in their order."""


@dataclass(frozen=True, slots=True)
class Draft:
    """The supplier that is chosen, or `NEW`, and the lines that were typed for it."""

    chosen: str = ""
    typed: Mapping[str, str] = field(default_factory=dict)
    refusal: str = ""

    def type(self, line: str, text: str) -> Draft:
        """With another text in a line."""
        return replace(self, typed={**self.typed, line: text}, refusal="")


@dataclass(frozen=True, slots=True)
class SuppliersState:
    """All of the section. With none chosen ``title`` is empty and ``about`` says what to do."""

    rows: tuple[RowState, ...]
    title: str
    about: str
    texts: Mapping[str, str]
    follows: str
    refusal: str
    act: str
    can_act: bool
    aside: str


def chosen_of(known: Sequence[Known], draft: Draft) -> Known | None:
    """The supplier that is chosen, if it is in the book."""
    return next((each for each in known if each.card.key == draft.chosen), None)


def texts_of(card: SupplierCard) -> dict[str, str]:
    """A card as the lines of the form."""
    own = {"name": card.supplier.name, "contact": card.supplier.contact}
    return own | {name: getattr(card.origin, name) for name in ORIGIN_FIELDS}


def typed_card(known: Sequence[Known], draft: Draft) -> SupplierCard:
    """The chosen supplier as it was typed."""
    found = chosen_of(known, draft)
    card = found.card if found else blank_card()
    texts = {**texts_of(card), **draft.typed}
    return SupplierCard(
        Supplier(card.key, texts["name"], texts["contact"]),
        Origin(OriginOf.SUPPLIER, card.key, *(texts[name] for name in ORIGIN_FIELDS)),
    )


def describe(known: Sequence[Known], draft: Draft) -> SuppliersState:
    """The section's texts.

    Args:
        known: The suppliers of the book.
        draft: What is chosen and typed.
    """
    found, new = chosen_of(known, draft), draft.chosen == NEW
    card = typed_card(known, draft)
    some = new or found is not None
    return SuppliersState(
        rows=tuple(_row(each, draft.chosen) for each in known),
        title="A new supplier" if new else (found.card.supplier.name if found else ""),
        about=_about(known, found, new=new),
        texts=texts_of(card) if some else {},
        follows=_follows(found, card),
        refusal=draft.refusal,
        act="Add" if new else "Keep",
        can_act=bool(card.supplier.name.strip()) and (new or (some and card != _card(found))),
        aside="Leave" if new else ("Remove" if found and not found.bodies else ""),
    )


def _card(found: Known | None) -> SupplierCard | None:
    return found.card if found else None


def _row(known: Known, chosen: str) -> RowState:
    supplier, origin = known.card.supplier, known.card.origin
    where = " · ".join(dict.fromkeys(filter(None, (origin.born, origin.reared, origin.cut_in))))
    about = " · ".join(part for part in (where or "no origin", supplier.contact) if part)
    unit = "body" if known.bodies == 1 else "bodies"
    return RowState(
        supplier.key, supplier.name, about, str(known.bodies), unit,
        chosen=supplier.key == chosen,
    )  # fmt: skip


def _about(known: Sequence[Known], found: Known | None, *, new: bool) -> str:
    if new:
        return ""
    if found is None:
        return TAP_ONE if known else NOBODY_YET
    if not found.bodies:
        return "No body came from it yet."
    return f"{_bodies(found.bodies)} came from it."


def _follows(found: Known | None, card: SupplierCard) -> str:
    """What is to be said before the lines are kept."""
    if found is None or not found.bodies or card.origin == found.card.origin:
        return ""
    return (
        f"Labels of its {_bodies(found.bodies)} say the new origin from now on; printed ones keep "
        "the old."
    )


def _bodies(count: int) -> str:
    return "1 body" if count == 1 else f"{count} bodies"
