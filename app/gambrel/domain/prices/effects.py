"""What another price would do, before it is taken: to a cut, to a body, to the week."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from gambrel.domain.numbers.margins import margin
from gambrel.domain.numbers.money import DEAREST_MINOR
from gambrel.domain.prices.cabinet import Basket, Cabinet, CabinetLine
from gambrel.domain.trade.formats import Formats, whole

DEAREST_PER_KILO = DEAREST_MINOR // 10**6
"""More than any kilogram costs in any currency's minor units; a sum of such prices still fits."""

DOUBTED_TIMES = 10
"""A price this many times the cost is asked about (common practice, no source)."""

FAR_TIMES = 4
"""So is one that is this many times today's, or today's this many times it (likewise)."""


@dataclass(frozen=True, slots=True)
class Change:
    """A margin before and with the new price (shares of one), and the money between them.

    ``money`` is what is earned more before tax, minor units: of a kilogram for a cut, of all that
    is there for a body or the week.
    """

    before: Decimal | None
    after: Decimal | None
    money: int

    @property
    def points(self) -> Decimal | None:
        """How far the margin moves, as a share of one; None where it is not known."""
        if self.before is None or self.after is None:
            return None
        return self.after - self.before


@dataclass(frozen=True, slots=True)
class Effect:
    """What another price would do."""

    cut: Change
    body: Change
    week: Change


def effect_of(cabinet: Cabinet, cut: str, price: int, body: str) -> Effect:
    """What a price (minor units per kilogram) would do to a cut, to a body and to the week."""
    line, tax = cabinet.line(cut), cabinet.tax
    alone = margin(tax.net(price), line.cost) if line and line.cost is not None else None
    more = whole(tax.net(price - (cabinet.prices.get(cut) or 0)))
    return Effect(
        cut=Change(line.margin if line else None, alone, more),
        body=_change(cabinet, cabinet.basket(body), cut, price),
        week=_change(cabinet, cabinet.week, cut, price),
    )


def _change(cabinet: Cabinet, basket: Basket, cut: str, price: int) -> Change:
    today, then, tax = cabinet.prices, {**cabinet.prices, cut: price}, cabinet.tax
    return Change(
        basket.margin(today, tax),
        basket.margin(then, tax),
        basket.takings(then, tax) - basket.takings(today, tax),
    )


def price_fault(name: str, price: int) -> str:
    """Why a price cannot be one, as a sentence; empty where it can.

    Args:
        name: The cut's.
        price: Minor units per kilogram.
    """
    if price <= 0:
        return f"{name} needs a price above zero. Type what a kilogram sells for."
    if price > DEAREST_PER_KILO:
        return f"No kilogram of {name} sells for that. Look at the decimal point."
    return ""


def price_doubt(line: CabinetLine, price: int, formats: Formats) -> str:
    """Why a price is probably a slip, as a sentence; empty when nothing is odd.

    A price of nothing is not asked about: it is refused.
    """
    if price <= 0:
        return ""
    if line.cost is not None and price >= DOUBTED_TIMES * line.cost > 0:
        return (
            f"{formats.money(price)} is {int(price / line.cost)} times what {line.cut.name} costs. "
            "Is the decimal point right?"
        )
    if line.price and (price >= FAR_TIMES * line.price or FAR_TIMES * price <= line.price):
        return (
            f"{formats.money(price)} is far from today's {formats.money(line.price)} for "
            f"{line.cut.name}. Is the decimal point right?"
        )
    return ""
