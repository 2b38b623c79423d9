"""What one way of using the same kilos earns against another, and how long it may take.

What the kilos cost is paid either way, so only what they fetch and the minutes decide: a part's
kilos times its net realisable value per kilo, less work. Pure.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from gambrel.domain.costing.rates import terms_of
from gambrel.domain.costing.roll import minutes_cost
from gambrel.domain.numbers.mass import GRAMS_PER_KILO, HEAVIEST_G
from gambrel.domain.numbers.money import round_half_up
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.catalogue import Cut, Shop
from gambrel.domain.trade.tax import TaxScale, tax_scale

MOST_MINUTES = 10**9
"""A bound that no work reaches and that keeps every figure short."""

_MINUTES_AN_HOUR = 60


@dataclass(frozen=True, slots=True)
class Made:
    """A cut that a way makes of the kilos: its price in force and its share of them (of one).

    ``price`` is minor units per kilogram as the shop writes it, None where the cut has none.
    """

    cut: Cut
    price: int | None = None
    share: Decimal = Decimal(1)


@dataclass(frozen=True, slots=True)
class Way:
    """One thing to do with the kilos. What the shares leave of one is loss and fetches nothing."""

    name: str
    parts: tuple[Made, ...]
    minutes: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True)
class Choice:
    """One way against another. Money is minor units, rates are minor units per kilogram.

    ``worth`` is what a way's parts fetch before tax less their finishing, half up to a unit;
    ``rate`` the same for a kilo, not rounded. ``work`` is what the way's minutes cost more than
    the other's, below zero where it is the quicker one.
    """

    grams: int
    way: Way
    other: Way
    worth: int
    other_worth: int
    rate: Decimal
    other_rate: Decimal
    work: int
    work_per_hour: int

    @property
    def earns(self) -> int:
        """What the way earns more than the other, work paid; below zero where it earns less."""
        return self.worth - self.other_worth - self.work

    @property
    def pays_within(self) -> Decimal | None:
        """The most minutes that the way may take and still earn no less than the other.

        None where minutes cost nothing, and where it earns less however quick it is.
        """
        limit = self._limit
        return None if limit is None or limit < 0 else limit

    @property
    def spare_minutes(self) -> Decimal | None:
        """How many more minutes the way may take before it stops paying; zero where it does not.

        None where minutes cost nothing.
        """
        limit = self._limit
        return None if limit is None else max(limit - self.way.minutes, Decimal(0))

    @property
    def _limit(self) -> Decimal | None:
        if not self.work_per_hour:
            return None
        more = Decimal((self.worth - self.other_worth) * _MINUTES_AN_HOUR) / self.work_per_hour
        return self.other.minutes + more


def compare(grams: int, way: Way, other: Way, shop: Shop) -> Choice:
    """Set one way of using some kilos against another.

    A tray cut or trim fetches its price before tax less its finishing; a by-product its credit,
    which may be a fee; waste nothing.

    Args:
        grams: What is to be used, the same for both ways; whole grams, more than zero.
        way: The way that is asked about.
        other: What would be done instead.
        shop: Its tax and its hourly rate of work.
    Raises:
        Refusal: No weight, minutes below zero, shares that are no parts of one whole, or cuts
            for sale without a price, all of them named.
    Source: the choice between selling at split-off and going on, as cost-accounting textbooks have
        it: the difference in revenue less the difference in separable cost; joint cost is sunk.
    """
    if not 0 < grams <= HEAVIEST_G:
        raise Refusal("There is no weight to choose about. Weigh the piece, or give its kilos.")
    for each in (way, other):
        _check_way(each)
    _check_prices((*way.parts, *other.parts))
    scale = tax_scale(shop)
    rate, other_rate = _worth_of_a_kilo(way, scale), _worth_of_a_kilo(other, scale)
    return Choice(
        grams,
        way,
        other,
        _whole(rate * grams / GRAMS_PER_KILO),
        _whole(other_rate * grams / GRAMS_PER_KILO),
        _decimal(rate),
        _decimal(other_rate),
        minutes_cost(way.minutes - other.minutes, shop.work_per_hour),
        shop.work_per_hour,
    )


def worth_per_kilo(made: Made, scale: TaxScale) -> Fraction:
    """What a kilo of a cut fetches (minor units, exact), whatever its share.

    A cut that bears cost needs a price; `compare` refuses one without.
    """
    terms = terms_of({made.cut.key: made.cut}, scale.under)[made.cut.key]
    sales = (made.price or 0) * scale.over if terms.bears_cost else 0
    return Fraction(sales - terms.finish + terms.credit, scale.under)


def _worth_of_a_kilo(way: Way, scale: TaxScale) -> Fraction:
    parts = (Fraction(made.share) * worth_per_kilo(made, scale) for made in way.parts)
    return sum(parts, Fraction(0))


def _check_way(way: Way) -> None:
    if not way.minutes.is_finite() or not 0 <= way.minutes <= MOST_MINUTES:
        raise Refusal(f"{way.minutes} minutes of work cannot be. Give zero or more.")
    if not way.parts or any(not 0 < made.share <= 1 for made in way.parts):
        raise Refusal(
            f"The shares of {way.name} are no parts of a whole. Give each cut more than 0 and at "
            "most 100 per cent."
        )
    whole = sum((made.share for made in way.parts), Decimal(0))
    if whole > 1:
        percent = f"{(100 * whole).normalize():f} per cent"
        raise Refusal(
            f"The shares of {way.name} add up to {percent}. Give at most 100; what is missing "
            "counts as loss."
        )


def _check_prices(parts: Iterable[Made]) -> None:
    names = [made.cut.name for made in parts if made.cut.kind.bears_cost and made.price is None]
    if not names:
        return
    missing = list(dict.fromkeys(names))
    have, them = ("has", "it") if len(missing) == 1 else ("have", "them")
    raise Refusal(f"{' and '.join(missing)} {have} no price yet. Give {them} one, and ask again.")


def _whole(amount: Fraction) -> int:
    return round_half_up(amount.numerator, amount.denominator)


def _decimal(amount: Fraction) -> Decimal:
    return Decimal(amount.numerator) / amount.denominator
