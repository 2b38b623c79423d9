"""A proposed set of prices by which a body, a species or a week earns a margin; nothing changes."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from decimal import Decimal, InvalidOperation
from enum import StrEnum

from gambrel.domain.costing.costing import Costing, CutCost, PieceCost
from gambrel.domain.costing.lines import cut_lines
from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.costing.scope import part_of_body, scope_to_body
from gambrel.domain.numbers.money import Currency
from gambrel.domain.prices.endings import Endings
from gambrel.domain.prices.laying_out import Standing
from gambrel.domain.prices.proposal import (
    ForSale,
    PriceProposal,
    by_cut,
    for_sale,
    propose,
    with_bounds,
)
from gambrel.domain.prices.purchase import Purchase, purchase_that_meets
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.clock import day_begins, day_ends, trade_week
from gambrel.domain.trade.near import did_you_mean
from gambrel.domain.trade.records import Trade
from gambrel.domain.trade.tax import tax_scale
from gambrel.services.books import Book


@dataclass(frozen=True, slots=True)
class Wishes:
    """What a person asks for, as written: prices by cut in major units, shares in per cent.

    ``endings`` are the last digits that a price may have, such as ``.99``.
    """

    margin: str
    pins: Mapping[str, str] = field(default_factory=dict)
    floors: Mapping[str, str] = field(default_factory=dict)
    ceilings: Mapping[str, str] = field(default_factory=dict)
    sold: Mapping[str, str] = field(default_factory=dict)
    endings: Sequence[str] = ()


class Scope(StrEnum):
    """What has to earn the margin together."""

    BODY = "body"
    SPECIES = "species"
    WEEK = "week"


@dataclass(frozen=True, slots=True)
class Solved:
    """A proposal with the costing on which it stands.

    ``purchase`` is what the bodies would have to be bought for, where the target is out of reach.
    """

    scope: Scope
    name: str
    costing: Costing
    proposal: PriceProposal
    purchase: Purchase | None = None


def solve(
    book: Book, scope: Scope, name: str, wishes: Wishes, method: Method = Method.NRV
) -> Solved:
    """Propose prices for what stands for sale of a body, of a species or of a week.

    Each cut's relative value is its price today (the mean, where pieces have several). Of a body,
    what a blend with other bodies took has left at its cost and is not priced here; of a species,
    all counts that came off in the four weeks up to the book's last act.

    Raises:
        Refusal: No such body, species or week, nothing of it stands for sale, a price is missing,
            or a wish names what is not there or cannot be.
    """
    with book.reading() as work:
        trade = work.trade()
    found = _standing(trade, scope, name, method)
    if not found.lines:
        raise Refusal(f"Nothing of {name} stands for sale; break it first.")
    money = trade.shop.currency
    cuts = [line.cut.key for line in found.lines]
    today = _today(found, cuts)
    try:
        lines = with_bounds(
            found.lines,
            today,
            pins=_prices(wishes.pins, cuts, money),
            floors=_prices(wishes.floors, cuts, money),
            ceilings=_prices(wishes.ceilings, cuts, money),
            sold=_shares(wishes.sold, cuts),
        )
        target = _share(wishes.margin, "margin")
        cost = sum(line.cost for line in found.lines)
        endings = _endings(wishes.endings, money)
        proposal = propose(lines, cost, target, endings, tax_scale(trade.shop))
    except ValueError as error:
        raise Refusal(f"No prices can be solved: {error}.") from None
    return Solved(scope, name, found.costing, proposal, _purchase(found, proposal, method))


@dataclass(frozen=True, slots=True)
class _Found:
    """What stands for sale, the costing by which it does, and how it is costed again.

    ``trade`` is all that bears on it, ``bodies`` those whose purchase does.
    """

    lines: list[ForSale]
    prices: list[CutCost]
    costing: Costing
    trade: Trade
    bodies: list[str]
    cost_of: Callable[[Costing], int]


def _standing(trade: Trade, scope: Scope, name: str, method: Method) -> _Found:
    if scope is Scope.BODY:
        part = part_of_body(trade, name)
        whole = roll_up(part, method)
        costing = scope_to_body(whole, name)

        def of_body(costing: Costing) -> int:
            return sum(line.cost for line in for_sale(costing, name))

        return _Found(
            for_sale(whole, name), cut_lines(costing), costing, part, [name], of_body
        )  # fmt: skip
    costing = roll_up(trade, method)
    choose = _of_species(trade, name) if scope is Scope.SPECIES else _of_week(trade, name)
    pieces = choose(costing)
    bodies = [body.key for body in trade.bodies if scope is Scope.WEEK or body.species == name]
    return _Found(
        by_cut(costing, pieces), cut_lines(costing, pieces), costing, trade, bodies,
        lambda again: sum(line.cost for line in by_cut(again, choose(again))),
    )  # fmt: skip


_Choice = Callable[[Costing], list[PieceCost]]


def _of_species(trade: Trade, species: str) -> _Choice:
    known = sorted({cut.species for cut in trade.cuts if cut.species})
    if species not in known:
        if not known:
            raise Refusal("No cut in this book has a species. Give them theirs first.")
        guess = did_you_mean(species, known)
        raise Refusal(
            f"There is no species {species!r} in this book; it has {', '.join(known)}{guess}"
        )
    no_piece = datetime.max.replace(tzinfo=UTC)  # any moment that has a month before it
    last = max((piece.weighed_at for piece in trade.pieces), default=no_piece)
    cuts = {cut.key for cut in trade.cuts if cut.species == species}
    return lambda costing: [
        part for part in Standing(costing, last).month if part.piece.cut in cuts
    ]  # fmt: skip


def _of_week(trade: Trade, name: str) -> _Choice:
    try:
        week = trade_week(name, trade.shop)
    except ValueError as error:
        raise Refusal(f"{error}.") from None
    begins, ends = day_begins(week.first, trade.shop), day_ends(week.last, trade.shop)
    return lambda costing: [
        part
        for part in Standing(costing, ends).pieces
        if begins <= part.piece.weighed_at <= ends
    ]  # fmt: skip


def _purchase(found: _Found, proposal: PriceProposal, method: Method) -> Purchase | None:
    if proposal.shortfall <= 0:
        return None
    return purchase_that_meets(
        found.trade, found.bodies, found.cost_of, proposal.affordable_cost, method
    )  # fmt: skip


def _today(found: _Found, cuts: Sequence[str]) -> dict[str, int]:
    today = {
        line.cut.key: int(line.price.to_integral_value())
        for line in found.prices
        if line.price is not None
    }
    missing = [cut for cut in cuts if not today.get(cut)]
    if missing:
        names = ", ".join(found.costing.cuts_by_key[cut].name for cut in missing)
        raise Refusal(f"No price for {names}; give each a price, since it says what it is worth.")
    return today


def _prices(wishes: Mapping[str, str], cuts: Sequence[str], money: Currency) -> dict[str, int]:
    return {_known(cut, cuts): _price(text, money) for cut, text in wishes.items()}


def _price(text: str, money: Currency) -> int:
    amount = money.parse(text)
    if amount <= 0:
        raise ValueError(f"{text!r} is not a price; expected more than zero")
    return amount


def _shares(wishes: Mapping[str, str], cuts: Sequence[str]) -> dict[str, Decimal]:
    return {_known(cut, cuts): _share(text, "share sold") for cut, text in wishes.items()}


def _share(text: str, what: str) -> Decimal:
    """Read per cent as a share of one."""
    try:
        share = Decimal(text.strip()) / 100
    except InvalidOperation:
        share = Decimal("NaN")
    if not share.is_finite() or not 0 <= share <= 1:
        raise ValueError(f"{text!r} is not a {what}; expected 0 to 100 per cent")
    return share


def _known(cut: str, cuts: Sequence[str]) -> str:
    if cut in cuts:
        return cut
    guess = did_you_mean(cut, cuts)
    raise Refusal(f"No {cut!r} stands for sale here; choose of {', '.join(cuts)}{guess}")


def _endings(texts: Sequence[str], money: Currency) -> Endings:
    """``.99`` as the last digits of a price; ``0.99`` and ``99`` (a whole number) too."""
    if not texts:
        return Endings()
    unit = 10**money.digits
    if not money.digits:
        longest = max(len(text.strip()) for text in texts)
        return Endings(10**longest, tuple(sorted({money.parse(text) for text in texts})))
    ends = {money.parse(f"0{text}" if text.startswith(".") else text) for text in texts}
    return Endings(unit, tuple(sorted(ends)))
