"""Who sells bodies to the shop, and where their animals come from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from gambrel.domain.bench.receiving import supplier_key
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import Origin, OriginOf
from gambrel.domain.trade.catalogue import Supplier
from gambrel.domain.trade.cut_edits import fair_name
from gambrel.services.settings import CHANGED_SINCE

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book
    from gambrel.storage.work import Work

ORIGIN_FIELDS = ("born", "reared", "slaughtered", "abattoir", "cut_in", "plant")
"""The words of an origin, in its own order."""
LONGEST_WORDS = 200
"""Letters of a contact, a country or a plant's number."""


@dataclass(frozen=True, slots=True)
class SupplierCard:
    """A supplier, and the origin of all its bodies that have none of their own."""

    supplier: Supplier
    origin: Origin

    @property
    def key(self) -> str:
        """The supplier's."""
        return self.supplier.key


@dataclass(frozen=True, slots=True)
class Known:
    """A supplier of the book, and how many bodies came of it."""

    card: SupplierCard
    bodies: int


@dataclass(frozen=True, slots=True)
class SupplierChange:
    """A card before an act and after it; None where there was or is none."""

    before: SupplierCard | None
    after: SupplierCard | None


def suppliers(book: Book) -> list[Known]:
    """All suppliers by name."""
    with book.reading() as work:
        cards, bodies = _cards(work), work.bodies_by_supplier()
    known = [Known(card, bodies.get(card.key, 0)) for card in cards.values()]
    return sorted(known, key=lambda each: (each.card.supplier.name.casefold(), each.card.key))


def blank_card(name: str = "", key: str = "") -> SupplierCard:
    """A card with nothing on it but a name."""
    return SupplierCard(Supplier(key, name), Origin(OriginOf.SUPPLIER, key))


def add_supplier_card(book: Book, card: SupplierCard) -> SupplierChange:
    """Take a new supplier into the book; its key comes from its name.

    Raises:
        Refusal: The name cannot be, or is taken.
    """
    with book.transaction() as work:
        known = _cards(work)
        key = supplier_key(card.supplier.name, known)
        made = _fair(_with_key(card, key), known, None)
        _write(work, made)
    return SupplierChange(None, made)


def change_supplier(book: Book, old: SupplierCard, new: SupplierCard) -> SupplierChange:
    """Change a supplier that was seen as ``old``.

    Raises:
        Refusal: Another station has changed it since, or the name cannot be.
    """
    with book.transaction() as work:
        known = _cards(work)
        if known.get(old.key) != old:
            raise Refusal(_CHANGED.format(old.supplier.name))
        made = _fair(new, known, old)
        _write(work, made)
    return SupplierChange(old, made)


def remove_supplier(book: Book, card: SupplierCard) -> SupplierChange:
    """Take a supplier out of the book of whom no body came.

    Raises:
        Refusal: Bodies came of it, or another station has changed it since.
    """
    with book.transaction() as work:
        if _cards(work).get(card.key) != card:
            raise Refusal(_CHANGED.format(card.supplier.name))
        _drop(work, card)
    return SupplierChange(card, None)


def take_back_supplier(book: Book, change: SupplierChange) -> None:
    """Let a supplier stand as it stood before an act.

    Raises:
        Refusal: Somebody has changed it since, or a body came of it meanwhile.
    """
    known = change.after or change.before
    assert known is not None
    with book.transaction() as work:
        if _cards(work).get(known.key) != change.after:
            raise Refusal(CHANGED_SINCE)
        if change.before is None:
            _drop(work, known)
        else:
            _write(work, change.before)


_CHANGED = "Another station has changed {0} since. It stands here as it is now: look at it again."


def _cards(work: Work) -> dict[str, SupplierCard]:
    origins = {row.key: row for row in work.every(Origin) if row.kind is OriginOf.SUPPLIER}
    return {
        row.key: SupplierCard(row, origins.get(row.key, Origin(OriginOf.SUPPLIER, row.key)))
        for row in work.suppliers()
    }


def _with_key(card: SupplierCard, key: str) -> SupplierCard:
    return SupplierCard(replace(card.supplier, key=key), replace(card.origin, key=key))


def _fair(
    card: SupplierCard, known: Mapping[str, SupplierCard], old: SupplierCard | None
) -> SupplierCard:
    """The card as it is kept; a name that was loaded so may stay as it is."""
    supplier = card.supplier
    if old is None or old.supplier.name != supplier.name:
        others = [each.supplier.name for each in known.values() if each.key != card.key]
        supplier = replace(supplier, name=fair_name(supplier.name, "A supplier", others))
    words = [" ".join(getattr(card.origin, name).split()) for name in ORIGIN_FIELDS]
    contact = " ".join(supplier.contact.split())
    if any(len(each) > LONGEST_WORDS for each in (contact, *words)):
        raise Refusal(f"A line is longer than {LONGEST_WORDS} letters. Shorten it.")
    origin = Origin(OriginOf.SUPPLIER, supplier.key, *words)
    return SupplierCard(replace(supplier, contact=contact), origin)


def _write(work: Work, card: SupplierCard) -> None:
    work.keep(card.supplier)
    if any(getattr(card.origin, name) for name in ORIGIN_FIELDS):
        work.keep(card.origin)
    else:
        work.drop(card.origin)


def _drop(work: Work, card: SupplierCard) -> None:
    bodies = work.bodies_by_supplier().get(card.key, 0)
    if bodies:
        came = "1 body came" if bodies == 1 else f"{bodies} bodies came"
        raise Refusal(f"{came} from {card.supplier.name}, so it stays in the record.")
    work.drop(card.origin)
    work.drop(card.supplier)
