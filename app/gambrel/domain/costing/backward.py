"""The backward pass: what a stage made is worth this, and so are the pieces that it took."""

from __future__ import annotations

from fractions import Fraction

from gambrel.domain.costing.methods import Method
from gambrel.domain.costing.roll import Roll, Valued, Worth, work_cost
from gambrel.domain.numbers.mass import GRAMS_PER_KILO
from gambrel.domain.numbers.money import round_half_up
from gambrel.domain.trade.records import Piece, Source, Stage
from gambrel.domain.trade.tax import tax_scale

_GRID = 1 << 192
_LONGEST_DENOMINATOR = 1 << 256


def value_stage(roll: Roll, stage: Stage) -> None:
    """Backwards: what the stage made is worth this; hand it to the pieces that it took."""
    over, under = tax_scale(roll.trade.shop)
    rows = [_value_piece(roll, piece, over) for piece in roll.by_stage[stage.key]]
    roll.valued[stage.key] = rows
    takes = [take for take in roll.flow.by_stage[stage.key] if take.source is Source.PIECE]
    if not takes or not roll.method.needs_prices:
        return
    spent = work_cost(stage, roll.trade.shop.work_per_hour)
    spent += sum(row.cost for row in roll.flow.ingredients[stage.key])
    made: Worth = sum(row.credit_worth for row in rows)
    for row in rows:
        made += row.worth
    value = Fraction(made) - spent * GRAMS_PER_KILO * under
    if value < 0:
        sentence = f"what {stage.key} made is worth less than its work and ingredients cost"
        roll.note("worth-floored", stage.key, f"{sentence}; its pieces count as worth nothing")
        value = Fraction(0)
    per_gram = _settled(value / sum(take.grams for take in takes))
    known = roll.consumed_worth
    for take in takes:
        worth = per_gram * take.grams
        known[take.key] = known[take.key] + worth if take.key in known else worth


def _settled(worth: Fraction) -> Fraction:
    """An exact worth, unless a very long chain has made its denominator monstrous.

    Past 256 bits it goes to a grid of 2^-192, so that time stays proportional to pieces.
    """
    if worth.denominator < _LONGEST_DENOMINATOR:
        return worth
    return Fraction(round_half_up(worth.numerator * _GRID, worth.denominator), _GRID)


def _value_piece(roll: Roll, piece: Piece, over: int) -> Valued:
    cut, bears_cost, finish, credit = roll.terms[piece.cut]
    takes = roll.flow.by_piece.get(piece.key)
    consumed = sum(take.grams for take in takes) if takes else 0
    rest = piece.gross_g - piece.tare_g - consumed
    bearing = consumed + rest if bears_cost else consumed
    price = roll.price_at(cut.key, piece.weighed_at)
    if roll.method is Method.WEIGHT:
        return Valued(piece, cut, consumed, rest, bearing, price, bearing, 0, 0)
    later = roll.consumed_worth[piece.key] if takes else 0
    if not bears_cost:
        return Valued(piece, cut, consumed, rest, bearing, price, later, later, rest * credit)
    if not rest:  # most that is consumed is consumed in full: no fraction is added to nothing
        return Valued(piece, cut, consumed, rest, bearing, price, later, later, 0)
    if price is None:
        roll.unpriced[cut.key] = cut.name
    sales = rest * (price or 0) * over
    if roll.method is Method.SALES_VALUE:
        worth = sales + later
        return Valued(piece, cut, consumed, rest, bearing, price, worth, worth, 0)
    net = sales - rest * finish
    if net < 0:
        sentence = f"{cut.name} costs more to finish than it sells for; it bears no joint cost"
        roll.note("nrv-floored", piece.key, sentence)
    claim = sales if roll.method is Method.CONSTANT_MARGIN else max(net, 0)
    return Valued(piece, cut, consumed, rest, bearing, price, claim + later, net + later, 0)
