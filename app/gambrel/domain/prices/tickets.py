"""Shelf tickets as plain values: what each says, and what is refused."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from difflib import get_close_matches

from gambrel.domain.prices.asked import asked_price
from gambrel.domain.prices.codes import SHELF_NUMBER, in_store_number
from gambrel.domain.prices.origin import blended_cuts, one_supplier, standing_origins
from gambrel.domain.prices.origin_lines import OriginRule, origin_rule, origin_text
from gambrel.domain.prices.special_days import last_day
from gambrel.domain.prices.specials import prior_price, specials_at
from gambrel.domain.prices.unit_price import Per, UnitPrice, unit_price
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.around import CutLabel, Origin
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
class Was:
    """What a special was before it, in minor units per kilo, and its last business day."""

    price: int | None
    last_day: date | None


@dataclass(frozen=True, slots=True)
class Ticket:
    """What one shelf ticket says. ``price`` is minor units per kilogram as the shop writes it.

    ``number`` is its EAN-13 in-store number, empty for a cut without a PLU. ``supplier`` is empty
    where the meat in the cabinet is not all from one. ``origin`` are lines that the law of the
    shop's country wants; they stand in place of the supplier. ``was`` is there for a special.
    """

    cut: str
    name: str
    price: int
    number: str
    supplier: str
    cautions: tuple[str, ...]
    unit_price: UnitPrice | None = None
    was: Was | None = None
    origin: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class TicketRules:
    """What a shop wants on its tickets.

    ``per`` is a second price beside the one per kilo; ``country`` an ISO 3166 code, by which that
    price is rounded, a prior price chosen and an origin wanted; ``texts`` the cuts' own cautions;
    ``retired`` cuts have a ticket only where they are named.
    """

    per: Per | None = None
    country: str = ""
    barcode: bool = True
    texts: Sequence[CutLabel] = ()
    origins: Sequence[Origin] = ()
    retired: Collection[str] = ()


PLAIN = TicketRules()


def make_tickets(
    trade: Trade, wanted: Sequence[str] | None, now: datetime, rules: TicketRules = PLAIN
) -> list[Ticket]:
    """The tickets for some cuts, or for every tray cut that has a price.

    Args:
        trade: A whole book.
        wanted: Keys of cuts, in the order in which they shall be printed; None for all.
        now: Whose prices, and what stands in the cabinet.
        rules: What else is wanted on them.
    Raises:
        Refusal: A cut is unknown, has no price or one of nothing, a PLU that no barcode holds, or
            an origin that the law wants and nobody has written down; all are named.
    """
    cuts = _on_sale(trade, rules.retired, now) if wanted is None else _chosen(trade, wanted)
    source = _Source(trade, now, rules)
    tickets: list[Ticket] = []
    refused: list[str] = []
    for cut in cuts:
        try:
            tickets.append(source.ticket(cut))
        except Refusal as refusal:
            refused.append(str(refusal))
    if refused:
        raise Refusal(f"No tickets were made: {'; '.join(refused)}.")
    return tickets


class _Source:
    """What a book says of its cuts at a moment, read once."""

    def __init__(self, trade: Trade, now: datetime, rules: TicketRules) -> None:
        self._shop, self._now, self._rules = trade.shop, now, rules
        self._prices = PriceBook(trade.cuts, trade.prices)
        self._specials = specials_at(trade.cuts, trade.prices, now)
        self._supplied = one_supplier(trade, now)
        self._names = {supplier.key: supplier.name for supplier in trade.suppliers}
        self._minced = blended_cuts(trade)
        self._texts = {text.cut: text for text in rules.texts}
        self._origins = standing_origins(trade, rules.origins, now) if rules.country else {}

    def ticket(self, cut: Cut) -> Ticket:
        """A cut's ticket; the refusal has no full stop, since several may be joined."""
        price = asked_price(cut, self._prices, self._now)
        number = _number(cut) if self._rules.barcode else ""
        if number is None:
            raise Refusal(
                f"the PLU {cut.plu!r} of {cut.name} fits in no barcode; "
                "give it a number of up to five digits"
            )
        key = self._supplied.get(cut.key, "")
        per, country = self._rules.per, self._rules.country
        return Ticket(
            cut=cut.key,
            name=cut.name,
            price=price,
            number=number,
            supplier=self._names.get(key, key),
            cautions=_cautions(cut, self._minced, self._texts.get(cut.key)),
            unit_price=unit_price(price, per, self._shop.currency, country) if per else None,
            was=self._was(cut),
            origin=self._origin(cut),
        )

    def _was(self, cut: Cut) -> Was | None:
        special = self._specials.get(cut.key)
        if special is None:
            return None
        return Was(prior_price(special, self._rules.country), last_day(special, self._shop))

    def _origin(self, cut: Cut) -> tuple[str, ...]:
        """Beef wants its origin on the counter too (Regulation (EC) 1760/2000, article 12)."""
        rule = origin_rule(self._rules.country, cut.species)
        origins, minced = self._origins.get(cut.key, ((), False))
        if rule is not OriginRule.BEEF or not origins:
            return ()
        told = origin_text(rule, origins, self._rules.country, minced=minced)
        if told.missing:
            raise Refusal(
                f"the origin of {cut.name} is not known ({'; '.join(told.missing)}); "
                "write it down for the supplier or the body"
            )
        return told.lines


def _cautions(cut: Cut, minced: set[str], text: CutLabel | None) -> tuple[str, ...]:
    """The cut's own lines, or the short cautions; the one on cooking is the last of two."""
    own = text or CutLabel(cut.key)
    cold = as_sentence(own.storage) or KEEP_COLD
    cook = as_sentence(own.cooking) or (COOK_THROUGH if is_minced(cut, minced) else "")
    return (cold, cook) if cook else (cold,)


def as_sentence(words: str) -> str:
    """Words that somebody typed, with a full stop if they end without any mark."""
    words = words.strip()
    return f"{words}." if words[-1:].isalnum() else words


def _on_sale(trade: Trade, retired: Collection[str], now: datetime) -> list[Cut]:
    prices = PriceBook(trade.cuts, trade.prices)
    found = [
        cut
        for cut in trade.cuts
        if cut.kind is CutKind.TRAY
        and cut.key not in retired
        and prices.at(cut.key, now) is not None
    ]
    if not found:
        raise Refusal("No tray cut has a price yet; set prices first, then print tickets.")
    return found


def _chosen(trade: Trade, wanted: Sequence[str]) -> list[Cut]:
    known = {cut.key: cut for cut in trade.cuts}
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


def is_minced(cut: Cut, blended: set[str]) -> bool:
    """Whether a cut is cooked through: made out of trim (``blended_cuts``), or minced by name."""
    words = f"{cut.name} {cut.key.replace('-', ' ').replace('_', ' ')}"
    return cut.key in blended or _MINCED.search(words) is not None
