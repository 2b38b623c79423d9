"""The backward pass: what a stage made is worth this, and so are the pieces that it took."""

from __future__ import annotations

from fractions import Fraction
from math import lcm

from gambrel.domain.costing.roll import Roll, Valued, work_cost
from gambrel.domain.numbers.mass import GRAMS_PER_KILO
from gambrel.domain.numbers.money import round_half_up
from gambrel.domain.trade.records import Source, Stage
from gambrel.domain.trade.tax import tax_scale

_GRID = 1 << 192
_LONGEST_DENOMINATOR = 1 << 256


def value_stage(roll: Roll, stage: Stage) -> None:
    """Backwards: what the stage made is worth this; keep what that is for a gram that it took."""
    valued = _columns(roll, stage)
    roll.valued[stage.key] = valued
    _remark(roll, valued)
    later = _claim_for_later(roll, valued)
    takes = roll.flow.by_stage[stage.key]
    grams = sum(take.grams for take in takes if take.source is Source.PIECE)
    if not grams:
        return
    if not roll.method.needs_prices:
        roll.per_gram[stage.key] = Fraction(1)  # a consumed gram claims as much as any other
        return
    made = later + sum(
        rest * rate.worth for rest, rate in zip(valued.rest_g, valued.rates, strict=True)
    )
    shop = roll.trade.shop
    spent = work_cost(stage, shop.work_per_hour)
    spent += sum(row.cost for row in roll.flow.ingredients[stage.key])
    value = made - spent * GRAMS_PER_KILO * tax_scale(shop).under
    if value < 0:
        sentence = f"what {stage.key} made is worth less than its work and ingredients cost"
        roll.note("worth-floored", stage.key, f"{sentence}; its pieces count as worth nothing")
        value = Fraction(0)
    roll.per_gram[stage.key] = _settled(value / grams)


def _columns(roll: Roll, stage: Stage) -> Valued:
    """The stage's pieces with what was consumed of them, and the claims of what was not."""
    pieces = roll.by_stage[stage.key]
    rates = roll.rates.of(pieces)
    consumed_g = [0] * len(pieces)
    rest_g = [piece.gross_g - piece.tare_g for piece in pieces]
    taken_of = frozenset(roll.flow.taken_of.get(stage.key, ()))
    taken = [place for place, piece in enumerate(pieces) if piece.key in taken_of]
    for place in taken:
        for take in roll.flow.by_piece[pieces[place].key]:
            consumed_g[place] += take.grams
            rest_g[place] -= take.grams
    claims = [rest * rate.claim for rest, rate in zip(rest_g, rates, strict=True)]
    return Valued(pieces, rates, consumed_g, rest_g, claims, taken)


def _claim_for_later(roll: Roll, valued: Valued) -> Fraction:
    """Add to the claims what later stages make of what they took; return the sum of that.

    Shares follow the proportion of claims alone, so all are brought to whole numbers over the one
    denominator that the takers' rates have in common: a few fractions a stage, none a piece.
    """
    if not valued.taken:
        return Fraction(0)
    places = [(place, roll.flow.by_piece[valued.pieces[place].key]) for place in valued.taken]
    takers = {take.stage: roll.per_gram[take.stage] for _, takes in places for take in takes}
    under = lcm(*(per_gram.denominator for per_gram in takers.values()))
    rates = {
        stage: per_gram.numerator * (under // per_gram.denominator)
        for stage, per_gram in takers.items()
    }
    claims = valued.claims = [claim * under for claim in valued.claims]
    later = 0
    for place, takes in places:
        for take in takes:
            worth = take.grams * rates[take.stage]
            claims[place] += worth
            later += worth
    return Fraction(later, under)


def _remark(roll: Roll, valued: Valued) -> None:
    """Note the pieces whose rest has no price, or costs more to finish than it sells for."""
    if not roll.rates.wants_words:
        return
    for piece, rate, rest in zip(valued.pieces, valued.rates, valued.rest_g, strict=True):
        if rate.unpriced and rest:
            roll.unpriced[rate.cut.key] = rate.cut.name
        if rate.losing and rest:
            sentence = f"{rate.cut.name} costs more to finish than it sells for"
            roll.note("nrv-floored", piece.key, f"{sentence}; it bears no joint cost")


def _settled(worth: Fraction) -> Fraction:
    """An exact worth, unless a very long chain has made its denominator monstrous.

    Past 256 bits it goes to a grid of 2^-192, so that time stays proportional to pieces.
    """
    if worth.denominator < _LONGEST_DENOMINATOR:
        return worth
    return Fraction(round_half_up(worth.numerator * _GRID, worth.denominator), _GRID)
