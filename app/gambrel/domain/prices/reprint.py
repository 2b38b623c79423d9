"""Which tickets in the cabinet no longer say the price that is asked.

The ticket that stands is the last one that went out for a cut. Whatever changes the price makes it
wrong, also a special that begins or ends by itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from gambrel.domain.prices.prints import Job
from gambrel.domain.prices.specials import Special, special_at
from gambrel.domain.trade.around import PrintKind
from gambrel.domain.trade.catalogue import Cut
from gambrel.domain.trade.pricebook import PriceBook
from gambrel.domain.trade.records import PriceChange


class Why(StrEnum):
    """What is wrong with a ticket that stands."""

    DEARER = "dearer"
    CHEAPER = "cheaper"
    SPECIAL_BEGAN = "special began"
    SPECIAL_ENDED = "special ended"
    WAS_CHANGED = "another “was”"
    NO_PRICE = "no price any more"


@dataclass(frozen=True, slots=True)
class Standing:
    """The ticket of a cut that stands in the cabinet: what it says, and since when."""

    cut: str
    price: int
    at: datetime
    job: str


@dataclass(frozen=True, slots=True)
class Reprint:
    """A ticket to print anew; prices are minor units per kilo, ``now`` None without one."""

    cut: Cut
    printed: int
    now: int | None
    why: Why
    at: datetime


def standing_tickets(jobs: Iterable[Job]) -> dict[str, Standing]:
    """The last ticket of each cut that went out; the jobs may come in any order."""
    found: dict[str, Standing] = {}
    for job in sorted(jobs, key=lambda each: (each.job.at, each.job.key)):
        if job.job.kind is not PrintKind.TICKET or not job.is_out:
            continue
        for item in job.items:
            if item.price is not None:
                found[item.cut] = Standing(item.cut, item.price, job.job.at, job.job.key)
    return found


def to_reprint(
    cuts: Sequence[Cut],
    changes: Sequence[PriceChange],
    standing: Iterable[Standing],
    now: datetime,
) -> list[Reprint]:
    """The tickets that say something else than what is asked now, in the order of the cuts.

    Args:
        cuts: The catalogue; tickets of cuts that are gone from it are left alone.
        changes: Every price that stands in the book.
        standing: What stands in the cabinet (`standing_tickets`).
        now: An aware moment.
    """
    book = PriceBook(cuts, changes)
    tickets = {ticket.cut: ticket for ticket in standing}
    found = []
    for cut in cuts:
        ticket = tickets.get(cut.key)
        if ticket is None:
            continue
        price = book.at(cut.key, now)
        own = [change for change in changes if change.cut == cut.key]
        before, today = special_at(cut, own, ticket.at), special_at(cut, own, now)
        why = _why(ticket.price, price, before, today)
        if why is not None:
            found.append(Reprint(cut, ticket.price, price, why, ticket.at))
    return found


def _why(
    printed: int, now: int | None, before: Special | None, today: Special | None
) -> Why | None:
    """What is wrong with a ticket, or None where it says what is asked."""
    if now is None:
        return Why.NO_PRICE
    if _shown(today) is None and _shown(before) is not None:
        return Why.SPECIAL_ENDED
    if _shown(today) is not None and _shown(before) is None:
        return Why.SPECIAL_BEGAN
    if printed != now:
        return Why.DEARER if now > printed else Why.CHEAPER
    return Why.WAS_CHANGED if _shown(today) != _shown(before) else None


def _shown(special: Special | None) -> int | None:
    """The "was" that a ticket shows: that of a reduction."""
    return special.was if special is not None and special.is_lower else None
