"""Margin, mark-up, and the price that a margin asks for."""

from __future__ import annotations

from decimal import Decimal


def margin(price: Decimal, cost: Decimal) -> Decimal | None:
    """Gross margin of a price before tax: (price − cost) / price, as a share of one.

    None where the price is zero: a margin of nothing does not exist.
    """
    return (price - cost) / price if price else None


def mark_up(price: Decimal, cost: Decimal) -> Decimal | None:
    """Mark-up on cost: (price − cost) / cost, as a share of one; None where nothing was paid."""
    return (price - cost) / cost if cost else None


def price_for_margin(cost: Decimal, wanted: Decimal) -> Decimal:
    """The price before tax at which a cost earns a margin: cost / (1 − margin).

    Raises:
        ValueError: A margin of one or more, which no price reaches.
    """
    if wanted >= 1:
        raise ValueError("a margin must be below 100 per cent; no price earns all of itself")
    return cost / (1 - wanted)


def margin_from_mark_up(ratio: Decimal) -> Decimal:
    """The margin that a mark-up earns: u / (1 + u)."""
    return ratio / (1 + ratio)


def mark_up_from_margin(share: Decimal) -> Decimal:
    """The mark-up behind a margin: m / (1 − m).

    Raises:
        ValueError: A margin of one or more.
    """
    if share >= 1:
        raise ValueError("a margin must be below 100 per cent; no mark-up reaches it")
    return share / (1 - share)
