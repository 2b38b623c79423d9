"""The cabinet: what each cut costs, what it sells for, and what a price does to a whole body."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal
from enum import StrEnum

from gambrel.domain.costing.costing import Costing, CutCost, PieceCost
from gambrel.domain.costing.ledger import Ledger
from gambrel.domain.costing.lines import cut_lines
from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.numbers.margins import margin, mark_up
from gambrel.domain.numbers.mass import GRAMS_PER_KILO
from gambrel.domain.prices.endings import Endings
from gambrel.domain.prices.proposal import ForSale, PriceProposal, for_sale, propose, with_bounds
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.catalogue import Cut, Shop
from gambrel.domain.trade.clock import business_day, week_of
from gambrel.domain.trade.formats import Formats
from gambrel.domain.trade.pricebook import PriceBook
from gambrel.domain.trade.records import Source, Trade
from gambrel.domain.trade.tax import TaxScale, tax_scale
from gambrel.domain.trade.titles import body_title

TRADE_MONTH = timedelta(days=28)
"""Four trade weeks: a cut's cost is what its pieces of this long cost."""

DOUBTED_TIMES = 10
"""A price this many times the cost is asked about (common practice, no source)."""

FAR_TIMES = 4
"""So is one that is this many times today's, or today's this many times it (likewise)."""


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
    ``history`` holds every price, oldest first, its first without a moment.
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


@dataclass(frozen=True, slots=True)
class Basket:
    """What has to earn together: one body's pieces, or all of the week's."""

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


@dataclass(frozen=True, slots=True)
class Cabinet:
    """The whole cabinet at a moment.

    ``bodies`` are broken and finished, newest first. ``note`` says where the costing had to go
    another way; ``left_out`` counts open stages, whose figures are not known yet.
    """

    shop: Shop
    at: datetime
    method: Method
    lines: tuple[CabinetLine, ...]
    bodies: tuple[Basket, ...]
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

    def line(self, cut: str) -> CabinetLine | None:
        """A cut's line, if it has one."""
        return next((line for line in self.lines if line.cut.key == cut), None)

    def basket(self, key: str) -> Basket:
        """A body's basket, or the week's where there is no such body."""
        return next((basket for basket in self.bodies if basket.key == key), self.week)


@dataclass(frozen=True, slots=True)
class Effect:
    """What another price would do: margins before and with it, as shares of one."""

    cut: tuple[Decimal | None, Decimal | None]
    body: tuple[Decimal | None, Decimal | None]
    week: tuple[Decimal | None, Decimal | None]


def cabinet_of(trade: Trade, now: datetime, method: Method) -> Cabinet:
    """Cost a trade and lay it out by saleable cut.

    Where a price is missing and the method needs it, the cost is shared by weight, and said so.

    Raises:
        RowsRefused: The book contradicts itself.
    """
    costing, note = _costed(trade, method)
    opened = {cost.stage.key for cost in costing.stages if cost.stage.is_open}
    done = [part for part in costing.pieces if part.piece.stage not in opened and part.rest_g]
    book = PriceBook(trade.cuts, trade.prices)
    found = {cut.key: book.at(cut.key, now) for cut in trade.cuts}
    prices = {key: price for key, price in found.items() if price is not None}
    return Cabinet(
        shop=trade.shop,
        at=now,
        method=costing.method,
        lines=tuple(_lines(trade, costing, done, book, now)),
        bodies=tuple(_bodies(costing, opened, now)),
        week=_week(trade, costing, done, now),
        prices=prices,
        left_out=len(opened),
        note=note,
    )


def _costed(trade: Trade, method: Method) -> tuple[Costing, str]:
    missing = _unpriced(trade) if method.needs_prices else []
    if not missing:
        return roll_up(trade, method), ""
    names = ", ".join(missing[:3]) + (" and others" if len(missing) > 3 else "")
    note = f"Cost is shared by weight, because {names} had no price when weighed. Give it one."
    return roll_up(trade, Method.WEIGHT), note


def _unpriced(trade: Trade) -> list[str]:
    """Saleable cuts that were weighed while they had no price."""
    book = PriceBook(trade.cuts, trade.prices)
    cuts = {cut.key: cut for cut in trade.cuts if cut.kind.bears_cost}
    found = {
        cuts[piece.cut].name: None
        for piece in trade.standing
        if piece.cut in cuts and book.at(piece.cut, piece.weighed_at) is None
    }
    return list(found)


