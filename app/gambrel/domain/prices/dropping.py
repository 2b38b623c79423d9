"""What would happen if a cut were not sold any more: the warning before a loss is acted upon.

A cut that shows a loss, above all by weight, may still pay its way. What was paid for the body
stays paid; without the cut the others carry its share of it, and its takings are gone.
Source: the joint-cost chapter of any cost-accounting textbook; a published case is worked in
tests/published/test_dropping_a_cut.py.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from fractions import Fraction

from gambrel.domain.costing.costing import Costing, CutCost
from gambrel.domain.costing.lines import cut_lines
from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.numbers.margins import margin
from gambrel.domain.numbers.mass import GRAMS_PER_KILO
from gambrel.domain.numbers.money import round_half_up
from gambrel.domain.prices.laying_out import Standing, schedules_of
from gambrel.domain.trade.catalogue import Cut, CutKind
from gambrel.domain.trade.records import Trade
from gambrel.domain.trade.tax import TaxScale, tax_scale


@dataclass(frozen=True, slots=True)
class Load:
    """What another cut would carry: its cost per kilo before and after (minor units).

    ``more`` is the money in all; ``turns`` says that it would itself show a loss at its price.
    """

    cut: Cut
    before: Decimal
    after: Decimal
    more: int
    turns: bool


@dataclass(frozen=True, slots=True)
class Dropped:
    """What the trade month would have been without a cut; money is minor units, before tax.

    ``loss`` is what the cut shows as its loss now (negative where it earns), ``takings`` what it
    brings in at today's price, ``finish`` the work that would be saved, ``share`` the joint cost
    that it carries. ``others`` would carry that share, the one with the most of it first.
    """

    cut: Cut
    loss: int
    takings: int
    finish: int
    share: int
    others: tuple[Load, ...]

    @property
    def worse(self) -> int:
        """How much less the shop would have earned; negative where dropping it would pay.

        Nothing but the takings and the cut's own finishing depends on selling it.
        """
        return self.takings - self.finish


def if_dropped(trade: Trade, cut: str, now: datetime, method: Method = Method.WEIGHT) -> Dropped:
    """What the last four weeks would have been, had nobody sold a cut that came off all the same.

    What later stages took of it they would still have taken: only what stands for sale is dropped.

    Args:
        trade: A whole book.
        cut: The key of a saleable cut that has a price.
        now: Whose month, and whose prices.
        method: How joint cost is shared.
    Raises:
        Refusal: A price is missing that the method needs.
        KeyError: There is no such cut, or it has no price.
    """
    schedules = schedules_of(trade)
    found = {key: each.price_at(now) for key, each in schedules.items()}
    prices = {key: price for key, price in found.items() if price is not None}
    thrown = tuple(
        replace(each, kind=CutKind.WASTE) if each.key == cut else each for each in trade.cuts
    )
    costing = roll_up(trade, method)
    before = _lines(costing, now)
    after = _lines(roll_up(replace(trade, cuts=thrown), method), now)
    tax = tax_scale(trade.shop)
    own = [part for part in Standing(costing, now).month if part.piece.cut == cut]
    takings = _net(prices[cut] * sum(part.rest_g for part in own), tax)
    cost = sum(part.rest_cost for part in own)
    finish = sum(part.finish for part in own)
    return Dropped(
        cut=schedules[cut].cut,
        loss=cost - takings,
        takings=takings,
        finish=finish,
        share=cost - finish,
        others=_loads(before, after, cut, prices, tax),
    )


def _lines(costing: Costing, now: datetime) -> dict[str, CutCost]:
    return {line.cut.key: line for line in cut_lines(costing, Standing(costing, now).month)}


def _net(gram_minor: int, tax: TaxScale) -> int:
    net = Fraction(gram_minor * tax.over, tax.under * GRAMS_PER_KILO)
    return round_half_up(net.numerator, net.denominator)


def _loads(
    before: Mapping[str, CutCost],
    after: Mapping[str, CutCost],
    dropped: str,
    prices: Mapping[str, int],
    tax: TaxScale,
) -> tuple[Load, ...]:
    found = []
    for key, line in before.items():
        then = after.get(key)
        if key == dropped or then is None or then.cost == line.cost:
            continue
        was, now = line.cost_per_kilo, then.cost_per_kilo
        price = prices.get(key)
        turns = (
            price is not None and _loses(tax.net(price), now) and not _loses(tax.net(price), was)
        )
        found.append(Load(line.cut, was, now, then.cost - line.cost, turns))
    return tuple(sorted(found, key=lambda load: (-load.more, load.cut.key)))


def _loses(price: Decimal, cost: Decimal) -> bool:
    earned = margin(price, cost)
    return earned is not None and earned < 0
