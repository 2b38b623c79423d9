"""What came off, gathered by cut: yield beside norm, cost, and what it should sell for."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal

from gambrel.domain.costing.costing import CutCost, PieceCost
from gambrel.domain.costing.ledger import Ledger
from gambrel.domain.costing.lines import cut_lines
from gambrel.domain.numbers.margins import margin
from gambrel.domain.numbers.money import extend, per_kilo, round_half_up
from gambrel.domain.trade.catalogue import Cut
from gambrel.domain.trade.tax import TaxScale, tax_scale

NORM_SHARE, NORM_POINTS = Decimal("0.20"), Decimal("0.008")
"""A yield is off when it differs by more than both: a part of its norm, and of the input (common
practice, no source; a later issue takes them from the shop's own history)."""


@dataclass(frozen=True, slots=True)
class CutRow:
    """One cut that came off. Weights are grams, money minor units, shares parts of one.

    ``cost`` is for all of ``net_g``, finishing included; ``share`` and ``norm`` are of the input.
    ``price`` and ``sales`` (as written), ``net_sales`` (before tax), ``rest_cost`` and ``margin``
    are for what no later stage took; they are None where nothing is left to sell or a price is
    missing. ``finish`` is part of the cost; ``credit`` is a by-product's.
    """

    cut: Cut
    net_g: int
    went_on_g: int
    cost: int
    rest_cost: int
    finish: int
    credit: int
    share: Decimal | None = None
    norm: Decimal | None = None
    price: Decimal | None = None
    sales: int | None = None
    net_sales: int | None = None
    margin: Decimal | None = None

    @property
    def rest_g(self) -> int:
        """What no later stage took: for sale, or still to be used."""
        return self.net_g - self.went_on_g

    @property
    def cost_per_kilo(self) -> Decimal | None:
        """Minor units per kilogram of the rest, or of what went on where nothing is left.

        Of a by-product only what a later stage took bears cost; None where nothing does.
        """
        if self.cut.kind.bears_cost and self.rest_g:
            return per_kilo(self.rest_cost, self.rest_g)
        return per_kilo(self.cost, self.went_on_g) if self.went_on_g else None

    @property
    def contribution(self) -> int | None:
        """What selling it brings beyond its own finishing, minor units before tax.

        So much less would have been earned without it: what was paid for the body stays paid.
        Negative where it would have paid to leave it, None without a price.
        """
        return None if self.net_sales is None else self.net_sales - self.finish

    @property
    def off_norm(self) -> Decimal:
        """How far the yield is from its norm, as a share of the input; zero without a norm."""
        if self.share is None or self.norm is None:
            return Decimal(0)
        return abs(self.share - self.norm)

    @property
    def is_off_norm(self) -> bool:
        """Whether somebody should look."""
        return self.off_norm > max(NORM_POINTS, (self.norm or 0) * NORM_SHARE)


@dataclass(frozen=True, slots=True)
class Earning:
    """What stands for sale: takings as written and before tax, cost, and what is left between."""

    sales: int
    net_sales: int
    cost: int

    @property
    def margin(self) -> int:
        """Takings before tax less cost, minor units."""
        return self.net_sales - self.cost

    @property
    def share(self) -> Decimal | None:
        """The margin as a share of the takings before tax."""
        return margin(Decimal(self.net_sales), Decimal(self.cost))


def earning(rows: Iterable[CutRow]) -> Earning:
    """Sum what the rows should sell for; rows without a price bring neither takings nor cost."""
    priced = [row for row in rows if row.sales is not None]
    return Earning(
        sum(row.sales or 0 for row in priced),
        sum(row.net_sales or 0 for row in priced),
        sum(row.rest_cost for row in priced),
    )


def cut_rows(
    ledger: Ledger, pieces: list[PieceCost], list_name: str = "", input_g: int = 0
) -> list[CutRow]:
    """One row a cut: in the order of the cutting list where one is named, else the catalogue's."""
    by_cut: dict[str, list[PieceCost]] = defaultdict(list)
    for part in pieces:
        by_cut[part.piece.cut].append(part)
    lines = {line.cut.key: line for line in cut_lines(ledger.costing, pieces)}
    scale = tax_scale(ledger.costing.shop)
    rows = []
    for key in _in_order(ledger, list_name, by_cut):
        parts = by_cut[key]
        row = _row(ledger.costing.cuts_by_key[key], parts, lines.get(key), scale)
        share = Decimal(row.net_g) / input_g if input_g else None
        rows.append(replace(row, share=share, norm=ledger.norms.get((list_name, key))))
    return rows


def _row(cut: Cut, parts: list[PieceCost], line: CutCost | None, scale: TaxScale) -> CutRow:
    row = CutRow(
        cut=cut,
        net_g=sum(part.piece.net_g for part in parts),
        went_on_g=sum(part.consumed_g for part in parts),
        cost=sum(part.cost for part in parts),
        rest_cost=sum(part.rest_cost for part in parts),
        finish=sum(part.finish for part in parts),
        credit=sum(part.credit for part in parts),
    )
    if line is None or line.price is None or not cut.kind.bears_cost:
        return row
    return replace(
        row,
        price=line.price,
        sales=sum(extend(part.price or 0, part.rest_g) for part in parts),
        net_sales=sum(before_tax(part, scale) for part in parts),
        margin=line.margin,
    )


def before_tax(part: PieceCost, scale: TaxScale) -> int:
    """What the rest of a piece should sell for before tax, minor units."""
    return round_half_up(extend(part.price or 0, part.rest_g) * scale.over, scale.under)


def _in_order(ledger: Ledger, list_name: str, by_cut: dict[str, list[PieceCost]]) -> list[str]:
    listed = [cut for cut in ledger.list_cuts.get(list_name, ()) if cut in by_cut]
    seen = set(listed)
    return listed + [cut for cut in ledger.costing.cuts_by_key if cut in by_cut and cut not in seen]
