"""Shelf tickets as plain values: what each says, and what is refused."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from difflib import get_close_matches

from gambrel.domain.prices.codes import SHELF_NUMBER, in_store_number
from gambrel.domain.prices.origin import blended_cuts, one_supplier
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.catalogue import Cut, CutKind
from gambrel.domain.trade.pricebook import PriceBook
from gambrel.domain.trade.records import Trade

KEEP_COLD = "Keep refrigerated."
COOK_THROUGH = "Cook through."
"""Short cautions; the local food code decides what else must stand on a ticket. Temperatures are
left to it, since codes differ (references, legal-limits.csv: AU cold <= 5 C, EU carcases and cuts
<= 7 C, EU minced meat <= 2 C). Minced meat is cooked through: common practice, no source."""

_MINCED = re.compile(
    r"\b(minced?|ground|sausages?|burgers?|patt(y|ies)|meatballs?|rissoles?)\b", re.IGNORECASE
)
"""English names of what is minced; a blend made out of trim counts whatever its name."""


_SHOWN = 12
"""How many cuts a refusal lists."""


@dataclass(frozen=True, slots=True)
class Ticket:
    """What one shelf ticket says. ``price`` is minor units per kilogram as the shop writes it.

    ``number`` is its EAN-13 in-store number, empty for a cut without a PLU. ``supplier`` is empty
    where the meat in the cabinet is not all from one.
    """

    cut: str
    name: str
    price: int
    number: str
    supplier: str
    cautions: tuple[str, ...]


def make_tickets(trade: Trade, wanted: Sequence[str] | None, now: datetime) -> list[Ticket]:
    """The tickets for some cuts, or for every tray cut that has a price.

    Args:
        trade: A whole book.
        wanted: Keys of cuts, in the order in which they shall be printed; None for all.
        now: Whose prices, and what stands in the cabinet.
    Raises:
        Refusal: A cut is unknown, has no price, or a PLU that no barcode holds; all are named.
    """
    prices = PriceBook(trade.cuts, trade.prices)
    cuts = _chosen(trade, wanted, prices, now)
    supplied = one_supplier(trade, now)
    names = {supplier.key: supplier.name for supplier in trade.suppliers}
    minced = blended_cuts(trade)
    tickets, refused = [], []
    for cut in cuts:
        price = prices.at(cut.key, now)
        number = _number(cut)
        if price is None:
            refused.append(f"{cut.name} has no price; give it one or leave it out")
        elif number is None:
            refused.append(
                f"the PLU {cut.plu!r} of {cut.name} fits in no barcode; "
                "give it a number of up to five digits"
            )
        else:
            key = supplied.get(cut.key, "")
            cautions = _cautions(cut, minced)
            tickets.append(Ticket(cut.key, cut.name, price, number, names.get(key, key), cautions))
    if refused:
        raise Refusal(f"No tickets were made: {'; '.join(refused)}.")
    return tickets


def _chosen(
    trade: Trade, wanted: Sequence[str] | None, prices: PriceBook, now: datetime
) -> list[Cut]:
    known = {cut.key: cut for cut in trade.cuts}
    if wanted is None:
        found = [
            cut
            for cut in trade.cuts
            if cut.kind is CutKind.TRAY and prices.at(cut.key, now) is not None
        ]
        if not found:
            raise Refusal("No tray cut has a price yet; set prices first, then print tickets.")
        return found
    if not wanted:
        raise Refusal("No cut was chosen; name at least one.")
    unknown = [key for key in wanted if key not in known]
    if unknown:
        raise Refusal(" ".join(_unknown(key, list(known)) for key in unknown))
    return [known[key] for key in wanted]


def _unknown(key: str, known: list[str]) -> str:
    near = get_close_matches(key, known, n=3)
    if near:
        return f"There is no cut {key!r}; did you mean {' or '.join(near)}?"
    shown = ", ".join(sorted(known)[:12]) or "none at all"
    return (
        f"there is no cut {key!r}; the catalogue has {shown}{', ...' if len(known) > 12 else ''}."
    )


def _number(cut: Cut) -> str | None:
    """A cut's in-store number; empty without a PLU, None where its PLU does not fit."""
    if not cut.plu:
        return ""
    if not (cut.plu.isascii() and cut.plu.isdigit()):
        return None
    try:
        return in_store_number(SHELF_NUMBER, item=int(cut.plu))
    except ValueError:
        return None


def _cautions(cut: Cut, minced: set[str]) -> tuple[str, ...]:
    return (KEEP_COLD, COOK_THROUGH) if is_minced(cut, minced) else (KEEP_COLD,)


def is_minced(cut: Cut, blended: set[str]) -> bool:
    """Whether a cut is cooked through: made out of trim (``blended_cuts``), or minced by name."""
    words = f"{cut.name} {cut.key.replace('-', ' ').replace('_', ' ')}"
    return cut.key in blended or _MINCED.search(words) is not None
