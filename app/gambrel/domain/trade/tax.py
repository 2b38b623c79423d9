"""Prices before tax, exactly: a price that includes tax is a fraction of a minor unit."""

from __future__ import annotations

from decimal import Decimal
from math import gcd
from typing import NamedTuple

from gambrel.domain.trade.catalogue import Shop


class TaxScale(NamedTuple):
    """``price × over / under`` is a written price before tax; both are whole numbers."""

    over: int
    under: int

    def net(self, amount: Decimal | int) -> Decimal:
        """A written price or a takings sum before tax, in the unit given."""
        return Decimal(amount) * self.over / self.under


def tax_scale(shop: Shop) -> TaxScale:
    """The shop's tax as two whole numbers; 1 and 1 where prices stand before tax."""
    if not shop.prices_include_tax or not shop.tax_percent:
        return TaxScale(1, 1)
    decimals = max(0, -int(shop.tax_percent.as_tuple().exponent))
    over = 100 * 10**decimals
    under = over + int(shop.tax_percent.scaleb(decimals))
    common = gcd(over, under)
    return TaxScale(over // common, under // common)
