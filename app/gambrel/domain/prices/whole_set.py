"""A whole set of prices for what has to earn together, from the cabinet as it stands."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from gambrel.domain.prices.cabinet import Basket, Cabinet
from gambrel.domain.prices.endings import Endings
from gambrel.domain.prices.proposal import PriceProposal, propose, with_bounds
from gambrel.domain.refusals import Refusal


def propose_for(
    cabinet: Cabinet,
    basket: Basket,
    target: Decimal,
    endings: Endings,
    pins: Mapping[str, int],
    floors: Mapping[str, int] | None = None,
    ceilings: Mapping[str, int] | None = None,
) -> PriceProposal:
    """A whole set of prices by which a body (or the week) earns a margin; nothing is changed.

    Args:
        cabinet: The prices of today, which are the relative values.
        basket: What has to earn it.
        target: The margin wanted, as a share of one.
        endings: How the shop writes its prices.
        pins: Prices that stay, by cut.
        floors: The least that a cut may sell for.
        ceilings: The most that a cut may sell for.
    Raises:
        Refusal: Nothing is for sale, a cut has no price, or the margin cannot be.
    """
    if not basket.lines:
        raise Refusal(f"{basket.title} has nothing for sale yet. Choose another body.")
    names = [line.cut.name for line in basket.lines if not cabinet.prices.get(line.cut.key)]
    if names:
        raise Refusal(f"{', '.join(names)}: no price yet. Set one first, it is the cut's value.")
    if not 0 <= target < 1:
        raise Refusal("A margin lies between 0 and 99 per cent. Choose another one.")
    lines = with_bounds(
        basket.lines, cabinet.prices, pins=pins, floors=floors, ceilings=ceilings
    )  # fmt: skip
    return propose(lines, basket.cost, target, endings, cabinet.tax)
