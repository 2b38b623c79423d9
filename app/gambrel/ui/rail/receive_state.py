"""The form at the door, as texts and flags. Pure: no Qt."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import Any

from gambrel.domain.bench.receiving import Delivery, claims, last_bought, next_key
from gambrel.domain.numbers.mass import parse_kg
from gambrel.domain.numbers.money import Currency
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.formats import DASH, Formats
from gambrel.domain.trade.records import PricedOn
from gambrel.services.rail import Door
from gambrel.ui.rail.state import HEAVY_G, LIFTING
from gambrel.ui.widgets.choice import Choice

NUMBERS = ("docket", "received", "price", "other", "temperature")
"""The fields that the keypad types into, in the order of the form."""


NEW = "+"
"""Stands for a supplier that is not in the book yet; no key of one looks so."""


@dataclass(frozen=True, slots=True)
class Entry:
    """What has been chosen and typed so far, as it was typed. Empty means not given."""

    portion: tuple[str, str] | None = None
    supplier: str = ""
    docket: str = ""
    received: str = ""
    price: str = ""
    other: str = ""
    temperature: str = ""
    killed_on: date | None = None
    priced_on: PricedOn = PricedOn.DOCKET
    body: str = ""
    supplier_ref: str = ""
    again: str = ""
    """Which of "portion" and "supplier" is chosen once more."""

    @property
    def choosing(self) -> bool:
        """Whether it is still open what came and from whom."""
        return self.portion is None or self.supplier in ("", NEW) or bool(self.again)


@dataclass(frozen=True, slots=True)
class ReceiveState:
    """The whole form. ``missing`` says what is still needed; empty where nothing is.

    While ``choosing`` is true it asks what came and from whom (`again` tells which of the two is
    chosen once more), then for the figures. While ``naming`` is true a new supplier's name is
    asked for.
    """

    choosing: bool
    again: str
    what: str
    supplier: str
    portions: tuple[Choice, ...]
    suppliers: tuple[Choice, ...]
    naming: bool
    numbers: dict[str, str]
    killed_on: str
    pays_docket: bool
    body: str
    supplier_ref: str
    claims: tuple[str, ...]
    missing: str
    act: str
    caution: str

    @property
    def can_receive(self) -> bool:
        """Whether nothing is missing."""
        return not self.missing


def portion_key(portion: tuple[str, str]) -> str:
    """One text for species and portion."""
    return "/".join(portion)


def portion_name(species: str, portion: str) -> str:
    """How a portion is said: ``Beef hindquarter``, and ``Lamb`` for a whole one."""
    return species.capitalize() if portion == "whole" else f"{species.capitalize()} {portion}"


def describe_entry(entry: Entry, door: Door, formats: Formats, now: datetime) -> ReceiveState:
    """What the form shows for an entry."""
    missing, found, act, heavy = "", [], "Take it in", False
    try:
        delivery = delivery_of(entry, door.shop.currency)
    except Refusal as refusal:
        missing = str(refusal)
    else:
        found = claims(delivery, formats, door.warmest)
        heavy = delivery.received_g >= HEAVY_G
        act = f"Take in {delivery.body} · {formats.kg(delivery.received_g, 2)} kg"
    today = business_day(now, door.shop)
    return ReceiveState(
        choosing=entry.choosing,
        again=entry.again,
        what=portion_name(*entry.portion) if entry.portion else "",
        supplier=next((each.name for each in door.suppliers if each.key == entry.supplier), ""),
        portions=tuple(
            Choice(portion_key(each), portion_name(*each), each == entry.portion)
            for each in door.portions
        ),
        suppliers=(
            *(Choice(each.key, each.name, each.key == entry.supplier) for each in door.suppliers),
            Choice(NEW, "New supplier", entry.supplier == NEW),
        ),
        naming=entry.supplier == NEW,
        numbers={name: getattr(entry, name) for name in NUMBERS},
        killed_on=_killed(entry.killed_on, today, formats),
        pays_docket=entry.priced_on is PricedOn.DOCKET,
        body=entry.body,
        supplier_ref=entry.supplier_ref,
        claims=tuple(claim.sentence for claim in found),
        missing=missing,
        act=act,
        caution=LIFTING if heavy else "",
    )


def _killed(day: date | None, today: date, formats: Formats) -> str:
    if day is None:
        return DASH
    ago = (today - day).days
    return f"{formats.short_day(day)} · {'today' if not ago else f'{ago} d ago'}"


def changed(entry: Entry, name: str, text: str, door: Door) -> Entry:
    """The entry after one field: a number's name, "portion", "supplier", "priced_on", "body", ...

    What came and from whom, once chosen, is chosen again after the field "again" with one of both.

    Raises:
        KeyError: A portion that the door does not offer.
    """
    if name == "portion":
        portions = {portion_key(each): each for each in door.portions}
        return _followed(replace(entry, portion=portions[text], again=""), door)
    if name == "supplier":
        return _followed(replace(entry, supplier=text, again=""), door)
    if name == "priced_on":
        return replace(entry, priced_on=PricedOn(text))
    texts: dict[str, Any] = {name: text}
    return replace(entry, **texts)


def _followed(entry: Entry, door: Door) -> Entry:
    """The entry with what follows from portion and supplier: the next name, the last price."""
    if entry.portion is None:
        return entry
    species, portion = entry.portion
    named = replace(entry, body=next_key(door.bodies, species, portion))
    before = last_bought(door.bodies, entry.supplier, species, portion)
    if before is None:
        return named
    text = door.shop.currency.text
    return replace(
        named,
        price=text(before.price),
        priced_on=before.priced_on,
        other=text(before.other_cost) if before.other_cost else "",
    )


def stepped(entry: Entry, days: int, today: date) -> Entry:
    """The day of slaughter moved by days: from yesterday where none was given, never past today."""
    if entry.killed_on is None:
        return replace(entry, killed_on=today - timedelta(days=1))
    return replace(entry, killed_on=min(entry.killed_on + timedelta(days=days), today))


def delivery_of(entry: Entry, currency: Currency) -> Delivery:
    """What an entry says, as values.

    Raises:
        Refusal: Something that is needed is missing, or a text is no number; the sentence names
            the first such thing in the order of the form.
    """
    if entry.portion is None:
        raise Refusal("Choose what came.")
    if not entry.supplier:
        raise Refusal("Choose who it came from.")
    if entry.supplier == NEW:
        raise Refusal("Type the new supplier's name, then Add.")
    docket = _grams(entry.docket, "docket weight") if entry.docket else None
    if docket is None and entry.priced_on is PricedOn.DOCKET:
        raise Refusal("Type the docket weight, or pay by the weighed weight.")
    if not entry.received:
        raise Refusal("Weigh it and type the weight.")
    if not entry.price:
        raise Refusal("Type the price per kilo.")
    if not entry.body.strip():
        raise Refusal("Give the body a name.")
    return Delivery(
        body=entry.body.strip(),
        species=entry.portion[0],
        portion=entry.portion[1],
        supplier=entry.supplier,
        received_g=_grams(entry.received, "weighed weight"),
        price=_money(entry.price, "price", currency),
        priced_on=entry.priced_on,
        docket_g=docket,
        other_cost=_money(entry.other, "other cost", currency) if entry.other else 0,
        supplier_ref=entry.supplier_ref,
        killed_on=entry.killed_on,
        temperature=Decimal(entry.temperature.removesuffix(".")) if entry.temperature else None,
    )


def _grams(text: str, what: str) -> int:
    try:
        grams = parse_kg(text.removesuffix("."))
    except ValueError:
        grams = 0
    if not grams:
        raise Refusal(f"The {what} is not a weight yet. Type it in kilograms.")
    return grams


def _money(text: str, what: str, currency: Currency) -> int:
    try:
        return currency.parse(text.removesuffix("."))
    except ValueError:
        raise Refusal(f"The {what} is not an amount yet. Type it in {currency.code}.") from None
