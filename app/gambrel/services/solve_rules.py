"""Floors, ceilings, what is held and how prices end: kept in the book, so that a shop says it once.

And what a purchase would have to cost where those bounds leave a margin out of reach.
"""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from gambrel.domain.costing.costing import Costing
from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.scope import part_of_body
from gambrel.domain.prices.laying_out import basket_cost, bodies_behind
from gambrel.domain.prices.limits import SolveRules, read_rules, rules_text
from gambrel.domain.prices.purchase import Purchase, purchase_that_meets
from gambrel.domain.trade.records import Trade
from gambrel.services.settings import keep_setting, read_setting

if TYPE_CHECKING:  # the library behind the book is heavy; a screen is painted before it is loaded
    from gambrel.storage.book import Book

SOLVE_RULES = "solve_rules"


def solve_rules(book: Book) -> SolveRules | None:
    """The rules that the shop keeps; None where it has never set any.

    Raises:
        Refusal: What was kept cannot be read.
    """
    text = read_setting(book, SOLVE_RULES)
    return read_rules(text) if text else None


def keep_rules(book: Book, rules: SolveRules) -> None:
    """Keep the rules.

    Raises:
        Refusal: The book may not be written.
    """
    keep_setting(book, SOLVE_RULES, rules_text(rules))


def purchase_for(
    book: Book, basket: str, affordable: int, now: datetime, method: Method
) -> Purchase | None:  # fmt: skip
    """What a basket's bodies would have to be bought for, so that it costs at most so much.

    Costs the trade several times: call it off the window's thread.

    Args:
        book: An open book.
        basket: A basket's key, as the cabinet has it.
        affordable: Minor units.
        now: An aware moment.
        method: How joint cost is shared.
    Returns:
        None where not even a gift would do, or nothing was bought.
    """
    with book.reading() as work:
        trade = work.trade()
    return purchase_in(trade, basket, affordable, now, method)


def purchase_in(
    trade: Trade, basket: str, affordable: int, now: datetime, method: Method
) -> Purchase | None:  # fmt: skip
    """What `purchase_for` finds, in a trade that was read already."""
    bodies = bodies_behind(trade, basket)
    part = part_of_body(trade, basket) if bodies == [basket] else trade

    def cost_of(costing: Costing) -> int:
        return basket_cost(part, costing, basket, now)

    return purchase_that_meets(part, bodies, cost_of, affordable, method)
