"""A body at the door: what its docket says against what the scale and the thermometer say."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from gambrel.domain.numbers.mass import HEAVIEST_G
from gambrel.domain.numbers.money import extend
from gambrel.domain.numbers.scales import agree
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.catalogue import Shop
from gambrel.domain.trade.clock import business_day
from gambrel.domain.trade.formats import Formats
from gambrel.domain.trade.records import Body, PricedOn, body_order

WARMEST_CARCASE = Decimal(7)
"""Degrees Celsius in the core of a carcase or cut on arrival.

Source: Regulation (EC) 853/2004, as told in Regulation (EU) 2017/1981, recital, and UK SI
1995/539, schedule 14. A shop sets its own (`WARMEST_SETTING`); local codes come first.
"""

WARMEST_SETTING = "warmest-carcase"

_PREFIXES = {
    "side": "SIDE",
    "hindquarter": "HQ",
    "forequarter": "FQ",
    "primal": "PR",
    "carton": "CTN",
}
_COUNTED = re.compile(r"(?P<front>.*?)(?P<number>\d{1,9})", re.ASCII | re.DOTALL)


@dataclass(frozen=True, slots=True)
class Delivery:
    """What was written down at the door. Weights are grams, money minor units, degrees Celsius."""

    body: str
    species: str
    portion: str
    supplier: str
    received_g: int
    price: int
    priced_on: PricedOn = PricedOn.DOCKET
    docket_g: int | None = None
    other_cost: int = 0
    supplier_ref: str = ""
    killed_on: date | None = None
    temperature: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Claim:
    """Something that is off with a delivery: a sentence, and the money in it (minor units)."""

    sentence: str
    money: int = 0


def body_of(delivery: Delivery, shop: Shop, now: datetime) -> Body:
    """The body that a delivery makes.

    Raises:
        Refusal: It cannot be: no weight, no key, a docket price without a docket weight, or
            slaughtered after it arrived.
    """
    if not delivery.body.strip():
        raise Refusal("The body has no name. Give it one, for example HQ-18.")
    for grams, what in ((delivery.received_g, "weighed"), (delivery.docket_g, "docket")):
        if grams is not None and not 0 < grams <= HEAVIEST_G:
            raise Refusal(f"The {what} weight is missing or too large. Weigh the body.")
    if delivery.price < 0 or delivery.other_cost < 0:
        raise Refusal("A price below zero cannot be. Look at the docket again.")
    if delivery.priced_on is PricedOn.DOCKET and delivery.docket_g is None:
        raise Refusal(
            "It is paid by the docket's weight, and that is missing. "
            "Give it, or pay by the weighed weight."
        )
    if delivery.killed_on is not None and delivery.killed_on > business_day(now, shop):
        raise Refusal("The day of slaughter is later than today. Look at the docket again.")
    return Body(
        key=delivery.body.strip(),
        species=delivery.species,
        portion=delivery.portion,
        supplier=delivery.supplier,
        received_at=now,
        received_g=delivery.received_g,
        price=delivery.price,
        priced_on=delivery.priced_on,
        docket_g=delivery.docket_g,
        other_cost=delivery.other_cost,
        supplier_ref=delivery.supplier_ref.strip(),
        killed_on=delivery.killed_on,
    )


def claims(delivery: Delivery, formats: Formats, warmest: Decimal = WARMEST_CARCASE) -> list[Claim]:
    """What is off with a delivery; nothing where docket, scale and thermometer agree.

    Args:
        delivery: As written down; a received weight of zero is not looked at yet.
        formats: How the shop writes money and weights.
        warmest: The shop's limit in degrees Celsius.
    """
    found = [docket_claim(delivery, formats), _temperature_claim(delivery, warmest)]
    return [claim for claim in found if claim is not None]


def docket_claim(body: Body | Delivery, formats: Formats) -> Claim | None:
    """How the weighed weight of a body differs from its docket by more than scales do."""
    docket, received = body.docket_g, body.received_g
    if not docket or not received or agree(received, docket):
        return None
    off = docket - received
    money = extend(body.price, abs(off))
    share = formats.percent(Decimal(abs(off)) / docket)
    amount = f"{formats.kg(abs(off))} kg ({share})"
    if off < 0:
        return Claim(
            f"It weighs {amount} more than the docket says. Look at hook and tare, and weigh again."
        )
    if body.priced_on is PricedOn.RECEIVED:
        return Claim(
            f"It weighs {amount} less than the docket says. You pay for what was weighed; "
            "tell the supplier."
        )
    return Claim(
        f"It weighs {amount} less than the docket says: {formats.money(money)} to claim at "
        f"{formats.per_kilo(body.price)} a kilo.",
        money,
    )


def _temperature_claim(delivery: Delivery, warmest: Decimal) -> Claim | None:
    warm = delivery.temperature
    if warm is None or warm <= warmest:
        return None
    return Claim(
        f"Its core is {warm} °C, and the limit is {warmest} °C. Decide by your local code whether "
        "to take it, and write down what was done."
    )


def next_key(bodies: Iterable[Body], species: str, portion: str) -> str:
    """A name for the next body of a portion: HQ-18 after HQ-17, and never one that is taken.

    The shop's own last name for that portion is counted on, with its leading zeros; before the
    first one a name is made from the portion, or for a whole animal from its species.
    """
    rows = sorted(bodies, key=body_order)
    taken = {body.key for body in rows}
    front, number, width = f"{_PREFIXES.get(portion, species.upper())}-", 0, 2
    for body in reversed(rows):
        match = _COUNTED.fullmatch(body.key)
        if match and (body.species, body.portion) == (species, portion):
            front, number, width = match["front"], int(match["number"]), len(match["number"])
            break
    while (key := f"{front}{number + 1:0{width}d}") in taken:
        number += 1
    return key


def supplier_key(name: str, taken: Iterable[str]) -> str:
    """A short key for a new supplier: its first word in plain letters, counted on if taken."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    words = re.findall("[a-z0-9]+", plain)
    front = words[0][:20] if words else "supplier"
    known, key, number = set(taken), front, 1
    while key in known:
        number += 1
        key = f"{front}-{number}"
    return key


def last_bought(bodies: Sequence[Body], supplier: str, species: str, portion: str) -> Body | None:
    """The body that was last bought of this portion from this supplier, for its price."""
    rows = [
        body
        for body in bodies
        if (body.supplier, body.species, body.portion) == (supplier, species, portion)
    ]
    return max(rows, key=body_order, default=None)
