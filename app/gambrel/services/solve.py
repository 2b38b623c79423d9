"""A proposed set of prices by which one body earns a margin; nothing in the book changes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal, InvalidOperation
from typing import Any

from gambrel.domain.costing.costing import Costing
from gambrel.domain.costing.lines import cut_lines
from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.costing.scope import part_of_body, scope_to_body
from gambrel.domain.numbers.money import Currency
from gambrel.domain.prices.endings import Endings
from gambrel.domain.prices.proposal import ForSale, PriceProposal, for_sale, propose, with_bounds
from gambrel.domain.refusals import Refusal
from gambrel.domain.trade.near import did_you_mean
from gambrel.domain.trade.tax import tax_scale
from gambrel.services.books import Book
from gambrel.services.cost_report import decimal_text, percent_text


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


@dataclass(frozen=True, slots=True)
class Solved:
    """A proposal with the costing on which it stands."""

    body: str
    costing: Costing
    standing: tuple[ForSale, ...]
    proposal: PriceProposal


def solve_body(book: Book, body: str, wishes: Wishes, method: Method = Method.NRV) -> Solved:
    """Propose prices for what stands for sale of one body.

    Each cut's relative value is its price today (the mean, where pieces have several). What a
    blend with other bodies took has left at its cost and is not priced here.

    Raises:
        Refusal: No such body, nothing of it stands for sale, a price is missing, or a wish names
            what is not there or cannot be.
    """
    with book.reading() as work:
        trade = work.trade()
    whole = roll_up(part_of_body(trade, body), method)
    standing = for_sale(whole, body)
    costing = scope_to_body(whole, body)
    if not standing:
        raise Refusal(f"Nothing of {body} stands for sale; break it first.")
    money = costing.shop.currency
    cuts = [line.cut.key for line in standing]
    today = _today(costing, cuts)
    try:
        lines = with_bounds(
            standing,
            today,
            pins=_prices(wishes.pins, cuts, money),
            floors=_prices(wishes.floors, cuts, money),
            ceilings=_prices(wishes.ceilings, cuts, money),
            sold=_shares(wishes.sold, cuts),
        )
        target = _share(wishes.margin, "margin")
        cost = sum(line.cost for line in standing)
        endings = _endings(wishes.endings, money)
        proposal = propose(lines, cost, target, endings, tax_scale(costing.shop))
    except ValueError as error:
        raise Refusal(f"No prices can be solved: {error}.") from None
    return Solved(body, costing, tuple(standing), proposal)


def solve_json(solved: Solved) -> dict[str, Any]:
    """A proposal as JSON values; the form is ours.

    ``currency``, ``body``, ``method``; ``cost``, ``takings_today``, ``takings``, ``shortfall`` and
    ``affordable_cost`` are money before tax; ``target_percent``, ``margin_today_percent`` and
    ``margin_percent`` are margins; ``holding`` names the cuts whose bounds keep the target out of
    reach. Each of ``prices`` has ``cut``, ``net_g``, ``today_per_kg``, ``price_per_kg`` and
    ``held_by`` (``free``, ``pin``, ``floor``, ``ceiling``).
    """
    proposal, money = solved.proposal, solved.costing.shop.currency
    return {
        "currency": money.code,
        "body": solved.body,
        "method": solved.costing.method.value,
        "cost": money.text(proposal.cost),
        "target_percent": percent_text(proposal.target),
        "margin_today_percent": percent_text(proposal.margin_today),
        "margin_percent": percent_text(proposal.margin),
        "takings_today": money.text(proposal.takings_today),
        "takings": money.text(proposal.takings),
        "shortfall": money.text(proposal.shortfall),
        "affordable_cost": money.text(proposal.affordable_cost),
        "holding": list(proposal.holding),
        "prices": [
            {
                "cut": line.cut,
                "net_g": line.grams,
                "today_per_kg": money.text(line.today),
                "price_per_kg": money.text(line.price),
                "held_by": line.hold.value,
            }
            for line in proposal.lines
        ],
    }


def solve_remark(solved: Solved) -> str | None:
    """A sentence where the target is missed, or None where it is met."""
    proposal, money = solved.proposal, solved.costing.shop.currency
    if not proposal.shortfall:
        return None
    names = ", ".join(proposal.holding) or "the bounds"
    target = decimal_text(100 * proposal.target, 1)
    if proposal.shortfall < 0:
        over = money.text(-proposal.shortfall)
        return f"pins and floors alone ({names}) bring in {over} more than {target} % asks for"
    short = money.text(proposal.shortfall)
    cost = money.text(proposal.affordable_cost)
    return (
        f"{target} % is out of reach by {short}, held by {names}; it would be met if the body "
        f"cost {cost}"
    )


def _today(costing: Costing, cuts: Sequence[str]) -> dict[str, int]:
    found = {
        line.cut.key: int(line.price.to_integral_value())
        for line in cut_lines(costing)
        if line.price is not None
    }
    missing = [cut for cut in cuts if not found.get(cut)]
    if missing:
        names = ", ".join(costing.cuts_by_key[cut].name for cut in missing)
        raise Refusal(f"No price for {names}; give each a price, since it says what it is worth.")
    return found


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
    raise Refusal(f"No {cut!r} of this body stands for sale; choose of {', '.join(cuts)}{guess}")


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