def _lines(
    trade: Trade, costing: Costing, done: list[PieceCost], book: PriceBook, now: datetime
) -> Iterable[CabinetLine]:
    recent = [part for part in done if now - TRADE_MONTH <= part.piece.weighed_at <= now]
    known = {line.cut.key: line for line in cut_lines(costing, recent)}
    for cut in trade.cuts:
        history = tuple(book.history(cut.key))
        if cut.kind.bears_cost and (cut.key in known or history):
            price = book.at(cut.key, now)
            yield _line(cut, known.get(cut.key), price, history, trade.shop)


def _line(
    cut: Cut,
    found: CutCost | None,
    price: int | None,
    history: tuple[tuple[datetime | None, int], ...],
    shop: Shop,
) -> CabinetLine:
    cost = found.cost_per_kilo if found else None
    net = None if price is None else tax_scale(shop).net(price)
    earned = None if cost is None or net is None else margin(net, cost)
    return CabinetLine(
        cut=cut,
        grams=found.net_g if found else 0,
        cost=cost,
        price=price,
        margin=earned,
        mark_up=None if cost is None or net is None else mark_up(net, cost),
        month_margin=found.margin if found else None,
        history=history,
        state=_state(price, cost, earned, shop.target_margin_percent / 100),
    )


def _state(
    price: int | None, cost: Decimal | None, earned: Decimal | None, target: Decimal
) -> LineState:
    if price is None:
        return LineState.NO_PRICE
    if cost is None:
        return LineState.NOT_CUT
    if earned is None or earned < 0:
        return LineState.BELOW_COST
    return LineState.THIN if earned < target else LineState.FINE


def _bodies(costing: Costing, opened: set[str], now: datetime) -> Iterable[Basket]:
    """Bodies of the trade month whose work is done, the last one broken first."""
    broken: dict[str, datetime] = {}
    unfinished: set[str] = set()
    for stage in costing.stages:
        keys = [take.key for take in stage.takes if take.source is Source.BODY]
        if stage.stage.key in opened:
            unfinished.update(keys)
        broken |= dict.fromkeys(keys, stage.stage.started_at)
    bodies = {cost.body.key: cost.body for cost in costing.bodies}
    for key in sorted(broken, key=lambda key: (broken[key], key), reverse=True):
        lines = tuple(for_sale(costing, key))
        if key not in unfinished and lines and now - TRADE_MONTH <= broken[key] <= now:
            yield Basket(key, body_title(bodies[key]), lines)


def _week(trade: Trade, costing: Costing, done: list[PieceCost], now: datetime) -> Basket:
    week = week_of(business_day(now, trade.shop), trade.shop)
    period = Ledger(trade, costing).week(week)
    sums: dict[str, list[int]] = {}
    for part in done:
        if part.kind.bears_cost and period.holds(part.piece.weighed_at):
            line = sums.setdefault(part.piece.cut, [0, 0])
            line[0] += part.rest_g
            line[1] += part.rest_cost
    cuts = costing.cuts_by_key
    return Basket("", "This week", tuple(ForSale(cuts[key], *line) for key, line in sums.items()))


def effect_of(cabinet: Cabinet, cut: str, price: int, body: str) -> Effect:
    """What a price (minor units per kilogram) would do to a cut, to a body and to the week."""
    others = {**cabinet.prices, cut: price}
    line = cabinet.line(cut)
    alone = margin(cabinet.tax.net(price), line.cost) if line and line.cost is not None else None
    basket, tax = cabinet.basket(body), cabinet.tax
    return Effect(
        cut=(line.margin if line else None, alone),
        body=(basket.margin(cabinet.prices, tax), basket.margin(others, tax)),
        week=(cabinet.week.margin(cabinet.prices, tax), cabinet.week.margin(others, tax)),
    )


def price_doubt(line: CabinetLine, price: int, formats: Formats) -> str:
    """Why a price is probably a slip, as a sentence; empty when nothing is odd.

    A price of nothing is not asked about: the service refuses it.
    """
    if price <= 0:
        return ""
    if line.cost is not None and price >= DOUBTED_TIMES * line.cost > 0:
        return (
            f"{formats.money(price)} is {int(price / line.cost)} times what {line.cut.name} costs. "
            "Is the decimal point right?"
        )
    if line.price and (price >= FAR_TIMES * line.price or FAR_TIMES * price <= line.price):
        return (
            f"{formats.money(price)} is far from today's {formats.money(line.price)} for "
            f"{line.cut.name}. Is the decimal point right?"
        )
    return ""


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
