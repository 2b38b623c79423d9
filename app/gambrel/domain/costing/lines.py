"""A costing gathered by cut: what stands for sale, what it cost, and what it earns."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from gambrel.domain.costing.costing import Costing, CutCost, PieceCost
from gambrel.domain.numbers.margins import margin
from gambrel.domain.numbers.mass import GRAMS_PER_KILO
from gambrel.domain.trade.catalogue import Cut
from gambrel.domain.trade.tax import TaxScale, tax_scale


@dataclass(slots=True)
class _Sum:
    net_g: int = 0
    cost: int = 0
    sales: int = 0
    priced: bool = True


def cut_lines(costing: Costing, pieces: Iterable[PieceCost] | None = None) -> list[CutCost]:
    """One line a cut, in the catalogue's order, for what nobody consumed of the given pieces.

    A cut that was consumed to the last gram has no line.
    """
    sums: dict[str, _Sum] = defaultdict(_Sum)
    for cost in costing.pieces if pieces is None else pieces:
        grams = cost.piece.gross_g - cost.piece.tare_g - cost.consumed_g
        if not grams:
            continue
        line = sums[cost.piece.cut]
        line.net_g += grams
        line.cost += cost.rest_share + cost.finish
        if cost.price is None:
            line.priced = False
        else:
            line.sales += cost.price * grams
    scale = tax_scale(costing.shop)
    known = costing.cuts_by_key.items()
    return [_line(cut, sums[key], scale) for key, cut in known if key in sums]


def _line(cut: Cut, line: _Sum, scale: TaxScale) -> CutCost:
    if not line.priced:
        return CutCost(cut, line.net_g, line.cost, None, None)
    price = Decimal(line.sales) / line.net_g
    cost = Decimal(line.cost * GRAMS_PER_KILO) / line.net_g
    return CutCost(cut, line.net_g, line.cost, price, margin(scale.net(price), cost))


def piece_margin(cost: PieceCost, scale: TaxScale) -> Decimal | None:
    """What a piece earns at its price, as a share of one; None without a price."""
    if cost.price is None:
        return None
    return margin(scale.net(cost.price), cost.cost_per_kilo)
