"""What people do at the cabinet: see what each cut earns, set prices, take a proposal, undo."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace
from datetime import datetime
from decimal import Decimal
from typing import TYPE_CHECKING

from gambrel.domain.costing.methods import Method
from gambrel.domain.prices.cabinet import Cabinet
from gambrel.domain.prices.dropping import Dropped, if_dropped
from gambrel.domain.prices.laying_out import cabinet_of, month_costs
from gambrel.domain.prices.order import in_cabinet_order, order_text, read_order
from gambrel.domain.prices.planning import Plan, plan_price
from gambrel.domain.prices.proposal import PriceProposal
from gambrel.domain.prices.schedule import Schedule
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.catalogue import Cut, Shop
from gambrel.domain.trade.retired import RETIRED, read_retired
from gambrel.services.price_acts import Planner, PriceAct, carry_out, check_price
from gambrel.services.settings import keep_setting

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book
    from gambrel.storage.work import Work

CABINET_ORDER = "cabinet_order"


def cabinet(book: Book, now: datetime, method: Method = Method.NRV) -> Cabinet:
    """The cabinet as it stands now.

    Reads the whole book: call it off the window's thread.

    Raises:
        Refusal: The book has no shop yet, or contradicts itself.
    """
    with book.reading() as work:
        trade, said = work.trade(), ""
        try:
            order = order_in(work)
        except Refusal as refusal:  # a cabinet out of order is better than none
            order, said = [], str(refusal)
        retired = read_retired(work.setting(RETIRED))
    found = cabinet_of(trade, now, method, order)
    lines = tuple(line for line in found.lines if line.grams or line.cut.key not in retired)
    return replace(found, lines=lines, note=f"{found.note} {said}".strip())


def costs_by_method(book: Book, now: datetime) -> dict[Method, dict[str, Decimal] | None]:
    """Each cut's cost per kilo by every method, side by side; None where prices are missing.

    Costs the whole book four times: call it off the window's thread.
    """
    with book.reading() as work:
        trade = work.trade()
    return {method: month_costs(trade, now, method) for method in Method}


def order_in(work: Work) -> list[str]:
    """The keys of the cabinet's cuts as their trays stand; empty where no order was ever set.

    Raises:
        Refusal: What was kept cannot be read.
    """
    text = work.setting(CABINET_ORDER)
    return read_order(text) if text else []


def as_trays_stand(work: Work, cuts: Iterable[Cut]) -> list[Cut]:
    """Cuts in the order of the trays, for lists and papers; as given where none can be read."""
    try:
        return in_cabinet_order(cuts, order_in(work))
    except Refusal:
        return list(cuts)


def keep_order(book: Book, order: Sequence[str]) -> None:
    """Keep the order in which the trays stand.

    Raises:
        Refusal: The book may not be written.
    """
    keep_setting(book, CABINET_ORDER, order_text(order))


def dropped(book: Book, cut: str, now: datetime, method: Method) -> Dropped:
    """What the trade month would have been without a cut (see `if_dropped`).

    Costs the whole book twice: call it off the window's thread.

    Raises:
        Refusal: A price is missing that the method needs.
    """
    with book.reading() as work:
        trade = work.trade()
    return if_dropped(trade, cut, now, method)


def set_price(
    book: Book, cut: str, price: int, now: datetime, reason: str = ""
) -> PriceAct:  # fmt: skip
    """Give a cut a regular price (minor units per kilogram) from now on.

    While a special runs, its price stays and what it returns to changes.

    Raises:
        Refusal: There is no such cut for sale, or the price cannot be.
    """

    def plan(schedule: Schedule, _shop: Shop) -> Plan:
        check_price(schedule.cut, price)
        return plan_price(schedule, price, now, reason)

    return carry_out(book, {cut: plan})


def take(
    book: Book, proposal: PriceProposal, now: datetime, cuts: Collection[str] | None = None
) -> PriceAct:
    """Take a proposal, whole or only some cuts of it, in one act; what stays as it is is left.

    Raises:
        Refusal: A price was changed meanwhile, or nothing would change; no price is changed.
    """
    lines = [line for line in proposal.lines if cuts is None or line.cut in cuts]
    wanted = [line for line in lines if line.price != line.today]
    if not wanted:
        raise Refusal("These are today's prices already. Nothing is to be taken.")

    def taken(price: int, today: int) -> Planner:
        def plan(schedule: Schedule, _shop: Shop) -> Plan:
            check_price(schedule.cut, price)
            if schedule.price_at(now) != today or schedule.runs(now):
                raise Refusal(
                    f"The price of {schedule.cut.name} has been changed meanwhile. "
                    "Look at it again."
                )
            return plan_price(schedule, price, now, "solved for the whole body")

        return plan

    return carry_out(book, {line.cut: taken(line.price, line.today) for line in wanted})
