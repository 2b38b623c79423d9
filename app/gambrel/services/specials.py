"""Dated specials: set over business days, returning by themselves, ended early."""

from __future__ import annotations

from datetime import date, datetime
from typing import TYPE_CHECKING

from gambrel.domain.prices.planning import Plan, plan_end
from gambrel.domain.prices.schedule import Schedule
from gambrel.domain.prices.special_days import plan_special_days
from gambrel.domain.trade.catalogue import Shop
from gambrel.services.price_acts import PriceAct, carry_out, check_price

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book


def set_special(
    book: Book, cut: str, price: int, days: tuple[date, date], now: datetime, person: str = ""
) -> PriceAct:  # fmt: skip
    """Put a cut on special over business days; the regular price returns by itself.

    Args:
        book: An open book.
        cut: What is on special.
        price: Minor units per kilogram, as the shop writes its prices.
        days: The first and the last business day.
        now: An aware moment.
        person: Who does it.
    Raises:
        Refusal: There is no such cut for sale, its price or the days cannot be, another special or
            another price is planned for them, or there is no price to return to.
    """

    def plan(schedule: Schedule, shop: Shop) -> Plan:
        check_price(schedule.cut, price)
        return plan_special_days(schedule, price, *days, now, shop)

    return carry_out(book, {cut: plan}, person)


def end_special(book: Book, cut: str, now: datetime, person: str = "") -> PriceAct:
    """Bring the regular price back now; a special that is still to come is called off.

    Raises:
        Refusal: There is no such cut for sale, or it is on no special.
    """
    return carry_out(book, {cut: lambda schedule, _shop: plan_end(schedule, now)}, person)
