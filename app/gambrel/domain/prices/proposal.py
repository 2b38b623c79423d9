"""A proposed set of prices for one body, beside today's: nothing changes until it is taken."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import floor

from gambrel.domain.costing.costing import Costing, PieceCost
from gambrel.domain.numbers.mass import GRAMS_PER_KILO
from gambrel.domain.numbers.money import round_half_up
from gambrel.domain.prices.endings import Endings, Wish, write_prices
from gambrel.domain.prices.pricing import NO_TAX, Hold, PriceLine, Solution, solve_factor, takings
from gambrel.domain.resting import collector_resting
from gambrel.domain.trade.catalogue import Cut
from gambrel.domain.trade.records import Source
from gambrel.domain.trade.tax import TaxScale

ANY_PRICE = Endings()


@dataclass(frozen=True, slots=True)
class ForSale:
    """What stands of one cut from one body: grams that nobody consumed and what they cost."""

    cut: Cut
    grams: int
    cost: int


@dataclass(frozen=True, slots=True)
class ProposedPrice:
    """One cut's line: today's price (the relative value) and the proposed one, minor per kilo.

    ``weight`` are the grams that are really sold; ``effect`` is what this change alone brings in
    more, before tax (minor units).
    """

    cut: str
    grams: int
    today: int
    price: int
    hold: Hold
    weight: Fraction
    effect: int


@dataclass(frozen=True, slots=True)
class PriceProposal:
    """Money in minor units, before tax; margins as shares of one (None without takings).

    ``shortfall`` is takings that no allowed price brings in (negative: pins and floors alone bring
    in more than the target asks); ``holding`` names the cuts whose bounds hold it, and
    ``affordable_cost`` the most that it all may cost for the target to be met at the proposed
    prices.
    """

    lines: tuple[ProposedPrice, ...]
    cost: int
    target: Decimal
    takings_today: int
    takings: int
    shortfall: int
    holding: tuple[str, ...]
    affordable_cost: int
    tax: TaxScale = NO_TAX

    def takings_with(self, cuts: Collection[str]) -> int:
        """What would come in if only these cuts took their proposed price, minor units."""
        prices = [line.price if line.cut in cuts else line.today for line in self.lines]
        gross = sum((w.weight * p for w, p in zip(self.lines, prices, strict=True)), Fraction(0))
        return _minor(gross * self.tax.over / self.tax.under)

    def margin_with(self, cuts: Collection[str]) -> Decimal | None:
        """What would be earned then, as a share of one."""
        return _margin(self.takings_with(cuts), self.cost)

    @property
    def margin_today(self) -> Decimal | None:
        """What the body earns at today's prices."""
        return _margin(self.takings_today, self.cost)

    @property
    def margin(self) -> Decimal | None:
        """What it would earn at the proposed prices."""
        return _margin(self.takings, self.cost)


def for_sale(costing: Costing, body: str) -> list[ForSale]:
    """What one body has to live from: pieces of stages that took from it alone, by cut.

    Trim that went into a blend with other bodies has left at its cost and earns its margin there.
    """
    alone: set[str] = set()
    made_by = {cost.piece.key: cost.piece.stage for cost in costing.pieces}
    for stage in costing.stages:
        own = [
            take.key == body if take.source is Source.BODY else made_by[take.key] in alone
            for take in stage.takes
        ]
        if own and all(own):
            alone.add(stage.stage.key)
    return by_cut(costing, [cost for cost in costing.pieces if cost.piece.stage in alone])


def by_cut(costing: Costing, pieces: Sequence[PieceCost]) -> list[ForSale]:
    """What nobody consumed of some pieces, by saleable cut in the catalogue's order."""
    grams: dict[str, int] = {}
    money: dict[str, int] = {}
    for cost in pieces:
        if cost.kind.bears_cost and cost.rest_g:
            grams[cost.piece.cut] = grams.get(cost.piece.cut, 0) + cost.rest_g
            money[cost.piece.cut] = money.get(cost.piece.cut, 0) + cost.rest_cost
    known = costing.cuts_by_key.items()
    return [ForSale(cut, grams[key], money[key]) for key, cut in known if key in grams]


def propose(
    lines: Sequence[PriceLine],
    cost: int,
    target: Decimal,
    endings: Endings = ANY_PRICE,
    tax: TaxScale = NO_TAX,
) -> PriceProposal:
    """Solve the one factor and write its prices with the shop's endings.

    Where the target cannot be met the held cuts stand at their bounds; where pins and floors alone
    bring in more than it asks, the free cuts keep today's price, since giving them away would be
    the only other answer.

    Raises:
        ValueError: A margin of one or more.
    """
    with collector_resting():  # thousands of fractions, and none of them in a circle
        return _propose(lines, cost, target, endings, tax)


def _propose(
    lines: Sequence[PriceLine], cost: int, target: Decimal, endings: Endings, tax: TaxScale
) -> PriceProposal:
    solution = solve_factor(lines, cost, target, tax)
    written = _written(lines, solution, endings, tax)
    proposed = tuple(
        ProposedPrice(
            line.cut,
            line.grams,
            line.value,
            price,
            _hold(line, solution),
            line.weight,
            _minor(line.weight * (price - line.value) * tax.over / tax.under),
        )
        for line, price in zip(lines, written, strict=True)
    )
    reached = takings(lines, written, tax)
    return PriceProposal(
        lines=proposed,
        cost=cost,
        target=target,
        takings_today=_minor(takings(lines, [line.value for line in lines], tax)),
        takings=_minor(reached),
        shortfall=_minor(solution.shortfall),
        holding=solution.holding,
        affordable_cost=floor(reached * (1 - Fraction(target)) / GRAMS_PER_KILO),
        tax=tax,
    )


def _written(
    lines: Sequence[PriceLine], solution: Solution, endings: Endings, tax: TaxScale
) -> list[int]:
    factor = Fraction(1) if solution.shortfall < 0 else solution.factor
    wishes = [
        Wish(
            line.price(factor), line.weight, line.pin is not None,
            1 if line.floor is None else line.floor, line.ceiling,
        )
        for line in lines
    ]  # fmt: skip
    if solution.shortfall:
        return write_prices(wishes, endings, Fraction(0))
    return write_prices(wishes, endings, solution.needed * tax.under / tax.over)


def _hold(line: PriceLine, solution: Solution) -> Hold:
    return line.held(Fraction(1) if solution.shortfall < 0 else solution.factor)


def _minor(gram_minor: Fraction) -> int:
    amount = gram_minor / GRAMS_PER_KILO
    return round_half_up(amount.numerator, amount.denominator)


def _margin(takings_minor: int, cost: int) -> Decimal | None:
    return Decimal(takings_minor - cost) / takings_minor if takings_minor else None


def with_bounds(
    standing: Sequence[ForSale],
    today: Mapping[str, int],
    *,
    pins: Mapping[str, int] | None = None,
    floors: Mapping[str, int] | None = None,
    ceilings: Mapping[str, int] | None = None,
    sold: Mapping[str, Decimal] | None = None,
) -> list[PriceLine]:
    """What stands for sale as lines to be priced, with the bounds that a person set."""
    pins, floors, ceilings, sold = pins or {}, floors or {}, ceilings or {}, sold or {}
    return [
        PriceLine(
            cut=line.cut.key,
            grams=line.grams,
            value=today[line.cut.key],
            sold=sold.get(line.cut.key, Decimal(1)),
            pin=pins.get(line.cut.key),
            floor=floors.get(line.cut.key),
            ceiling=ceilings.get(line.cut.key),
        )
        for line in standing
    ]
