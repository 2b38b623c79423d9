"""The price that goes on paper: in force, more than nothing, and not ten times what it was."""

from __future__ import annotations

from datetime import datetime

from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.catalogue import Cut
from gambrel.domain.trade.pricebook import PriceBook

JUMP = 10
"""A price that is so many times the one before, or such a part of it, is taken for a slip of the
finger (common practice, no source); setting it once more says that it is meant."""


def asked_price(cut: Cut, prices: PriceBook, now: datetime) -> int:
    """What a cut costs per kilo at a moment, in minor units.

    Raises:
        Refusal: It has no price, one of nothing, or one that has jumped. The message has no full
            stop, since several may be joined.
    """
    past = [price for since, price in prices.history(cut.key) if since is None or since <= now]
    if not past:
        raise Refusal(f"{cut.name} has no price; give it one or leave it out")
    price = past[-1]
    if price <= 0:
        raise Refusal(f"{cut.name} has a price of nothing; give it a real one or leave it out")
    before = past[-2] if len(past) > 1 else price
    if before > 0 and (price >= before * JUMP or before >= price * JUMP):
        raise Refusal(
            f"the price of {cut.name} is {JUMP} times what it was or a tenth of it; correct it, or "
            "set it once more if it is meant"
        )
    return price
