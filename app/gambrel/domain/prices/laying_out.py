"""From a trade to its cabinet: costed, and laid out by saleable cut, by body, species and week."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime, timedelta
from decimal import Decimal

from gambrel.domain.costing.costing import Costing, CutCost, PieceCost
from gambrel.domain.costing.ledger import Ledger, Period
from gambrel.domain.costing.lines import cut_lines
from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.numbers.margins import margin, mark_up
from gambrel.domain.prices.cabinet import Basket, Cabinet, CabinetLine, LineState
from gambrel.domain.prices.order import in_cabinet_order
from gambrel.domain.prices.proposal import ForSale, by_cut, for_sale
from gambrel.domain.prices.schedule import Schedule, schedule_of
from gambrel.domain.trade.catalogue import Shop
from gambrel.domain.trade.clock import business_day, week_of
from gambrel.domain.trade.pricebook import PriceBook
from gambrel.domain.trade.records import PriceChange, Source, Trade
from gambrel.domain.trade.tax import tax_scale
from gambrel.domain.trade.titles import body_title

TRADE_MONTH = timedelta(days=28)
"""Four trade weeks: a cut's cost is what its pieces of this long cost."""

SPECIES = "species:"
"""Before a species, the key of its basket: no body's key may be taken for one."""


def cabinet_of(
    trade: Trade, now: datetime, method: Method, order: Sequence[str] = ()
) -> Cabinet:  # fmt: skip
    """Cost a trade and lay it out by saleable cut, in the order of the trays.

    Where a price is missing and the method needs it, the cost is shared by weight, and said so.

    Raises:
        RowsRefused: The book contradicts itself.
    """
    costing, note = _costed(trade, method)
    standing = Standing(costing, now)
    schedules = schedules_of(trade)
    trays = {cut.key: schedules[cut.key] for cut in in_cabinet_order(trade.cuts, order)}
    found = {key: each.price_at(now) for key, each in schedules.items()}
    prices = {key: price for key, price in found.items() if price is not None}
    return Cabinet(
        shop=trade.shop,
        at=now,
        method=costing.method,
        lines=tuple(_lines(trade.shop, cut_lines(costing, standing.month), trays, now)),
        bodies=tuple(_bodies(standing)),
        species=tuple(_species(standing)),
        week=_week(trade, standing),
        prices=prices,
        left_out=len(standing.opened),
        note=note,
    )


class Standing:
    """What stands for sale of a costing: pieces of finished stages that nobody consumed."""

    def __init__(self, costing: Costing, now: datetime) -> None:
        self.costing, self.now = costing, now
        self.opened = {cost.stage.key for cost in costing.stages if cost.stage.is_open}
        self.pieces = [
            part
            for part in costing.pieces
            if part.rest_g and part.piece.stage not in self.opened
        ]  # fmt: skip

    @property
    def month(self) -> list[PieceCost]:
        """Those of the trade month."""
        begins = self.now - TRADE_MONTH
        return [part for part in self.pieces if begins <= part.piece.weighed_at <= self.now]


def month_costs(trade: Trade, now: datetime, method: Method) -> dict[str, Decimal] | None:
    """Each saleable cut's cost per kilo (minor units) in the trade month, by a method.

    None where the method needs a price that is missing.
    """
    if method.needs_prices and _unpriced(trade):
        return None
    costing = roll_up(trade, method)
    found = cut_lines(costing, Standing(costing, now).month)
    return {line.cut.key: line.cost_per_kilo for line in found if line.cut.kind.bears_cost}


def basket_cost(trade: Trade, costing: Costing, key: str, now: datetime) -> int:
    """What the basket of a key costs by another costing of the same trade, minor units."""
    if any(body.body.key == key for body in costing.bodies):
        return sum(line.cost for line in for_sale(costing, key))
    standing = Standing(costing, now)
    if key.startswith(SPECIES):
        found = [basket for basket in _species(standing) if basket.key == key]
        return found[0].cost if found else 0
    return _week(trade, standing).cost


def bodies_behind(trade: Trade, key: str) -> list[str]:
    """The bodies whose purchase bears on a basket: the body itself, a species' bodies, or all."""
    species = key.removeprefix(SPECIES)
    return [
        body.key
        for body in trade.bodies
        if key in (body.key, "") or (key.startswith(SPECIES) and body.species == species)
    ]


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


