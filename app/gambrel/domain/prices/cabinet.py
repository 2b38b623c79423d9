"""The cabinet as values: one line a saleable cut, and what has to earn together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from gambrel.domain.costing.methods import Method
from gambrel.domain.numbers.margins import margin
from gambrel.domain.numbers.mass import GRAMS_PER_KILO
from gambrel.domain.numbers.money import round_half_up
from gambrel.domain.prices.proposal import ForSale
from gambrel.domain.prices.schedule import Dated, Schedule
from gambrel.domain.trade.catalogue import Cut, Shop
from gambrel.domain.trade.tax import TaxScale, tax_scale


class LineState(StrEnum):
    """How a cut stands, in a word; not cut means none of it in the trade month."""

    BELOW_COST = "below cost"
    THIN = "thin"
    FINE = "fine"
    NO_PRICE = "no price"
    NOT_CUT = "not cut"


@dataclass(frozen=True, slots=True)
class CabinetLine:
    """One saleable cut. Money is minor units per kilogram, margins shares of one, before tax.

    ``grams`` nobody consumed of what came off in the trade month, and ``cost`` is of those;
    ``month_margin`` is what they earned at the prices in force when they were weighed.
    ``history`` holds every price so far, oldest first, its first without a moment, and
    ``schedule`` those to come as well. ``special`` is the one that runs, or the next to come.
    """

    cut: Cut
    grams: int
    cost: Decimal | None
    price: int | None
    margin: Decimal | None
    mark_up: Decimal | None
    month_margin: Decimal | None
    history: tuple[tuple[datetime | None, int], ...]
    state: LineState
    schedule: Schedule
    special: Dated | None

    def on_special(self, now: datetime) -> bool:
        """Whether the price in force is a special's."""
        return self.special is not None and self.special.since <= now


@dataclass(frozen=True, slots=True)
class Basket:
    """What has to earn together: one body's pieces, a species', or all of the week's."""

    key: str
    title: str
    lines: tuple[ForSale, ...]

    @property
    def cost(self) -> int:
        """What all of it cost, minor units."""
        return sum(line.cost for line in self.lines)

    def margin(self, prices: Mapping[str, int], tax: TaxScale) -> Decimal | None:
        """What it earns at these prices, as a share of one; a cut without a price is left out."""
        priced = [line for line in self.lines if line.cut.key in prices]
        sales = sum(prices[line.cut.key] * line.grams for line in priced)
        cost = sum(line.cost for line in priced)
        return margin(tax.net(Decimal(sales) / GRAMS_PER_KILO), Decimal(cost))

    def takings(self, prices: Mapping[str, int], tax: TaxScale) -> int:
        """What it brings in before tax at these prices, minor units, half up at the very end."""
        priced = [line for line in self.lines if line.cut.key in prices]
        sales = Fraction(sum(prices[line.cut.key] * line.grams for line in priced))
        net = sales * tax.over / (tax.under * GRAMS_PER_KILO)
        return round_half_up(net.numerator, net.denominator)


@dataclass(frozen=True, slots=True)
class Cabinet:
    """The whole cabinet at a moment.

    ``bodies`` are broken and finished, newest first; ``species`` hold all of the trade month.
    ``note`` says where the costing had to go another way; ``left_out`` counts open stages, whose
    figures are not known yet.
    """

    shop: Shop
    at: datetime
    method: Method
    lines: tuple[CabinetLine, ...]
    bodies: tuple[Basket, ...]
    species: tuple[Basket, ...]
    week: Basket
    prices: Mapping[str, int]
    left_out: int
    note: str = ""

    @property
    def tax(self) -> TaxScale:
        """How the shop's written prices become prices before tax."""
        return tax_scale(self.shop)

    @property
    def target(self) -> Decimal:
        """The margin that the shop wants, as a share of one."""
        return self.shop.target_margin_percent / 100

    @property
    def baskets(self) -> tuple[Basket, ...]:
        """All that can be solved for: bodies, then species, then the week."""
        return (*self.bodies, *self.species, self.week)

    def line(self, cut: str) -> CabinetLine | None:
        """A cut's line, if it has one."""
        return next((line for line in self.lines if line.cut.key == cut), None)

    def is_overtaken(self, now: datetime) -> bool:
        """Whether, since this was read, a price has come into force by itself."""
        return any(row.since <= now for line in self.lines for row in line.schedule.coming(self.at))

    def basket(self, key: str) -> Basket:
        """The basket of a key, or the week's where there is no such one."""
        return next((basket for basket in self.baskets if basket.key == key), self.week)

    def holding(self, cut: str) -> Iterable[Basket]:
        """The bodies that a cut came off, the last one broken first."""
        return (body for body in self.bodies if any(line.cut.key == cut for line in body.lines))
