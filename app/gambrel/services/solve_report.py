"""A proposed set of prices for `gambrel solve`: its JSON form, and what is to be said about it."""

from __future__ import annotations

from typing import Any

from gambrel.domain.trade.formats import whole
from gambrel.services.cost_report import decimal_text, percent_text
from gambrel.services.solve import Solved


def solve_json(solved: Solved) -> dict[str, Any]:
    """A proposal as JSON values; the form is ours.

    ``currency``, one of ``body``, ``species`` and ``week``, ``method``; ``cost``,
    ``takings_today``, ``takings``, ``shortfall`` and ``affordable_cost`` are money before tax;
    ``target_percent``, ``margin_today_percent`` and ``margin_percent`` are margins; ``holding``
    names the cuts whose bounds keep the target out of reach; ``purchase_per_kg`` is then the
    purchase price, a mean for several bodies, at which it would be met, beside ``bought_per_kg``
    (both null where it is met, or where no price would do). Each of ``prices`` has ``cut``,
    ``net_g``, ``today_per_kg``, ``price_per_kg``, ``held_by`` (``free``, ``pin``, ``floor``,
    ``ceiling``) and ``effect``, what this change alone brings in.
    """
    proposal, money = solved.proposal, solved.costing.shop.currency
    purchase = solved.purchase
    return {
        "currency": money.code,
        solved.scope.value: solved.name,
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
        "bought_per_kg": None if purchase is None else money.text(whole(purchase.today)),
        "purchase_per_kg": None if purchase is None else money.text(whole(purchase.price)),
        "prices": [
            {
                "cut": line.cut,
                "net_g": line.grams,
                "today_per_kg": money.text(line.today),
                "price_per_kg": money.text(line.price),
                "held_by": line.hold.value,
                "effect": money.text(line.effect),
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
    if solved.purchase is None:
        return (
            f"{target} % is out of reach by {short}, held by {names}; it would be met if all "
            f"cost {cost}, and no purchase price would do that"
        )
    less, per = money.text(solved.purchase.lowered), money.text(whole(solved.purchase.price))
    return (
        f"{target} % is out of reach by {short}, held by {names}; it would be met if all cost "
        f"{cost}, that is bought at {per} a kilo, {less} less"
    )
