"""What people do at the rail: see what hangs, take a body in, weigh one again."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal
from typing import TYPE_CHECKING

from gambrel.domain.bench.cautions import OFF_RAIL_SETTING, off_rail_limit
from gambrel.domain.bench.rail import HangingBody, hanging
from gambrel.domain.bench.receiving import Claim, Delivery, body_of, claims
from gambrel.domain.bench.shop_limits import HANG, WARMEST
from gambrel.domain.numbers.mass import HEAVIEST_G
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.catalogue import Shop, Supplier
from gambrel.domain.trade.formats import Formats
from gambrel.domain.trade.records import Body, Reweigh, Trade
from gambrel.domain.trade.titles import body_title
from gambrel.services.suppliers import add_supplier_card, blank_card

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book
    from gambrel.storage.work import Work

CLAIM = "claim:"
"""With a body's key after it, the setting that keeps what was off when the body came."""


@dataclass(frozen=True, slots=True)
class Rail:
    """What hangs, and the notes of what was off when it came, by body."""

    shop: Shop
    bodies: tuple[HangingBody, ...]
    claims: Mapping[str, str]
    now: datetime
    off_rail: timedelta
    """How long the shop lets something be out of the cold."""


@dataclass(frozen=True, slots=True)
class Door:
    """What a delivery may be chosen from: the shop's suppliers, portions and former bodies.

    ``portions`` are species and portion, bought or with a cutting list; what came most often
    stands first. ``warmest`` is the shop's limit in degrees Celsius.
    """

    shop: Shop
    suppliers: tuple[Supplier, ...]
    portions: tuple[tuple[str, str], ...]
    bodies: tuple[Body, ...]
    warmest: Decimal


@dataclass(frozen=True, slots=True)
class Received:
    """A body that was taken in, and what was off with it."""

    body: Body
    claims: tuple[Claim, ...]


def rail(book: Book, now: datetime) -> Rail:
    """What hangs now, what must be broken first at the head.

    Raises:
        Refusal: The book has no shop yet.
    """
    with book.reading() as work:
        trade = work.trade()
        limits = {kind: int(each.read(work.setting(each.setting))) for kind, each in HANG.items()}
        bodies = tuple(hanging(trade, now, limits))
        notes = {row.body.key: work.setting(CLAIM + row.body.key) for row in bodies}
        cold = off_rail_limit(work.setting(OFF_RAIL_SETTING))
    kept = {key: note for key, note in notes.items() if note}
    return Rail(trade.shop, bodies, kept, now, cold)


def door(book: Book) -> Door:
    """What the form at the door offers.

    Raises:
        Refusal: The book has no shop yet.
    """
    with book.reading() as work:
        trade = work.trade()
        limit = warmest(work)
    bought = Counter((body.species, body.portion) for body in trade.bodies)
    came = Counter(body.supplier for body in trade.bodies)
    listed = dict.fromkeys((line.species, line.portion) for line in trade.lists)
    portions = sorted({**listed, **bought}, key=lambda each: -bought[each])
    suppliers = sorted(trade.suppliers, key=lambda each: -came[each.key])
    return Door(trade.shop, tuple(suppliers), tuple(portions), trade.bodies, limit)


def add_supplier(book: Book, name: str) -> Supplier:
    """Take a new supplier into the book.

    Raises:
        Refusal: No name, too long a one, or one that is there already.
    """
    made = add_supplier_card(book, blank_card(name)).after
    assert made is not None
    return made.supplier


def receive(book: Book, delivery: Delivery, formats: Formats, now: datetime) -> Received:
    """Take a body in, and keep what is off with it as a note.

    Raises:
        Refusal: The name is taken, the supplier unknown, or the delivery cannot be.
    """
    with book.transaction() as work:
        trade = work.trade()
        body = body_of(delivery, trade.shop, now)
        if any(other.key == body.key for other in trade.bodies):
            raise Refusal(f"There is a body {body.key} already. Give this one another name.")
        if all(supplier.key != body.supplier for supplier in trade.suppliers):
            raise Refusal("The supplier is not in the book. Choose one of those shown.")
        found = tuple(claims(delivery, formats, warmest(work)))
        work.add([body])
        if found:
            work.set_setting(CLAIM + body.key, "\n".join(claim.sentence for claim in found))
    return Received(body, found)


def reweigh(book: Book, body: str, grams: int, now: datetime) -> Reweigh:
    """Weigh a hanging body again; what it lost since the last weighing is hang loss.

    Raises:
        Refusal: There is no such body, nothing of it hangs, or the weight cannot be.
    """
    if not 0 < grams <= HEAVIEST_G:
        raise Refusal("That is no weight of a body. Type what the scale shows, in kilograms.")
    with book.transaction() as work:
        row = _hanging_row(work.trade(), body, now)
        if now <= row.weighed_at:
            raise Refusal(
                f"{body_title(row.body)} was weighed later than this station's clock shows. "
                "Set the clock right, then weigh again."
            )
        made = Reweigh(body, now, grams)
        work.add([made])
    return made


def _hanging_row(trade: Trade, key: str, now: datetime) -> HangingBody:
    body = next((body for body in trade.bodies if body.key == key), None)
    if body is None:
        raise Refusal(f"There is no body {key} in the book. Choose one that hangs.")
    row = next((row for row in hanging(trade, now) if row.body.key == key), None)
    if row is None or not row.weight_g:
        raise Refusal(f"Nothing of {body_title(body)} hangs any more, so it cannot be weighed.")
    return row


def warmest(work: Work) -> Decimal:
    """The shop's limit for the core of a body on arrival, in degrees Celsius."""
    return WARMEST.read(work.setting(WARMEST.setting))
