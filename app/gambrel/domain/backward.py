"""The backward pass: what a stage made is worth this, and so are the pieces that it took."""

from __future__ import annotations

from fractions import Fraction

from gambrel.domain.catalogue import CutKind
from gambrel.domain.mass import GRAMS_PER_KILO
from gambrel.domain.methods import Method
from gambrel.domain.money import round_half_up
from gambrel.domain.records import Piece, Source, Stage
from gambrel.domain.roll import Roll, Valued, work_cost
from gambrel.domain.tax import tax_scale

_GRID = 1 << 192
_LONGEST_DENOMINATOR = 1 << 256


def value_stage(roll: Roll, stage: Stage) -> None:
    """Backwards: what the stage made is worth this; hand it to the pieces that it took."""
    over, under = tax_scale(roll.trade.shop)
    rows = [_value_piece(roll, piece, over, under) for piece in roll.by_stage[stage.key]]
    roll.valued[stage.key] = rows
    takes = [take for take in roll.flow.by_stage[stage.key] if take.source is Source.PIECE]
    if not takes or not roll.method.needs_prices:
        return
    spent = work_cost(stage, roll.trade.shop.work_per_hour)
    spent += sum(row.cost for row in roll.flow.ingredients[stage.key])
    made = Fraction(sum(row.credit_worth for row in rows))
    for row in rows:
        made += row.worth
    value = made - spent * GRAMS_PER_KILO * under
    if value < 0:
        sentence = f"what {stage.key} made is worth less than its work and ingredients cost"
        roll.note("worth-floored", stage.key, f"{sentence}; its pieces count as worth nothing")
        value = Fraction(0)
    whole = sum(take.grams for take in takes)
    for take in takes:
        roll.consumed_worth[take.key] += _settled(value * take.grams / whole)


def _settled(worth: Fraction) -> Fraction:
    """An exact worth, unless a very long chain has made its denominator monstrous.

    Past 256 bits it goes to a grid of 2^-192, so that time stays proportional to pieces.
    """
    if worth.denominator < _LONGEST_DENOMINATOR:
        return worth
    return Fraction(round_half_up(worth.numerator * _GRID, worth.denominator), _GRID)


def _value_piece(roll: Roll, piece: Piece, over: int, under: int) -> Valued:
    cut = roll.cuts[piece.cut]
    takes = roll.flow.by_piece.get(piece.key)
    consumed = sum(take.grams for take in takes) if takes else 0
    rest = piece.gross_g - piece.tare_g - consumed
    price = roll.price_at(cut.key, piece.weighed_at)
    later = roll.consumed_worth.get(piece.key, 0) if takes else 0
    if roll.method is Method.WEIGHT:
        grams = consumed + (rest if cut.kind.bears_cost else 0)
        return Valued(piece, cut, consumed, price, grams, 0, 0)
    if not cut.kind.bears_cost:
        credit = rest * cut.credit * under if cut.kind is CutKind.BYPRODUCT else 0
        return Valued(piece, cut, consumed, price, later, later, credit)
    if price is None and rest:
        roll.unpriced[cut.key] = cut.name
    sales = rest * (price or 0) * over
    if roll.method is Method.SALES_VALUE:
        return Valued(piece, cut, consumed, price, sales + later, sales + later, 0)
    net = sales - rest * cut.finish * under
    if net < 0:
        sentence = f"{cut.name} costs more to finish than it sells for; it is worth nothing here"
        roll.note("nrv-floored", piece.key, sentence)
        net = 0
    claim = sales if roll.method is Method.CONSTANT_MARGIN else net
    return Valued(piece, cut, consumed, price, claim + later, net + later, 0)
