"""The forward pass: share each stage's money, and pass a piece's cost on by the grams taken."""

from __future__ import annotations

from gambrel.domain.costing.costing import PieceCost, StageCost
from gambrel.domain.costing.methods import Output, Shares, share_joint_cost
from gambrel.domain.costing.roll import Roll, Valued, work_cost
from gambrel.domain.numbers.apportion import apportion
from gambrel.domain.numbers.mass import kg_text
from gambrel.domain.numbers.money import extend
from gambrel.domain.trade.records import Source, Stage


def cost_stage(roll: Roll, stage: Stage) -> tuple[StageCost, list[PieceCost]]:
    """Forwards: share the stage's money, and split each piece's cost by who took it."""
    rows = roll.valued[stage.key]
    takes = roll.flow.by_stage[stage.key]
    take_costs = [
        take.cost if take.source is Source.BODY else roll.piece_take_costs[take.key, stage.key]
        for take in takes
    ]
    added = roll.flow.ingredients[stage.key]
    ingredients = sum(row.cost for row in added)
    work = work_cost(stage, roll.trade.shop.work_per_hour)
    terms = roll.terms
    credited = [
        extend(row.cut.credit, row.rest_g) if terms[row.cut.key].credit else 0 for row in rows
    ]
    # Only what nobody consumed is finished; a by-product's credit is net of its own work.
    finishes = [
        extend(row.cut.finish, row.rest_g) if terms[row.cut.key].finish else 0 for row in rows
    ]
    joint = sum(take_costs) + ingredients + work - sum(credited)
    outputs = [
        Output(row.bearing_g, row.claim, finish) for row, finish in zip(rows, finishes, strict=True)
    ]
    shares = share_joint_cost(joint, outputs, roll.method)
    _note_stage(roll, stage, shares)
    pieces = [
        PieceCost(
            row.piece, row.cut.kind, row.consumed_g, share,
            _pass_on(roll, row, share) if row.consumed_g else share,
            finish, credit, row.price,
        )
        for row, share, finish, credit in zip(rows, shares.parts, finishes, credited, strict=True)
    ]  # fmt: skip
    cost = StageCost(
        stage=stage,
        takes=tuple(takes),
        take_costs=tuple(take_costs),
        ingredient_g=sum(row.grams or 0 for row in added),
        ingredient_cost=ingredients,
        work=work,
        credit=sum(credited),
        joint=joint,
        stranded=shares.stranded,
        output_g=sum(row.rest_g + row.consumed_g for row in rows),
        saleable_g=sum(row.rest_g + row.consumed_g for row in rows if row.cut.kind.bears_cost),
    )
    _note_balance(roll, cost)
    return cost, pieces


def _pass_on(roll: Roll, row: Valued, share: int) -> int:
    """Split a piece's share by grams among those who took of it; return what the rest keeps."""
    takes = roll.flow.by_piece[row.piece.key]
    rest = row.bearing_g - row.consumed_g
    parts = apportion(share, [take.grams for take in takes] + [rest])
    for take, part in zip(takes, parts, strict=False):
        roll.piece_take_costs[take.key, take.stage] = part
    return parts[-1]


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
