"""A whole set of prices for what has to earn together, from the cabinet as it stands."""

from __future__ import annotations

from decimal import Decimal

from gambrel.domain.prices.cabinet import Basket, Cabinet
from gambrel.domain.prices.limits import SolveRules
from gambrel.domain.prices.pricing import PriceLine
from gambrel.domain.prices.proposal import ForSale, PriceProposal, propose
from gambrel.domain.refusals import Refusal


def propose_for(
    cabinet: Cabinet, basket: Basket, target: Decimal, rules: SolveRules
) -> PriceProposal:
    """A whole set of prices by which a body, a species or the week earns a margin.

    Nothing is changed. A cut whose special runs keeps the special's price.

    Args:
        cabinet: The prices of today, which are the relative values.
        basket: What has to earn it.
        target: The margin wanted, as a share of one.
        rules: How the shop writes its prices, and the bounds of its cuts.
    Raises:
        Refusal: Nothing is for sale, a cut has no price, or the margin cannot be.
    """
    if not basket.lines:
        raise Refusal(f"{basket.title} has nothing for sale yet. Choose something else.")
    names = [line.cut.name for line in basket.lines if not cabinet.prices.get(line.cut.key)]
    if names:
        raise Refusal(f"{', '.join(names)}: no price yet. Set one first, it is the cut's value.")
    if not 0 <= target < 1:
        raise Refusal("A margin lies between 0 and 99 per cent. Choose another one.")
    lines = [_line(cabinet, line, rules) for line in basket.lines]
    return propose(lines, basket.cost, target, rules.endings, cabinet.tax)


def _line(cabinet: Cabinet, line: ForSale, rules: SolveRules) -> PriceLine:
    cut, limit = line.cut.key, rules.limit(line.cut.key)
    today, shown = cabinet.prices[cut], cabinet.line(cut)
    held = limit.held or (shown is not None and shown.on_special(cabinet.at))
    return PriceLine(
        cut=cut,
        grams=line.grams,
        value=today,
        sold=limit.sold,
        pin=today if held else None,
        floor=limit.floor,
        ceiling=limit.ceiling,
    )
