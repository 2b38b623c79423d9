"""The forward pass: share each stage's money, and pass a piece's cost on by the grams taken."""

from __future__ import annotations

from typing import NamedTuple

from gambrel.domain.costing.columns import lay_out
from gambrel.domain.costing.costing import PieceCost, StageCost
from gambrel.domain.costing.methods import Outputs, Shares, share_joint_cost
from gambrel.domain.costing.roll import Roll, Valued, work_cost
from gambrel.domain.costing.takes import Take
from gambrel.domain.numbers.apportion import apportion
from gambrel.domain.numbers.mass import kg_text
from gambrel.domain.numbers.money import extend
from gambrel.domain.trade.records import Source, Stage


def cost_stage(roll: Roll, stage: Stage) -> tuple[StageCost, list[PieceCost]]:
    """Forwards: share the stage's money, and split each piece's cost by who took it."""
    valued = roll.valued.pop(stage.key, None) or lay_out(roll, stage)
    takes = roll.flow.by_stage[stage.key]
    of_pieces = roll.passed_on[stage.key]
    take_costs = [
        take.cost if take.source is Source.BODY else of_pieces[take.key] for take in takes
    ]
    added = roll.flow.ingredients[stage.key]
    ingredients = sum(row.cost for row in added)
    work = work_cost(stage, roll.trade.shop.work_per_hour)
    money = _share(roll, stage, valued, sum(take_costs) + ingredients + work)
    cost = StageCost(
        stage=stage,
        takes=tuple(takes),
        take_costs=tuple(take_costs),
        ingredient_g=sum(row.grams or 0 for row in added),
        ingredient_cost=ingredients,
        work=work,
        credit=sum(money.credits),
        joint=money.joint,
        stranded=money.stranded,
        output_g=sum(valued.rest_g) + sum(valued.consumed_g),
        saleable_g=money.bearing_g - _consumed_by_products_g(valued),
    )
    _note_balance(roll, cost)
    return cost, _piece_costs(valued, money)


class _Money(NamedTuple):
    """A stage's money, and in columns that of each of its pieces; ``kept`` stays with its rest."""

    joint: int
    stranded: int
    bearing_g: int
    shares: list[int]
    kept: list[int]
    finishes: list[int]
    credits: list[int]


def _share(roll: Roll, stage: Stage, valued: Valued, paid: int) -> _Money:
    rates, rest_g, consumed_g = valued.rates, valued.rest_g, valued.consumed_g
    # Only what nobody consumed is finished; a by-product's credit is net of its own work.
    credited = [
        extend(rate.credit, rest) if rate.credit else 0
        for rate, rest in zip(rates, rest_g, strict=True)
    ]
    finishes = [
        extend(rate.finish, rest) if rate.finish else 0
        for rate, rest in zip(rates, rest_g, strict=True)
    ]
    bearing = [
        consumed + rest if rate.bears_cost else consumed
        for rate, rest, consumed in zip(rates, rest_g, consumed_g, strict=True)
    ]
    joint = paid - sum(credited)
    shared = share_joint_cost(joint, Outputs(bearing, valued.claims, finishes), roll.method)
    _note_stage(roll, stage, shared)
    kept = shared.parts
    if valued.taken:
        kept = list(kept)
        for place, takes in valued.taken.items():
            rest = bearing[place] - consumed_g[place]
            kept[place] = _pass_on(roll, takes, kept[place], rest)
    return _Money(joint, shared.stranded, sum(bearing), shared.parts, kept, finishes, credited)


def _pass_on(roll: Roll, takes: list[Take], share: int, rest_g: int) -> int:
    """Split a piece's share by grams among those who took of it; return what the rest keeps."""
    if len(takes) == 1 and not rest_g:  # most that is taken is taken once and whole
        roll.passed_on[takes[0].stage][takes[0].key] = share
        return 0
    parts = apportion(share, [take.grams for take in takes] + [rest_g])
    for take, part in zip(takes, parts, strict=False):
        roll.passed_on[take.stage][take.key] = part
    return parts[-1]


def _piece_costs(valued: Valued, money: _Money) -> list[PieceCost]:
    rows = zip(
        valued.pieces, [rate.kind for rate in valued.rates], valued.consumed_g,
        money.shares, money.kept, money.finishes, money.credits,
        [rate.price for rate in valued.rates],
        strict=True,
    )  # fmt: skip
    # As PieceCost(*row), a third of the time: there is one for every piece of the book.
    return [tuple.__new__(PieceCost, row) for row in rows]


def _consumed_by_products_g(valued: Valued) -> int:
    """Grams that bear cost since later stages took them, though their cut is not for sale."""
    return sum(
        valued.consumed_g[place] for place in valued.taken if not valued.rates[place].bears_cost
    )


def _note_stage(roll: Roll, stage: Stage, shares: Shares) -> None:
    if shares.fell_back:
        sentence = f"nothing that {stage.key} made has a worth; its cost was shared by weight"
        roll.note("weight-fallback", stage.key, sentence)
    if stage.is_open:
        sentence = f"{stage.key} is still open: its cost per kilo falls as the rest is weighed"
        roll.note("open", stage.key, sentence)
    if shares.stranded:
        amount = roll.trade.shop.currency.text(abs(shares.stranded))
        what = "bear" if shares.stranded > 0 else "take a credit of"
        sentence = f"{stage.key} has nothing saleable to {what} {amount}; it is shown as stranded"
        roll.note("stranded", stage.key, sentence)


def _note_balance(roll: Roll, cost: StageCost) -> None:
    if cost.output_g > cost.input_g:
        over = kg_text(cost.output_g - cost.input_g)
        sentence = f"the pieces of {cost.stage.key} weigh {over} kg more than what went in"
        roll.note("overweight", cost.stage.key, f"{sentence}; look for a piece weighed twice")
