"""What a gram of a cut does to both passes: worked out once for a cut and a price, not by piece."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import NamedTuple

from gambrel.domain.costing.methods import Method
from gambrel.domain.trade.catalogue import Cut, CutKind
from gambrel.domain.trade.clock import day_ends
from gambrel.domain.trade.pricebook import PriceBook
from gambrel.domain.trade.records import Piece, Trade
from gambrel.domain.trade.tax import tax_scale


class Terms(NamedTuple):
    """What a cut's kind means for worth, once for all its pieces; rates scaled like a worth."""

    cut: Cut
    bears_cost: bool
    finish: int
    credit: int


def terms_of(cuts: dict[str, Cut], under: int) -> dict[str, Terms]:
    """Every cut's terms; ``under`` is the tax scale's."""
    return {
        key: Terms(
            cut,
            cut.kind.bears_cost,
            cut.finish * under if cut.kind.bears_cost else 0,
            cut.credit * under if cut.kind is CutKind.BYPRODUCT else 0,
        )
        for key, cut in cuts.items()
    }


@dataclass(frozen=True, slots=True)
class Rate:
    """A cut at one price.

    ``claim`` and ``worth`` are those of a gram that nobody consumed, as the method has them: minor
    units per kilogram × the tax scale's ``under``. ``finish`` and ``credit`` are minor units per
    kilogram, zero where the cut's kind has none. ``unpriced`` and ``losing`` want a word said.
    """

    cut: Cut
    kind: CutKind
    price: int | None
    bears_cost: bool
    claim: int
    worth: int
    finish: int
    credit: int
    unpriced: bool
    losing: bool


class Rates:
    """The rates of a trade by one method, by cut and moment."""

    def __init__(self, trade: Trade, method: Method, at: date | None) -> None:
        """Prices are those of the weighing, or with ``at`` those of that business day's end."""
        scale = tax_scale(trade.shop)
        self._over = scale.over
        self._method = method
        self._terms = terms_of({cut.key: cut for cut in trade.cuts}, scale.under)
        self._prices = PriceBook(trade.cuts, trade.prices)
        self._wants_words = False
        self._known: dict[tuple[str, int | None], Rate] = {}
        moment = None if at is None else day_ends(at, trade.shop)
        changing = frozenset(change.cut for change in trade.prices) if moment is None else ()
        self._steady = {
            key: self._rate(
                key, terms.cut.price if moment is None else self._prices.at(key, moment)
            )
            for key, terms in self._terms.items()
            if key not in changing
        }

    def of(self, pieces: Sequence[Piece]) -> list[Rate]:
        """Each piece's rate, in the order given."""
        steady = self._steady
        if len(steady) == len(self._terms):
            return [steady[piece.cut] for piece in pieces]
        return [
            steady.get(piece.cut) or self._then(piece.cut, piece.weighed_at) for piece in pieces
        ]

    @property
    def wants_words(self) -> bool:
        """Whether any rate so far is unpriced or losing."""
        return self._wants_words

    def _then(self, cut: str, moment: datetime) -> Rate:
        return self._rate(cut, self._prices.at(cut, moment))

    def _rate(self, cut: str, price: int | None) -> Rate:
        known = self._known.get((cut, price))
        if known is None:
            known = self._known[cut, price] = self._work_out(self._terms[cut], price)
            self._wants_words |= known.unpriced or known.losing
        return known

    def _work_out(self, terms: Terms, price: int | None) -> Rate:
        cut, priced = terms.cut, terms.bears_cost and self._method.needs_prices
        sales = (price or 0) * self._over
        net = sales - terms.finish
        claim, worth = {
            Method.WEIGHT: (1, 0),
            Method.SALES_VALUE: (sales, sales),
            Method.NRV: (max(net, 0), net),
            Method.CONSTANT_MARGIN: (sales, net),
        }[self._method]
        return Rate(
            cut, cut.kind, price, terms.bears_cost,
            claim=claim if terms.bears_cost else 0,
            worth=worth if terms.bears_cost else terms.credit,
            finish=cut.finish if terms.bears_cost else 0,
            credit=cut.credit if cut.kind is CutKind.BYPRODUCT else 0,
            unpriced=priced and price is None,
            losing=priced and net < 0 and self._method is not Method.SALES_VALUE,
        )  # fmt: skip