def schedules_of(trade: Trade) -> dict[str, Schedule]:
    """Every cut's prices in time, in the catalogue's order."""
    rows: dict[str, list[PriceChange]] = {}
    for row in trade.prices:
        rows.setdefault(row.cut, []).append(row)
    return {cut.key: schedule_of(cut, rows.get(cut.key, ())) for cut in trade.cuts}


def _lines(
    shop: Shop, found: Iterable[CutCost], schedules: Mapping[str, Schedule], now: datetime
) -> Iterable[CabinetLine]:
    known = {line.cut.key: line for line in found}
    for key, schedule in schedules.items():
        history = tuple(_history(schedule, now))
        if schedule.cut.kind.bears_cost and (key in known or history):
            yield _line(schedule, known.get(key), history, now, shop)


def _history(schedule: Schedule, now: datetime) -> Iterable[tuple[datetime | None, int]]:
    """Every price so far, oldest first."""
    if schedule.cut.price is not None:
        yield None, schedule.cut.price
    yield from ((row.since, row.price) for row in schedule.rows if row.since <= now)


def _line(
    schedule: Schedule,
    found: CutCost | None,
    history: tuple[tuple[datetime | None, int], ...],
    now: datetime,
    shop: Shop,
) -> CabinetLine:
    cost, price = found.cost_per_kilo if found else None, schedule.price_at(now)
    net = None if price is None else tax_scale(shop).net(price)
    earned = None if cost is None or net is None else margin(net, cost)
    return CabinetLine(
        cut=schedule.cut,
        grams=found.net_g if found else 0,
        cost=cost,
        price=price,
        margin=earned,
        mark_up=None if cost is None or net is None else mark_up(net, cost),
        month_margin=found.margin if found else None,
        history=history,
        state=state_of(price, cost, earned, shop.target_margin_percent / 100),
        schedule=schedule,
        special=schedule.special(now),
    )


def state_of(
    price: int | None, cost: Decimal | None, earned: Decimal | None, target: Decimal
) -> LineState:
    """A cut's state in a word, by its price, its cost per kilo, and what it earns and should."""
    if price is None:
        return LineState.NO_PRICE
    if cost is None:
        return LineState.NOT_CUT
    if earned is None or earned < 0:
        return LineState.BELOW_COST
    return LineState.THIN if earned < target else LineState.FINE


def _bodies(standing: Standing) -> Iterable[Basket]:
    """Bodies of the trade month whose work is done, the last one broken first."""
    costing, now = standing.costing, standing.now
    broken: dict[str, datetime] = {}
    unfinished: set[str] = set()
    for stage in costing.stages:
        keys = [take.key for take in stage.takes if take.source is Source.BODY]
        if stage.stage.key in standing.opened:
            unfinished.update(keys)
        broken |= dict.fromkeys(keys, stage.stage.started_at)
    bodies = {cost.body.key: cost.body for cost in costing.bodies}
    for key in sorted(broken, key=lambda key: (broken[key], key), reverse=True):
        lines = tuple(for_sale(costing, key))
        if key not in unfinished and lines and now - TRADE_MONTH <= broken[key] <= now:
            yield Basket(key, body_title(bodies[key]), lines)


def _species(standing: Standing) -> Iterable[Basket]:
    """All of a species that came off in the trade month."""
    groups: dict[str, list[ForSale]] = {}
    for line in by_cut(standing.costing, standing.month):
        groups.setdefault(line.cut.species, []).append(line)
    for species, lines in sorted(groups.items()):
        if species:
            yield Basket(f"{SPECIES}{species}", f"{species.capitalize()}, four weeks", tuple(lines))


def _week(trade: Trade, standing: Standing) -> Basket:
    week = week_of(business_day(standing.now, trade.shop), trade.shop)
    return week_basket(standing, Ledger(trade, standing.costing).week(week), "This week")


def week_basket(standing: Standing, period: Period, title: str) -> Basket:
    """What was weighed in a period and stands for sale."""
    inside = [part for part in standing.pieces if period.holds(part.piece.weighed_at)]
    return Basket("", title, tuple(by_cut(standing.costing, inside)))
