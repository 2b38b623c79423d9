"""What everything cost, for `gambrel cost`: the costing, and its JSON form.

The JSON's keys and forms are a contract with programs outside: money and rates are decimal strings,
weights are grams.
"""

from __future__ import annotations

from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from typing import Any

from gambrel.domain.costing.costing import BodyCost, Costing, CutCost, PieceCost, StageCost
from gambrel.domain.costing.lines import cut_lines, piece_margin
from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.rollup import roll_up
from gambrel.domain.costing.scope import part_of_body, scope_to_body
from gambrel.domain.numbers.mass import GRAMS_PER_KILO
from gambrel.domain.numbers.money import Currency, round_half_up
from gambrel.domain.trade.tax import TaxScale, tax_scale
from gambrel.services.books import Book

Json = dict[str, Any]


def cost_book(
    book: Book, method: Method = Method.NRV, at: date | None = None, body: str | None = None
) -> Costing:
    """Cost a whole book, or one body with all that was made of it.

    Raises:
        Refusal: The book has no shop yet, there is no such body, or a price is missing.
    """
    with book.reading() as work:
        trade = work.trade()
    if body is None:
        return roll_up(trade, method, at)
    return scope_to_body(roll_up(part_of_body(trade, body), method, at), body)


def cost_json(costing: Costing, body: str | None = None) -> Json:
    """A costing as JSON values; with a body, that body's part of it."""
    if body is not None:
        costing = scope_to_body(costing, body)
    money = costing.shop.currency
    scale = tax_scale(costing.shop)
    totals = costing.totals
    return {
        "currency": money.code,
        "method": costing.method.value,
        "at": None if costing.at is None else costing.at.isoformat(),
        "bodies": [_body(cost, money) for cost in costing.bodies],
        "stages": [_stage(cost, money) for cost in costing.stages],
        "pieces": [_piece(cost, money, scale) for cost in costing.pieces],
        "cuts": [_cut(cost, money) for cost in cut_lines(costing)],
        "totals": {
            "bought": money.text(totals.bought),
            "work": money.text(totals.work),
            "ingredients": money.text(totals.ingredients),
            "credit": money.text(totals.credit),
            "finish": money.text(totals.finish),
            "end_cost": money.text(totals.end_cost),
            "on_rail": money.text(totals.on_rail),
            "stranded": money.text(totals.stranded),
            "difference": money.text(totals.difference),
        },
    }


def _body(cost: BodyCost, money: Currency) -> Json:
    return {
        "body": cost.body.key,
        "portion": cost.body.portion,
        "bought": money.text(cost.body.bought),
        "input_g": cost.input_g,
        "output_g": cost.output_g,
        "unexplained_g": cost.unexplained_g,
        "hang_loss_g": cost.hang_loss_g,
        "saleable_percent": decimal_text(cost.saleable_percent, 2),
    }


def _stage(cost: StageCost, money: Currency) -> Json:
    return {
        "stage": cost.stage.key,
        "kind": cost.stage.kind.value,
        "input_cost": money.text(cost.input_cost),
        "work_cost": money.text(cost.work),
        "credit": money.text(cost.credit),
        "joint_cost": money.text(cost.joint),
        "input_g": cost.input_g,
        "output_g": cost.output_g,
        "open": cost.stage.is_open,
    }


def _piece(cost: PieceCost, money: Currency, scale: TaxScale) -> Json:
    net_g = cost.piece.net_g
    return {
        "piece": cost.piece.key,
        "stage": cost.piece.stage,
        "cut": cost.piece.cut,
        "net_g": net_g,
        "consumed_g": cost.consumed_g,
        "joint_share": money.text(cost.share),
        "finish_cost": money.text(cost.finish),
        "cost": money.text(cost.cost),
        "cost_per_kg": rate_text(cost.cost, net_g, money),
        "price_per_kg": None if cost.price is None else money.text(cost.price),
        "margin_percent": percent_text(piece_margin(cost, scale)),
    }


def _cut(cost: CutCost, money: Currency) -> Json:
    return {
        "cut": cost.cut.key,
        "net_g": cost.net_g,
        "cost": money.text(cost.cost),
        "cost_per_kg": rate_text(cost.cost, cost.net_g, money),
        "price_per_kg": price_text(cost.price, money),
        "margin_percent": percent_text(cost.margin),
    }


def rate_text(minor: int, grams: int, money: Currency) -> str:
    """A cost over a weight, per kilo, half up to a minor unit."""
    return money.text(round_half_up(minor * GRAMS_PER_KILO, grams))


def price_text(price: Decimal | None, money: Currency) -> str | None:
    """A mean price (minor units per kilo), half up to a minor unit; None where there is none."""
    if price is None:
        return None
    return money.text(int(price.to_integral_value(ROUND_HALF_UP)))


def percent_text(share: Decimal | None, decimals: int = 1) -> str | None:
    """A share of one in per cent; None where there is none."""
    return None if share is None else decimal_text(100 * share, decimals)


def decimal_text(value: Decimal | None, decimals: int) -> str | None:
    """A number with so many decimals, half up, never a minus zero."""
    if value is None:
        return None
    rounded = value.quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP)
    return f"{rounded or abs(rounded):f}"
