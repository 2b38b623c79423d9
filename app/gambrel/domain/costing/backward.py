"""The backward pass: what a stage made is worth this, and so are the pieces that it took."""

from __future__ import annotations

from fractions import Fraction

from gambrel.domain.costing.columns import lay_out
from gambrel.domain.costing.roll import Roll, Valued, work_cost
from gambrel.domain.numbers.mass import GRAMS_PER_KILO
from gambrel.domain.numbers.money import round_half_up
from gambrel.domain.trade.records import Source, Stage
from gambrel.domain.trade.tax import tax_scale

_GRID = 1 << 192
_LONGEST_DENOMINATOR = 1 << 256


def value_stage(roll: Roll, stage: Stage) -> None:
    """Backwards: what the stage made is worth this; keep what that is for a gram that it took.

    Nothing is to be done for a stage that took no pieces.
    """
    takes = roll.flow.by_stage[stage.key]
    grams = sum(take.grams for take in takes if take.source is Source.PIECE)
    if not grams:
        return
    if not roll.method.needs_prices:
        roll.per_gram[stage.key] = Fraction(1)  # a consumed gram claims as much as any other
        return
    valued = roll.valued[stage.key] = lay_out(roll, stage)
    value = _made(valued) - _spent(roll, stage)
    if value < 0:
        sentence = f"what {stage.key} made is worth less than its work and ingredients cost"
        sentence = f"{sentence}; its pieces count as worth nothing"
        roll.note_worth(stage, "worth-floored", stage.key, sentence)
        value = Fraction(0)
    roll.per_gram[stage.key] = _settled(value / grams)


def _made(valued: Valued) -> Fraction:
    """What the stage's pieces are worth, and the credit of its by-products."""
    own = sum(rest * rate.worth for rest, rate in zip(valued.rest_g, valued.rates, strict=True))
    return own + Fraction(valued.later, valued.under)


def _spent(roll: Roll, stage: Stage) -> int:
    """What work and ingredients cost, in the unit of a worth."""
    shop = roll.trade.shop
    spent = work_cost(stage, shop.work_per_hour)
    spent += sum(row.cost for row in roll.flow.ingredients[stage.key])
    return spent * GRAMS_PER_KILO * tax_scale(shop).under


def _settled(worth: Fraction) -> Fraction:
    """An exact worth, unless a very long chain has made its denominator monstrous.

    Past 256 bits it goes to a grid of 2^-192, so that time stays proportional to pieces.
    """
    if worth.denominator < _LONGEST_DENOMINATOR:
        return worth
    return Fraction(round_half_up(worth.numerator * _GRID, worth.denominator), _GRID)
